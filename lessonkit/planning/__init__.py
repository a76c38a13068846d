"""Numbers for the class: minutes, quantities. No pages."""
