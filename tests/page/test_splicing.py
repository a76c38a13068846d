"""Changed values in her text: only they change, and whoever reads the file again reads what was typed."""

from __future__ import annotations

from difflib import SequenceMatcher
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.lesson.lesson import Lesson
from lessonkit.lesson.room import Room
from lessonkit.page.splicing import Change, spliced
from lessonkit.page.values import NotSpliced
from lessonkit.source.lines import INVISIBLE, UNWRITABLE, composed
from lessonkit.source.text import read_tree
from lessonkit.source.tree import Node, Plain, plain, scalars

LESSONS = sorted(path for path in (Path(__file__).parents[2] / "lessons").glob("*.yaml") if "." not in path.stem and path.stem != "room")
LESSON = """\
# What this is for
title: Porthole   # on every paper
about: >-   # folded
  A round frame
  that holds a photo.
pieces:
  - name: 'frame'
    flat: {outline: {circle: {across: 160 mm}}}   # fired
  - name: "rivet: small"
    flat:
      outline:
        rectangle: {wide: 12 mm, tall: 8 mm, corner: 2 mm}
    hang:
      across:
      holes: 1
"""
ACROSS = ("pieces", 0, "flat", "outline", "circle", "across")
CORNER = ("pieces", 1, "flat", "outline", "rectangle", "corner")


def changed(text: str | bytes, *changes: tuple[tuple[str | int, ...], object]) -> bytes:
    data = text if isinstance(text, bytes) else text.encode()
    return spliced(data, "lesson.yaml", [Change(path, value) for path, value in changes], Lesson)  # type: ignore[arg-type]


def tree_of(data: bytes) -> Node:
    tree, problems = read_tree(data, "lesson.yaml")
    assert tree is not None
    assert not [problem for problem in problems if problem.severity == "error"]
    return tree


def value_at(data: bytes, path: tuple[str | int, ...]) -> Plain:
    found = plain(tree_of(data))
    for step in path:
        found = found[step]  # type: ignore[index,call-overload]
    return found


def lines(before: str, after: bytes) -> list[tuple[str, str]]:
    """Each stretch of lines that differs: as it was, as it is."""
    a, b = before.splitlines(keepends=True), after.decode().splitlines(keepends=True)
    return [("".join(a[i:j]), "".join(b[k:m])) for tag, i, j, k, m in SequenceMatcher(None, a, b, autojunk=False).get_opcodes() if tag != "equal"]


def test_nothing_changes_nothing() -> None:
    assert changed(LESSON) == LESSON.encode()
    assert changed(LESSON, (ACROSS, "160 mm"), (("about",), "A round frame that holds a photo.")) == LESSON.encode()


def test_a_value_changes_and_the_comment_behind_it_stays() -> None:
    new = changed(LESSON, (ACROSS, " 170 mm "), (("title",), "Round window"))
    assert lines(LESSON, new) == [
        ("title: Porthole   # on every paper\n", "title: Round window   # on every paper\n"),
        ("    flat: {outline: {circle: {across: 160 mm}}}   # fired\n", "    flat: {outline: {circle: {across: 170 mm}}}   # fired\n"),
    ]


@pytest.mark.parametrize(
    ("path", "typed", "line"),
    [
        (("pieces", 0, "name"), "it's round", "  - name: 'it''s round'"),
        (("pieces", 1, "name"), 'a "small" one', '  - name: "rivet: small"'.replace("rivet: small", r"a \"small\" one")),
        (("title",), "Boat: blue", 'title: "Boat: blue"   # on every paper'),
        (("title",), "Boat # 2", 'title: "Boat # 2"   # on every paper'),
        (("title",), "- Boat", 'title: "- Boat"   # on every paper'),
        (("title",), "null", 'title: "null"   # on every paper'),
        (("title",), "Boat, small", "title: Boat, small   # on every paper"),
        (("about",), "Flat.", "about: Flat.   # folded"),
        (ACROSS, "9,5 cm", '    flat: {outline: {circle: {across: "9,5 cm"}}}   # fired'),
        (ACROSS, '6 1/2"', "    flat: {outline: {circle: {across: 6 1/2\"}}}   # fired"),
        (ACROSS, "½ in", "    flat: {outline: {circle: {across: ½ in}}}   # fired"),
        (("pieces", 1, "hang", "across"), "4 mm", "      across: 4 mm"),
        (("cone",), "04", 'cone: "04"'),
    ],
)
def test_values_are_quoted_where_they_would_be_read_otherwise(path: tuple[str | int, ...], typed: str, line: str) -> None:
    new = changed(LESSON, (path, typed))
    assert line in new.decode().splitlines()
    assert value_at(new, path) == typed


def test_a_missing_value_comes_where_the_lesson_lists_it() -> None:
    new = changed(LESSON, (("thickness",), "8 mm"), (("pieces", 1, "count"), "2"), (("pieces", 0, "flat", "outline", "rounded"), {"outside": "3 mm"}))
    assert [after for _, after in lines(LESSON, new)] == [
        "thickness: 8 mm\n",
        "    flat: {outline: {circle: {across: 160 mm}, rounded: {outside: 3 mm}}}   # fired\n",
        "    count: 2\n",
    ]
    assert new.decode().index("thickness: 8 mm") == new.decode().index("pieces:") - len("thickness: 8 mm\n")


def test_an_emptied_value_is_taken_out_where_it_may_be_left_out() -> None:
    text = LESSON.replace("pieces:", "thickness: 8 mm   # of the sticks\nseason: January\npieces:")
    new = changed(text, (("thickness",), ""), (("season",), " "), (CORNER, ""))
    assert lines(text, new) == [
        ("thickness: 8 mm   # of the sticks\nseason: January\n", "# of the sticks\n"),
        ("        rectangle: {wide: 12 mm, tall: 8 mm, corner: 2 mm}\n", "        rectangle: {wide: 12 mm, tall: 8 mm}\n"),
    ]


def test_neighbours_can_be_taken_out_together() -> None:
    text = "pieces:\n  - hang: {holes: 2, across: 4 mm, from_edge: 9 mm, apart: 8 cm}\n"
    places = [(("pieces", 0, "hang", name), "") for name in ("from_edge", "apart", "holes")]
    assert changed(text, *places) == b"pieces:\n  - hang: {across: 4 mm}\n"


def test_what_is_needed_stays_though_it_is_emptied() -> None:
    assert value_at(changed(LESSON, (ACROSS, "")), ACROSS) == ""


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_line_ends_and_encoding_are_hers(end: str, encoding: str) -> None:
    text = LESSON.replace("Porthole", "Bullauge für 😀").replace("\n", end)
    new = changed(text.encode(encoding), (("thickness",), "8 mm"), (ACROSS, "170 mm")).decode(encoding)
    assert new == text.replace("pieces:", f"thickness: 8 mm{end}pieces:").replace("160 mm", "170 mm")
    if encoding != "utf-8":
        data = text.encode(encoding)
        assert changed(data, (ACROSS, "170 mm"))[:2] == data[:2]


def test_a_file_without_a_last_line_end() -> None:
    assert changed("title: A\nabout: B", (("thickness",), "8 mm")) == b"title: A\nabout: B\nthickness: 8 mm"


def test_bars_are_added_to_a_list_of_each_form() -> None:
    room = "clays:\n  - name: white\n    bars:\n      - {wet: 100 mm}   # first\n\nsticks: []\n"
    (bar,) = [Change(("clays", 0, "bars", 1), {"wet": "99 mm", "cone": "04"})]
    assert spliced(room.encode(), "room.yaml", [bar], Room).decode() == room.replace("# first\n", '# first\n      - {wet: 99 mm, cone: "04"}\n')
    flow = "clays: [{name: white, bars: [{wet: 100 mm}]}]\n"
    assert spliced(flow.encode(), "room.yaml", [bar], Room).decode() == flow.replace("mm}]", 'mm}, {wet: 99 mm, cone: "04"}]')
    none = "clays:\n  - name: white\n    highest_cone: '6'\n"
    first = Change(("clays", 0, "bars"), [{"wet": "99 mm"}, {"wet": "98 mm"}])
    assert spliced(none.encode(), "room.yaml", [first], Room).decode() == none.replace(
        "white\n", "white\n    bars:\n      - {wet: 99 mm}\n      - {wet: 98 mm}\n"
    )


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("title: &name Boat\nabout: *name\n", ("title",)),
        ("title: &name Boat\nabout: *name\n", ("about",)),
        ("title: A\npieces:\n  - &one {name: a, count: 2}\n  - {<<: *one, name: b}\n", ("pieces", 0, "count")),
        ("title: A\npieces:\n  - &one {name: a, count: 2}\n  - {<<: *one, name: b}\n", ("pieces", 1, "count")),
        ("title: A\npieces: [&one {name: a}, *one]\n", ("pieces", 1, "count")),
    ],
)
def test_a_value_that_stands_for_several_places_is_refused(text: str, path: tuple[str | int, ...]) -> None:
    with pytest.raises(NotSpliced, match="several places") as caught:
        changed(text, (path, "3"))
    assert caught.value.path == path
    assert caught.value.hint == "Change it in your editor."


def test_the_one_that_can_not_be_changed_is_named_among_others() -> None:
    with pytest.raises(NotSpliced) as caught:
        changed("title: &name Boat\nabout: *name\ntechnique: slab\n", (("technique",), "coil"), (("title",), "Ship"))
    assert caught.value.path == ("title",)


@pytest.mark.parametrize("typed", ["two\nlines", "a\ttab", "a\x07bell", "line\u2028separator"])
def test_what_can_not_stand_in_one_line_is_refused(typed: str) -> None:
    with pytest.raises(NotSpliced, match="one line"):
        changed(LESSON, (("title",), typed))


def test_accents_are_joined_and_what_nobody_sees_is_refused() -> None:
    assert value_at(changed(LESSON, (("title",), "Mo\u0308we \u2764\ufe0f")), ("title",)) == "Möwe ❤"
    for typed in ("soft\xadhyphen", "\u200bnothing", "turned \u202e"):
        with pytest.raises(NotSpliced, match="invisible"):
            changed(LESSON, (("title",), typed))


@pytest.mark.parametrize("path", [("pieces", 2, "name"), (*ACROSS, "x"), ("pieces", "x"), ("pieces",), ("season", "x")])
def test_a_path_that_leads_nowhere(path: tuple[str | int, ...]) -> None:
    with pytest.raises(NotSpliced):
        changed(LESSON, (path, "3"))


def test_a_file_that_can_not_be_read() -> None:
    with pytest.raises(NotSpliced, match="can't be read"):
        changed("title: [Boat\n", (("title",), "Ship"))


LETTERS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), max_size=12).filter(
    lambda text: not UNWRITABLE.search(text) and not INVISIBLE.search(composed(text))
)
ODD = ["null", "~", "yes", "0x1", "1:30", "2026-01-01", "...", "---", "a: b", "a #b", "*a", "<<"]
SIGNS = st.text(st.sampled_from(" :#-?,[]{}&*!|>'\"%@`~\\=ab1½"), max_size=8)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(LESSONS), st.data())
def test_whatever_is_typed_comes_back_and_nothing_else_changes(path: Path, data: st.DataObject) -> None:
    before = path.read_bytes()
    tree = tree_of(before)
    at, scalar = data.draw(st.sampled_from([(at, scalar) for at, scalar in scalars(tree) if scalar.text]))
    typed = data.draw(st.one_of(LETTERS, SIGNS, st.sampled_from(ODD)))
    typed = typed if composed(typed).strip() else "x"
    after = spliced(before, path.name, [Change(at, typed)], Lesson)
    assert value_at(after, at) == composed(typed).strip()
    rows, span = before.decode().splitlines(keepends=True), scalar.span
    head = "".join(rows[: span.line - 1]) + rows[span.line - 1][: span.column - 1]
    tail = rows[span.end_line - 1][span.end_column - 1 :] + "".join(rows[span.end_line :])
    assert after.decode().startswith(head)
    assert after.decode().endswith(tail)
    assert [(p, s.text) for p, s in scalars(tree_of(after)) if p != at] == [(p, s.text) for p, s in scalars(tree) if p != at]


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(LESSONS), st.data())
def test_many_at_once_are_the_same_as_one_after_the_other(path: Path, data: st.DataObject) -> None:
    before = path.read_bytes()
    places = [at for at, scalar in scalars(tree_of(before)) if scalar.text and at[0] == "pieces"]
    chosen = data.draw(st.lists(st.sampled_from(places), unique=True, min_size=1, max_size=6))
    changes = [Change(at, f"{number} mm, {number}") for number, at in enumerate(chosen)]
    changes.append(Change(("season",), "Winter"))
    one_by_one = before
    for change in changes:
        one_by_one = spliced(one_by_one, path.name, [change], Lesson)
    assert spliced(before, path.name, changes, Lesson) == one_by_one


def test_every_optional_size_can_be_taken_out_of_a_real_lesson() -> None:
    data = (LESSONS[0].parent / "driftwood-heart.yaml").read_bytes()
    path = ("pieces", 0, "flat", "outline", "rectangle", "corner")
    new = spliced(data, "x.yaml", [Change(path, "")], Lesson)
    node = tree_of(new)
    assert not [at for at, _ in scalars(node) if at == path]
    assert [at for at, _ in scalars(tree_of(data)) if at != path] == [at for at, _ in scalars(node)]
