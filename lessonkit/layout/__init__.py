"""Pieces and lesson onto pages: stencil sheets, step cards, pictures, signs, teacher's sheets."""
