"""Files as teachers save them, read into trees or answered with problems that they can act on."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from lessonkit.problems import Problem
from lessonkit.source import growth
from lessonkit.source.text import LARGEST_BYTES, read_tree
from lessonkit.source.tree import Mapping, Node, Scalar, Sequence, plain, scalars

LESSONS = Path(__file__).parents[2] / "lessons"


@pytest.fixture(params=["CSafeLoader", "SafeLoader"], autouse=True)
def _loader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each test with both of pyyaml's readers: which one a computer has must not matter."""
    monkeypatch.setattr(growth, "Loader", getattr(yaml, request.param))


def read(text: str) -> tuple[Node | None, tuple[Problem, ...]]:
    return read_tree(text.encode(), "lesson.yaml")


def tree_of(text: str) -> Node:
    tree, problems = read(text)
    assert problems == ()
    assert tree is not None
    return tree


def problem_of(text: str | bytes) -> Problem:
    _, problems = read_tree(text if isinstance(text, bytes) else text.encode(), "lesson.yaml")
    assert len(problems) == 1
    return problems[0]


def test_c13_words_and_numbers_stay_text() -> None:
    text = (
        'language: no\nkiln: off\ntitle: Yes\nglaze: on\non: "Kiln on"\nadvanced: yes\nat: 1:30\ncone: 04\nn: 010\nx: 0x1F\nd: 2025-01-02\nq: "12"\n'
    )
    assert plain(tree_of(text)) == {
        "language": "no",
        "kiln": "off",
        "title": "Yes",
        "glaze": "on",
        "on": "Kiln on",
        "advanced": "yes",
        "at": "1:30",
        "cone": "04",
        "n": "010",
        "x": "0x1F",
        "d": "2025-01-02",
        "q": "12",
    }


def test_nothing_is_written_in_three_ways_only() -> None:
    text = 'a:\nb: ~\nc: null\nd: "~"\ne: ""\nf: Null\ng: "null"\nh: none\n'
    assert plain(tree_of(text)) == {"a": None, "b": None, "c": None, "d": "~", "e": "", "f": "Null", "g": "null", "h": "none"}


def test_c14_a_doubled_name_is_an_error_with_both_lines() -> None:
    tree, problems = read("clay: white\nshrinkage: 12 %\nsteps:\n  - a\nshrinkage: 10 %\nsteps: []\nshrinkage: 9 %\n")
    assert [(p.severity, p.kind, p.span.line) for p in problems] == [("error", "duplicate-name", line) for line in (5, 6, 7)]
    assert "“shrinkage” stands twice" in problems[0].what
    assert "lines 2 and 5" in problems[0].what
    assert "“steps” stands twice" in problems[1].what
    assert "lines 3 and 6" in problems[1].what
    assert "lines 2 and 7" in problems[2].what
    assert tree is not None
    assert plain(tree) == {"clay": "white", "shrinkage": "12 %", "steps": ["a"]}


def test_c14_a_doubled_name_in_brackets() -> None:
    assert "in line 1." in problem_of("a: {b: 1, b: 2}\n").what


def test_c14_merge_keys_take_over_and_may_be_overridden() -> None:
    text = "base: &b {thickness: 6 mm, clay: white}\nmug: {<<: *b, thickness: 8 mm}\ncup:\n  across: 80 mm\n  <<: *b\n"
    found = plain(tree_of(text))
    assert found == yaml.safe_load(text)
    assert found == {
        "base": {"thickness": "6 mm", "clay": "white"},
        "mug": {"thickness": "8 mm", "clay": "white"},
        "cup": {"across": "80 mm", "thickness": "6 mm", "clay": "white"},
    }
    assert plain(tree_of('"<<": text\n')) == {"<<": "text"}


def test_c14_the_first_of_several_tables_counts() -> None:
    """The YAML 1.1 type “merge”: “Keys in mapping nodes earlier in the sequence override keys specified in later mapping nodes.”

    From memory. pyyaml 6.0.4 does it the other way round, and so can't be the reference here.
    """
    text = "- &big {r: 10}\n- &left {x: 0, y: 2}\n- &small {r: 1}\n- {<<: [*big, *left, *small], x: 1}\n"
    tree = tree_of(text)
    assert isinstance(tree, Sequence)
    assert plain(tree.items[3]) == {"r": "10", "x": "1", "y": "2"}


@pytest.mark.parametrize("value", ["3", "[]", "[{a: 1}, 2]", ""])
def test_c14_a_merge_needs_a_table(value: str) -> None:
    assert problem_of(f"a: {{<<: {value}}}\n").kind == "nothing-to-take-over"


def test_c16_a_remark_behind_a_plain_value_is_noted() -> None:
    text = '- Use rib #3, then sponge\n- Use rib#3\n- "Use rib #3"\n- "Use rib" # 3\n- >\n  folded # in\n- two\n  lines  # and\n'
    found = [(scalar.text, scalar.remark) for _, scalar in scalars(tree_of(text))]
    assert [word for word, _ in found] == ["Use rib", "Use rib#3", "Use rib #3", "Use rib", "folded # in\n", "two lines"]
    assert [bool(remark) for _, remark in found] == [True, False, False, False, False, True]
    first = found[0][1]
    assert first is not None
    assert (first.line, first.column, first.end_line, first.end_column) == (1, 11, 1, 26)
    scalar = tree_of("thickness: 6 mm  # about 1/4 in\n").entries[0].value  # type: ignore[union-attr]
    assert isinstance(scalar, Scalar)
    assert scalar.text == "6 mm"
    assert str(scalar.remark) == "lesson.yaml:1:18"


def test_c16_names_and_brackets_have_no_remarks() -> None:
    tree = tree_of("size: # of the wet slab\n  [1 mm, 2 mm] # both\nnone: # 3\n")
    assert all(scalar.remark is None for _, scalar in scalars(tree))


@pytest.mark.parametrize(
    ("text", "kind", "place", "form"),
    [
        ("title: Mugs: part 2\n", "colon-in-text", "1:12", 'title: "Mugs: part 2"'),
        ('steps:\n  - "Score" both edges\n', "needs-quotes", "2:5", "- '\"Score\" both edges'"),
        ("- *score* both edges\n", "needs-quotes", "1:3", '- "*score* both edges"'),
        ("- *score both edges\n", "unknown-label", "1:3", '- "*score both edges"'),
        ("- @table 2\n", "needs-quotes", "1:3", '- "@table 2"'),
        ("- %\n", "needs-quotes", "1:3", '- "%"'),
        ("- % of slip # note\n", "needs-quotes", "1:3", '- "% of slip"'),
        ("%slip\n", "needs-quotes", "1:1", '"%slip"'),
        ("a: `x`\n", "needs-quotes", "1:4", 'a: "`x`"'),
        ("- > 5 mm\n", "needs-quotes", "1:3", '- "> 5 mm"'),
        ("cue: !now\n", "needs-quotes", "1:6", 'cue: "!now"'),
        ("- ? why\n", "needs-quotes", "1:3", '- "? why"'),
        ("text: {frame cut} wide\n", "needs-quotes", "1:7", 'text: "{frame cut} wide"'),
        ('text: [x] "done" it\'s\n', "needs-quotes", "1:7", "text: '[x] \"done\" it''s'"),
        ("cue: 'it's good'\n", "needs-quotes", "1:6", 'cue: "it\'s good"'),
        ('cue: "He said "hi" now"\n', "needs-quotes", "1:6", "cue: 'He said \"hi\" now'"),
        ('"my cue": "Stop" now\n', "needs-quotes", "1:11", '"my cue": \'"Stop" now\''),
        ("a: - b\n", "dash-in-line", "1:4", 'a: "- b"'),
        ("a: [1, 2\nb: 3\n", "open-bracket", "1:4", 'a: "[1, 2"'),
        ("a: [1}\n", "open-bracket", "1:4", 'a: "[1}"'),
        ("a:1\nb: 2\n", "missing-space", "1:3", "a: 1"),
        ("b: 2\na:1\nc: 3\n", "missing-space", "2:3", "a: 1"),
        ("- a\n-b\n- c\n", "missing-space", "2:1", "- b"),
        ("-a\n- b\n", "missing-space", "1:1", "- a"),
    ],
)
def test_c17_the_form_to_type_is_shown(text: str, kind: str, place: str, form: str) -> None:
    problem = problem_of(text)
    assert problem.severity == "error"
    assert problem.kind == kind
    assert str(problem.span) == f"lesson.yaml:{place}"
    assert problem.hint.endswith(form)
    assert "\n" not in str(problem)
    if kind == "needs-quotes":
        read_again, problems = read(form)
        assert problems == ()
        assert read_again is not None


@pytest.mark.parametrize(
    ("text", "kind", "place"),
    [
        ('a: "abc\nb: 2\n', "open-quote", "1:4"),
        ("a: 'abc\nb: 2\n", "open-quote", "1:4"),
        ('a: "abc\nb: "x"\n', "open-quote", "1:4"),
        ('a: "C:\\mugs"\n', "backslash", "1:"),
        ("a: {b: 1\n", "open-bracket", "1:4"),
        ("a: 1\n  b: 2\n", "indentation", "2:3"),
        ("a:\n  b: 1\n c: 2\n", "indentation", "3:2"),
        ("a: 1\n- b\n", "indentation", "2:1"),
        ("- a\n - b\n", "indentation", "2:2"),
        ("a: 1\nhello\nb: 2\n", "no-colon", "2:1"),
        (": 1\n", "no-name", "1:1"),
        ("x" * 2000 + ": 1\n", "long-name", "1:1"),
        ("a: 1\n---\nb: 2\n", "several-documents", "2:1"),
        ("a: 1\n...\nb: 2\n", "several-documents", "3:1"),
        ("[a]: 1\n", "name-not-text", "1:1"),
        ("~: 1\n", "name-not-text", "1:1"),
        ("", "empty-file", "1:1"),
        ("# only a remark\n", "empty-file", "1:1"),
        ("---\n", "empty-file", "1:1"),
        ("null\n", "empty-file", "1:1"),
        ("a: \x00\n", "control-character", "1:4"),
        ("a: b\u2028c\n", "control-character", "1:5"),
        ('a: "\\x07"\n', "control-character", "1:4"),
        ('a: "\\0"\n', "control-character", "1:4"),
    ],
)
def test_c17_faults_are_found_at_their_place(text: str, kind: str, place: str) -> None:
    problem = problem_of(text)
    assert problem.severity == "error"
    assert problem.kind == kind
    assert str(problem.span).startswith(f"lesson.yaml:{place}")
    assert problem.hint


def test_c17_ordinary_texts_need_no_quotes() -> None:
    text = (
        '- 50% slip\n- Note:keep it damp\n- Cut {frame cut} wide\n- it\'s "good"\n- 5 - 6 mm\n- R&D, AT&T <6 mm> *here*\n- C:\\mugs\n- http://a.b\n'
    )
    assert plain(tree_of(text)) == [line[2:] for line in text.splitlines()]


def test_c17_a_note_with_a_colon_is_never_dropped() -> None:
    assert plain(tree_of("- Note: keep it damp\n")) == [{"Note": "keep it damp"}]  # the lesson then asks for text here


def test_an_unused_label_is_text_that_would_be_lost() -> None:
    tree, problems = read("- &score both edges\n- &a x\n- *a\n")
    assert tree is not None
    assert plain(tree) == ["both edges", "x", "x"]
    assert [(p.severity, p.kind, str(p.span)) for p in problems] == [("warning", "unused-label", "lesson.yaml:1:3")]
    assert problems[0].hint.endswith('- "&score both edges"')


@pytest.mark.parametrize(("text", "line"), [("steps:\n\t- a\n", 2), ("a: 1\n\tb: 2\n", 2), ("a:\n  - x\n  \t- y\n", 3)])
def test_c19_a_tab_is_named(text: str, line: int) -> None:
    problem = problem_of(text)
    assert problem.kind == "tab"
    assert problem.what == f"line {line} uses a Tab; use spaces."
    assert problem.span.line == line


def test_c19_a_tab_before_a_remark_loads_or_is_named() -> None:
    tree, problems = read("thickness: 6 mm\t# note\n")
    assert [p.what for p in problems] == ["line 1 uses a Tab; use spaces."] or (tree and plain(tree)) == {"thickness": "6 mm"}


def test_c19_a_tab_in_quotes_is_text() -> None:
    assert plain(tree_of('a: "x\ty"\n')) == {"a": "x\ty"}


def test_c20_an_alias_bomb_is_refused() -> None:
    rows = ["- &a0 [x]"] + [f"- &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9)]
    problem = problem_of("\n".join(rows))
    assert problem.kind == "too-many-values"
    assert problem.span.line == 6  # 9 to the power of 5 is more than 50,000


def test_c20_many_values_without_an_alias_are_refused_too() -> None:
    assert problem_of("- a\n" * 50_001).kind == "too-many-values"


@pytest.mark.parametrize("text", ["[" * 2000 + "]" * 2000, "- " * 2000 + "a", "{a: " * 2000])
def test_c20_deep_nesting_is_refused(text: str) -> None:
    assert problem_of(text).kind == "too-deep"


def test_c20_the_depth_counts_what_a_label_holds() -> None:
    deep = "[" * 39 + "x" + "]" * 39
    assert plain(tree_of(deep)) is not None
    assert problem_of(f"[{deep}]").kind == "too-deep"
    half = "[" * 25 + "x" + "]" * 25
    assert problem_of(f"- &a {half}\n- {'[' * 20}*a{']' * 20}\n").kind == "too-deep"


@pytest.mark.parametrize("text", ["&a [*a]", "&a {b: *a}", "a: &a\n  b:\n    - *a\n"])
def test_c20_a_list_that_holds_itself_is_refused(text: str) -> None:
    assert problem_of(text).kind == "endless-repeat"


def test_c20_a_lesson_with_five_labels_loads() -> None:
    text = "".join(f"p{n}: &p{n} {{across: {n} mm}}\n" for n in range(5)) + "all: [" + ", ".join(f"*p{n}" for n in range(5)) + "]\n"
    assert plain(tree_of(text)) == yaml.load(text, Loader=yaml.BaseLoader)


def test_a_large_file_is_refused_before_it_is_read() -> None:
    assert problem_of(b"\xff" * (LARGEST_BYTES + 1)).kind == "file-too-large"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_encodings_and_line_ends(encoding: str, end: str) -> None:
    data = f"title: Café 😀{end}cue: “now”{end}".encode(encoding)
    tree, problems = read_tree(data, "lesson.yaml")
    assert problems == ()
    assert isinstance(tree, Mapping)
    assert plain(tree) == {"title": "Café 😀", "cue": "“now”"}
    assert [str(entry.value.span) for entry in tree.entries] == ["lesson.yaml:1:8", "lesson.yaml:2:6"]
    assert tree.entries[0].value.span.end_column == 14


@pytest.mark.parametrize(
    ("data", "place"),
    [
        ("a: ä\ntitle: Café".encode("cp1252"), "1:4"),
        (b"\xef\xbb\xbfa: b\r\ntitle: \xc3\xa4\xe9", "2:9"),
        (b"a: b\rc: \x81", "2:4"),
        ("a: b".encode("utf-16-le"), "1:1"),
        ("a: b".encode("utf-16")[:-1], "1:1"),
    ],
)
def test_other_encodings_are_told_plainly(data: bytes, place: str) -> None:
    problem = problem_of(data)
    assert problem.kind == "not-utf-8"
    assert "save it as UTF-8" in problem.hint
    assert str(problem.span) == f"lesson.yaml:{place}"


@pytest.mark.parametrize(
    ("char", "name"),
    [("\xad", "soft hyphen"), ("\u200b", "zero width space"), ("\u200d", "joiner"), ("\u202e", "turn"), ("\u2066", "isolate"), ("\U000e0041", "tag")],
)
def test_what_shows_nothing_is_found_at_its_own_place_and_left_alone_in_a_remark(char: str, name: str) -> None:
    _, problems = read(f"a: 1  # {char}\nb: |\n  One\n  t{char}wo\nc{char}d: x\ne: 'f{char}'\n")
    assert [str(problem.span) for problem in problems] == ["lesson.yaml:4:4", "lesson.yaml:5:2", "lesson.yaml:6:6"], name
    assert {problem.kind for problem in problems} == {"control-character"}


def test_accents_are_joined_to_their_letters_and_the_form_of_an_emoji_is_left_out() -> None:
    tree = tree_of("cafe\u0301: n\u0303and\u00fa \u2764\ufe0f\n")
    assert plain(tree) == {"caf\xe9": "\xf1and\xfa \u2764"}


def test_every_invisible_character_is_listed_up_to_ten() -> None:
    _, problems = read("a: \x01\nb: \x02\n")
    assert [str(p.span) for p in problems] == ["lesson.yaml:1:4", "lesson.yaml:2:4"]
    assert len(read("\x01" * 500)[1]) == 10


def test_spans_of_names_values_tables_and_lists() -> None:
    tree = tree_of("pieces:\n  - name: a\n    about: |\n      One\n      two\n\n# end\nsize: [1 mm,\n  2 mm]  # x\n")
    assert isinstance(tree, Mapping)
    assert (tree.span.line, tree.span.column, tree.span.end_line, tree.span.end_column) == (1, 1, 9, 8)
    pieces = tree.entries[0].value
    assert isinstance(pieces, Sequence)
    assert (pieces.span.line, pieces.span.column, pieces.span.end_line, pieces.span.end_column) == (2, 3, 5, 10)
    about = pieces.items[0].entries[1]  # type: ignore[union-attr]
    assert (about.key_span.line, about.key_span.column, about.key_span.end_column) == (3, 5, 10)
    assert (about.value.span.line, about.value.span.column, about.value.span.end_line, about.value.span.end_column) == (3, 12, 5, 10)


@pytest.mark.parametrize("path", sorted(LESSONS.glob("*.yaml")), ids=lambda path: path.stem)
def test_the_lessons_read_as_another_reader_reads_them(path: Path) -> None:
    """pyyaml's BaseLoader, which builds text only, is the reference from outside."""
    data = path.read_bytes()
    assert plain(tree_of(data.decode())) == yaml.load(data, Loader=yaml.BaseLoader)


@pytest.mark.parametrize(
    "text",
    [
        "a: b" + " " * 200_000 + ": x",
        '- "a" ' + "x: " * 60_000,
        "a:" + "b" * 200_000 + "\nb: 2",
        "-" + "a" * 200_000 + "\n- b",
        "- *" + "a" * 200_000,
    ],
    ids=["blanks", "colons", "value", "dash", "label"],
)
def test_a_very_long_line_is_answered_briefly(text: str) -> None:
    assert len(str(problem_of(text))) < 400
