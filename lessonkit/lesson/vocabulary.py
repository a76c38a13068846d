"""The words that a step may use for its picture."""

from __future__ import annotations

PICTURES = (
    "wedge", "pat", "roll", "turn", "flip", "lay", "trace", "cut", "lift", "opening", "hole", "texture", "score", "slip", "join",
    "coil-corner", "smooth", "roll-coil", "spiral", "stack", "blend", "pinch", "open", "paddle", "wrap", "stand", "drape", "slump",
    "carve", "stamp", "name", "paint", "sponge-foot", "wait", "cover", "show", "wash", "tidy", "plain",
)  # fmt: skip
