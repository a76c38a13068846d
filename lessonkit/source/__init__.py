"""Text with positions: YAML files into trees that keep their spans, the only door to yaml; SVG silhouettes into rings."""
