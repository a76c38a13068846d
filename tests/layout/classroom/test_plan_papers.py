"""The papers of a plan, read back from the PDF: nothing clipped or overlapping, every sheet with its foot."""

from __future__ import annotations

import pytest

from lessonkit.layout.classroom.papers import OF_A_CLASS, OF_ALL
from tests.layout.classroom.plans_for_tests import LEAST_PT, PAPERS, documents, planned, read_paper
from tests.layout.read_back import ink_near_edge, overlaps, says


def test_there_is_every_paper_for_every_class() -> None:
    found, _ = planned()
    classes = [f"{lesson['lesson']}/{group['tag']}/{name}" for name in OF_A_CLASS for lesson in found["lessons"] for group in found["groups"]]
    posted = [name for name in classes if "to-post" not in name or not name.startswith("Reed Pot")]  # its stations: all but Join take all
    assert set(posted) | set(OF_ALL) <= set(documents())


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("kind", [*OF_A_CLASS, *OF_ALL])
def test_nothing_is_clipped_and_nothing_overlaps(kind: str, paper: str) -> None:
    """Ink at least 10 mm from the edge, letters of 8 pt and more in three sizes at most (labels: two sheets of different kinds, three each)."""
    found = [read_paper(name, paper=paper) for name in documents(paper=paper) if name.split("/")[-1] == kind]
    assert found
    for sheet in (sheet for read in found for sheet in read):
        assert not ink_near_edge(sheet)
        assert overlaps(sheet) == []
        sizes = {round(letter.size_pt, 1) for letter in sheet.letters}
        assert min(sizes) >= LEAST_PT
        assert len(sizes) <= 3


@pytest.mark.parametrize("kind", [*OF_A_CLASS, *OF_ALL])
def test_the_foot_says_what_it_is(kind: str) -> None:
    """The code of the lesson on every sheet that is not cut into many; the paper and how many sheets there are."""
    found, _ = planned()
    codes = {lesson["lesson"]: lesson["code"] for lesson in found["lessons"]}
    for name in (name for name in documents() if name.split("/")[-1] == kind):
        read = read_paper(name)
        for count, sheet in enumerate(read, 1):
            assert all(lesson not in name or kind == "labels" or code in sheet.text for lesson, code in codes.items()), (name, count)
            if kind not in ("labels", "care-cards", "note", "today"):
                assert says(sheet.text, f"A4 · sheet {count} of {len(read)}"), name


def test_titles_and_bookmarks() -> None:
    for name, document in documents().items():
        assert document.title, name
        assert len({page.name for page in document.pages}) == len(document.pages), name
        assert document.language == "en"
