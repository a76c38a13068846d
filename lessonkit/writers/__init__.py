"""Pages into bytes: PDF and SVG. Siblings that decide nothing."""
