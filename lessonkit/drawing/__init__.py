"""The finished drawing: a closed set of frozen items at millimetres on a page, and the typefaces."""
