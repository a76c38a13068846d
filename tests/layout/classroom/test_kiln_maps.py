"""The kiln maps as drawn: to their scale, every piece on its shelf, none on another, and its sign and limit in words."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from shapely.geometry import Polygon

from lessonkit.drawing.items import CLAY, Group, Item, Path
from lessonkit.layout.classroom.sheets import sentence
from lessonkit.layout.pen import CUT, PRESS
from lessonkit.units import number
from tests.layout.classroom.plans_for_tests import FRAME, PAPERS, ROOM, documents, planned, read_paper, text_of
from tests.layout.read_back import says


def drawn(items: tuple[Item, ...], width_mm: float, fill: float | None) -> list[Polygon]:
    """Closed outlines of that line and fill, at their places."""
    return [Polygon(points) for path, x, y in _paths(items) if (points := _points(path, x, y)) and path.stroke and path.stroke.width_mm == width_mm
            and path.fill == fill and len(points) > 8]  # fmt: skip


def _paths(items: tuple[Item, ...], x: float = 0.0, y: float = 0.0) -> Iterator[tuple[Path, float, float]]:
    for item in items:
        if isinstance(item, Group):
            yield from _paths(item.items, x + item.x_mm, y + item.y_mm)
        elif isinstance(item, Path):
            yield item, x, y


def _points(path: Path, x: float, y: float) -> list[tuple[float, float]]:
    return [(x + command[1], y + command[2]) for command in path.commands if command[0] in ("M", "L")]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_shelf_is_to_scale_with_its_pieces_apart(paper: str) -> None:
    """A shelf of 530 mm at 1 : n is 530/n wide; as many pieces as the plan has places, inside it and (glazed) 7 mm apart."""
    found, _ = planned()
    pages = documents(paper=paper)["kiln-maps"].pages
    loads = [(firing, load) for firing in found["kiln"]["firings"] for load in firing["loads"]]
    read = read_paper("kiln-maps", paper=paper)
    mapped = [(page, sheet) for page, sheet in zip(pages, read, strict=True) if "from above, 1 :" in sheet.text]
    assert len(mapped) == len(loads)
    for (page, sheet), (firing, load) in zip(mapped, loads, strict=True):
        scale = int(re.findall(r"from above, 1 : (\d+)", sheet.text)[0])
        shelves = drawn(page.items, CUT, None)
        pieces = drawn(page.items, PRESS, CLAY)
        assert len(shelves) == len(load["tiers"])
        assert len(pieces) == sum(len(shelf) for tier in load["tiers"] for shelf in tier["shelves"])
        assert all(shelf.bounds[2] - shelf.bounds[0] == pytest.approx(530 / scale, abs=0.05) for shelf in shelves)
        assert all(sum(shelf.buffer(0.01).contains(piece) for shelf in shelves) == 1 for piece in pieces)
        gap = 7.0 if firing["work"] == "glazed" else 5.0
        apart = [one.distance(other) * scale for index, one in enumerate(pieces) for other in pieces[:index]]
        assert min(apart) > gap - 0.6  # outlines in the plan are rounded to a tenth, places too


def test_every_kind_is_named_with_the_cone_that_it_stands() -> None:
    """The load's cone in the title, each clay's own limit beside it; a sign on every piece."""
    found, _ = planned()
    read = text_of(read_paper("kiln-maps"))
    for firing in found["kiln"]["firings"]:
        assert says(read, f"to cone {firing['cone']}, load 1 of {len(firing['loads'])}")
        for index, kind in enumerate(firing["kinds"], 1):
            row = f"{kind['count']} {kind['per_shelf']} {kind['on_one_another']} {number(kind['tall_mm'], 0)}"
            assert says(read, f"{index} {kind['name']} {kind['clay']} {kind['highest_cone']}"), kind
            assert says(read, row), kind
        for load in firing["loads"]:
            for tier in load["tiers"]:
                assert says(read, f"top {number(tier['at_mm'], 0)} mm"), tier
    assert all(says(read, sentence(line)) for line in found["kiln"]["assumptions"])


def test_half_shelves_and_shelves_with_corners() -> None:
    """Two half rounds lie beside each other at one height; a rectangle is drawn as one."""
    for shelf, beside in (("half_round: 530 mm", 2), ("wide: 300 mm, deep: 600 mm", 1)):
        room = ROOM.replace("round: 530 mm", shelf)
        found, _ = planned((FRAME,), room)
        page = documents((FRAME,), room)["kiln-maps"].pages[0]
        load = found["kiln"]["firings"][0]["loads"][0]
        outlines = [polygon for polygon in _closed(page.items) if polygon.area > 500]
        assert len(outlines) >= sum(len(tier["shelves"]) for tier in load["tiers"])
        assert max(len(tier["shelves"]) for tier in load["tiers"]) == beside


def _closed(items: tuple[Item, ...]) -> list[Polygon]:
    return [Polygon(points) for path, x, y in _paths(items) if len(points := _points(path, x, y)) > 3 and path.stroke and path.stroke.width_mm == CUT]
