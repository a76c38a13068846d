"""Stencil sheets at full size, tiled where the paper is too small, and the drawings for a cutter."""
