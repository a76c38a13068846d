"""The step pictures: one picture, one action, each drawn from the lesson's own piece."""
