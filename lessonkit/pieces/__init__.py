"""Lesson and room worked out: flat parts as cut, measures fired and cut, marks, mass, warnings."""
