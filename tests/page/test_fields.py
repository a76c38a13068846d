"""What may be changed, and under which name."""

from __future__ import annotations

from pathlib import Path

import pytest

from lessonkit.lesson.lesson import Lesson
from lessonkit.page.fields import fields, place_of
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Node, plain, scalars, span_at
from lessonkit.units import Length
from tests.page.desk_for_tests import LESSONS

FILES = sorted(path for path in LESSONS.glob("*.yaml") if "." not in path.stem and path.stem != "room")


def tree_of(text: str) -> Node:
    tree, _ = read_tree(text.encode(), "lesson.yaml")
    assert tree is not None
    return tree


def test_the_porthole_in_words() -> None:
    found = fields(tree_of((LESSONS / "porthole.yaml").read_text()))
    assert [(field.label, field.hint, field.written, field.kind, field.piece) for field in found] == [
        ("Title", "", "Porthole", "text", None),
        ("What it is", "", "A round frame that holds a photo behind a ring of rivets.", "text", None),
        ("Thickness of the slab", "as you roll it", "8 mm", "length", None),
        ("Frame, across", "fired size", "160 mm", "length", "frame"),
        ("Frame, opening, across", "fired size", "85 mm", "length", "frame"),
        ("Frame, rivet, across", "fired size", "12 mm", "length", "frame"),
        ("Frame, rivet, ring, how many", "", "8", "count", "frame"),
        ("Frame, rivet, ring, across", "fired size", "122 mm", "length", "frame"),
        ("Frame, pressed line, from the outline", "fired size", "6 mm", "length", "frame"),
        ("Frame, hanging hole, across", "fired size", "4 mm", "length", "frame"),
        ("Frame, hanging hole, from the edge", "fired size", "14 mm", "length", "frame"),
    ]
    assert [field.value_mm for field in found[2:5]] == [8.0, 160.0, 85.0]
    assert found[6].value_mm is None


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_length_of_every_lesson_has_one_field_and_a_name_of_its_own(path: Path) -> None:
    tree = tree_of(path.read_text())
    found = fields(tree)
    labels = [field.label for field in found]
    assert len(set(labels)) == len(labels)
    assert not [label for label in labels if "_" in label]
    offered = {field.path for field in found}
    lesson = Lesson.model_validate(plain(tree))
    lengths = [at for at, _ in scalars(tree) if isinstance(value_at(lesson, at), Length)]
    assert lengths
    assert set(lengths) <= offered


def value_at(value: object, path: tuple[str | int, ...]) -> object:
    for step in path:
        if isinstance(step, int):
            value = value[step] if isinstance(value, tuple) and step < len(value) else None
        else:
            value = value.get(step) if isinstance(value, dict) else getattr(value, step, None)
    return value


def test_a_lesson_without_its_thickness_offers_it() -> None:
    found = fields(tree_of("title: A\nabout: B\n"))
    shown = [(field.path[0], field.missing, field.written) for field in found]
    assert shown == [("title", False, "A"), ("about", False, "B"), ("thickness", True, "")]


def test_a_faulty_lesson_is_offered_too() -> None:
    found = fields(tree_of("title: A\npieces:\n  - flat: {outline: {circle: {across: foo}}}\n  - nonsense\n"))
    assert [(field.label, field.written, field.value_mm) for field in found if field.piece] == [("Piece 1, across", "foo", None)]


def test_places_shapes_and_repeats_have_names() -> None:
    text = """\
pieces:
  - name: tile
    sizes: wet
    count: 2
    flat:
      outline:
        joined:
          - {heart: {wide: 90 mm}, at: [0 mm, 5 mm]}
          - {circle: {across: 20 mm}, row: {count: 3, start: [0 mm, 0 mm], end: [9 mm, 0 mm]}}
        rounded: {inside: 2 mm}
      openings:
        - {shows: 4 x 6 in photo, lip: 6 mm}
      joins:
        - {name: knob, circle: {across: 9 mm}}
        - {name: knob, circle: {across: 8 mm}}
  - {name: post, many_sided: {sides: 6, across: 90 mm, tall: 80 mm, lean: 8, measured: outside}}
  - {name: cup, pinch: {across: 80 mm, tall: 40 mm, ball: 180 g, measured: outside}}
"""
    assert [(field.label, field.hint) for field in fields(tree_of(text)) if field.piece] == [
        ("Tile, how many each", ""),
        ("Tile, part 1, wide", "wet size"),
        ("Tile, part 1, place, to the right", "wet size"),
        ("Tile, part 1, place, up", "wet size"),
        ("Tile, part 2, across", "wet size"),
        ("Tile, part 2, row, how many", ""),
        ("Tile, part 2, row, start, to the right", "wet size"),
        ("Tile, part 2, row, start, up", "wet size"),
        ("Tile, part 2, row, end, to the right", "wet size"),
        ("Tile, part 2, row, end, up", "wet size"),
        ("Tile, corners, inside ones", "wet size"),
        ("Tile, opening, shows", ""),
        ("Tile, opening, lip over the photo", "wet size"),
        ("Tile, knob 1, across", "wet size"),
        ("Tile, knob 2, across", "wet size"),
        ("Post, sides", ""),
        ("Post, across", "fired size"),
        ("Post, tall", "fired size"),
        ("Post, lean of the walls", "degrees"),
        ("Cup, across", "fired size"),
        ("Cup, tall", "fired size"),
        ("Cup, weight of the ball", "wet weight"),
    ]


def test_a_problem_finds_its_field() -> None:
    tree = tree_of((LESSONS / "porthole.yaml").read_text())
    paths = [field.path for field in fields(tree)]
    across = ("pieces", 0, "flat", "outline", "circle", "across")
    assert place_of(tree, span_at(tree, across), paths) == across
    assert place_of(tree, span_at(tree, across[:-1]), paths) == across  # the only one in it
    assert place_of(tree, span_at(tree, ("pieces", 0, "hang")), paths) is None  # it may be either
    assert place_of(tree, span_at(tree, ("steps", 0)), paths) is None
