"""Full-size clay stencils, step cards, signs and teacher's sheets from one lesson file."""
