"""One example of every outline and every built form, as a lesson would write it: for the gallery, the starters and the tests."""

from __future__ import annotations

from typing import Any

OUTLINES: dict[str, Any] = {
    "circle": {"across": "80 mm"},
    "ellipse": {"wide": "90 mm", "tall": "60 mm"},
    "rectangle": {"wide": "90 mm", "tall": "60 mm", "corner": "8 mm"},
    "polygon": {"sides": "6", "across": "80 mm"},
    "heart": {"wide": "80 mm"},
    "arch": {"wide": "60 mm", "tall": "80 mm"},
    "egg": {"wide": "60 mm", "tall": "80 mm"},
    "teardrop": {"wide": "50 mm", "tall": "80 mm"},
    "leaf": {"wide": "40 mm", "tall": "90 mm"},
    "petals": {"count": "6", "across": "80 mm", "depth": "14 mm"},
    "scallops": {"count": "10", "across": "80 mm"},
    "star": {"points": "5", "across": "90 mm", "depth": "24 mm"},
    "shield": {"wide": "65 mm", "tall": "80 mm"},
    "crescent": {"across": "80 mm", "thick": "26 mm"},
    "gable": {"wide": "60 mm", "tall": "80 mm"},
    "waves": {"wide": "90 mm", "tall": "60 mm", "count": "3", "depth": "8 mm"},
    "points": [["0 mm", "0 mm"], ["80 mm", "0 mm"], ["80 mm", "30 mm"], ["40 mm", "60 mm"], ["0 mm", "30 mm"]],
}

FORMS: dict[str, dict[str, Any]] = {
    "cylinder": {"across": "80 mm", "tall": "100 mm", "measured": "outside"},
    "oval": {"wide": "140 mm", "deep": "90 mm", "tall": "80 mm", "measured": "outside"},
    "cone": {"bottom": "60 mm", "top": "100 mm", "tall": "110 mm", "measured": "outside"},
    "dish": {"bottom": "120 mm", "rim": "180 mm", "tall": "30 mm", "measured": "outside"},
    "bowl": {"rim": "160 mm", "tall": "50 mm", "measured": "outside"},
    "box": {"wide": "100 mm", "deep": "80 mm", "tall": "60 mm", "measured": "outside", "lid": "yes", "gap": "1 mm"},
    "many_sided": {"sides": "6", "across": "90 mm", "tall": "100 mm", "measured": "outside", "lean": "8"},
    "hut": {"wide": "90 mm", "deep": "90 mm", "tall": "110 mm", "eaves": "70 mm", "gap": "1 mm", "measured": "outside"},
    "pocket": {"wide": "130 mm", "tall": "180 mm", "deep": "40 mm", "pouch": "120 mm", "measured": "outside"},
    "tray": {"long": "220 mm", "wide": "120 mm", "tall": "30 mm", "bottom": "150 mm", "measured": "outside"},
    "coil_pot": {"across": "110 mm", "tall": "100 mm", "coil": "10 mm", "measured": "outside"},
    "pinch": {"across": "80 mm", "tall": "40 mm", "ball": "180 g", "measured": "outside"},
}

RING: dict[str, Any] = {
    "name": "ring",
    "flat": {
        "outline": {"circle": {"across": "160 mm"}},
        "openings": [{"circle": {"across": "85 mm"}}],
        "joins": [{"name": "rivet", "circle": {"across": "12 mm"}, "ring": {"count": "8", "across": "122 mm", "first": "22.5"}}],
    },
    "hang": {"across": "4 mm"},
}
