"""The papers that measure the room: nothing of them runs off the sheet, in either language, on any paper."""

from __future__ import annotations

import pytest

from lessonkit.build import Source, read, room_papers
from lessonkit.lesson.room import Room
from lessonkit.units import PAPERS
from tests.layout.read_back import ink_near_edge, overlaps, sheets
from tests.lessons_for_tests import ROOM


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("language", ["en", "es"])
def test_nothing_runs_off_or_lies_on_another(language: str, paper: str) -> None:
    room, _ = read(Source("room.yaml", ROOM.replace("[A4, Letter]", f"{paper}\nlanguage: {language}").encode()), Room)
    assert room is not None
    for name, pdf in room_papers(room.value).items():
        for sheet in sheets(pdf):
            assert not ink_near_edge(sheet, 9.5), name
            assert overlaps(sheet) == [], name
