"""Text with positions: YAML files into trees that keep their spans. The only door to yaml."""
