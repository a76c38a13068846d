"""The program's own words, one catalogue a language. Papers never spell a word of their own."""

from __future__ import annotations

from typing import Any

ENGLISH = {
    "minutes": "{n} minutes",
    "one_minute": "1 minute",
    "stop": "STOP",
    "good": "Good when",
    "choose": "Choose:",
    "early": "If you finish early:",
    "next_step": "next: {number}",
    "step_of": "step {number} of {last}",
    "part_of_step": "{k} of {n}",
    "sheet_of": "sheet {k} of {n}",
    "cards_title": "{lesson}, step cards, {level}",
    "stencils_title": "{lesson}, stencils",
    "signs_title": "{lesson}, station signs",
    "teacher_title": "{lesson}, teacher’s sheet",
    "thickness": "this thick: {size}",
    "stencil_part_name": "{piece}, {part}",
    "stencil_place": "{lesson} · piece {letter} of {total}",
    "stencil_count": "cut {n} for each learner",
    "stencil_cut_mm": "cut size, mm",
    "stencil_cut_in": "cut size",
    "stencil_inches": "{words} ({size})",
    "stencil_fired": "fired: {sizes}",
    "stencil_fired_size": "{words} {size}",
    "stencil_clay": "{clay}, cone {cone}, shrinks {share}",
    "stencil_highest_cone": "never fire above cone {cone}",
    "stencil_slab": "slab {thick}",
    "stencil_slab_sticks": "slab {thick} ({sticks})",
    "stencil_kept": "{name}, {letter} of {total}",
    "stencil_kept_clay": "{clay}, {share}",
    "stencil_hole": "hole {size}",
    "stencil_one_hole": "hole {size}, fired {fired}",
    "stencil_holes": "{n} holes {size}, fired {fired}",
    "stencil_top": "TOP",
    "stencil_edge": "edge {letter}",
    "stencil_bevel": "bevel {angle}°",
    "stencil_bevel_inside": "bevel {angle}°, inside face",
    "stencil_bevel_outside": "bevel {angle}°, outside face",
    "stencil_edges_meet": "edge {letter} meets edge {letter}",
    "stencil_edge_meets": "edge {letter} meets edge {letter} of {other} ({place})",
    "stencil_lap": "edge {letter} laps {size}",
    "stencil_line_cut": "cut",
    "stencil_line_press": "press, do not cut",
    "stencil_line_fold": "fold, do not cut",
    "stencil_line_press_fold": "press or fold, do not cut",
    "stencil_line_centre": "centre",
    "stencil_line_quarter": "quarter mark",
    "stencil_line_join": "join",
    "stencil_line_join_words": "join: {words}",
    "stencil_line_overlap": "edge of the overlap",
    "stencil_measure": "Measure both bars before you cut.",
    "stencil_print": "Print at 100 %, actual size. If one is not right, print again.",
    "stencil_bar_mm": "100 mm",
    "stencil_bar_in": "4 in",
    "stencil_how": "Cut along the middle of the wide line.",
    "stencil_how_press": "Press the dashed lines first, then cut along the middle of the wide line.",
    "stencil_how_opening": "Leave the inside in until the clay is leather-hard.",
    "stencil_row_column": "Row {row}, column {column}",
    "stencil_row": "row {n}",
    "stencil_column": "column {n}",
    "stencil_blank": "Row {row}, column {column} has no line and no sheet.",
    "stencil_assemble": "Trim the left and top edges at the outer line of the strip. Lay each strip on its twin, cross on cross, and tape.",
    "stencil_foot": "{lesson} · {names} · {edition}",
    "sign_places": "{n} places",
    "sign_one_place": "{n} place",
    "sign_need": "You need",
    "sign_come": "Come here when",
    "sign_next": "Next",
    "sign_station": "station {k} of {n}",
    "sign_reach": "to be read from {n} m",
}

CATALOGUES = {"en": ENGLISH}


def say(key: str, language: str = "en", **values: Any) -> str:
    """The words for `key`, with values filled in; KeyError for a key that the catalogue lacks."""
    return CATALOGUES[language][key].format(**values)


def minutes(n: float, language: str = "en") -> str:
    return say("one_minute", language) if n == 1 else say("minutes", language, n=f"{n:g}")
