"""The step pictures: their grammar, and that they follow the piece. Facts of the trade in them are common practice, no source."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.drawing.fonts import CAPITAL, width_mm
from lessonkit.drawing.items import BLACK, CLAY, WHITE, Group, Item, Path, TextLine
from lessonkit.geometry import outlines, shape
from lessonkit.geometry.areas import Area, area
from lessonkit.geometry.shape import Ring, Shape
from lessonkit.layout.pictures.book import ALIKE, PICTURES, contact_sheet, picture
from lessonkit.layout.pictures.grammar import WEIGHTS_MM, Drawing, Manner, weights_mm
from lessonkit.layout.pictures.measured import measured
from lessonkit.layout.pictures.subject import Subject
from lessonkit.lesson import vocabulary
from lessonkit.lesson.examples import FORMS, OUTLINES
from lessonkit.lesson.verbs import picture_for
from lessonkit.pieces.model import Edge, Hole, Mark, Measure, Part, Piece
from lessonkit.units import MM_PER_POINT
from tests.drawings_for_tests import shown
from tests.lessons_for_tests import POT, kit_of

Box = tuple[float, float, float, float]


# --- pieces ---


def flat(cut: Shape, holes: tuple[Hole, ...] = (), marks: tuple[Mark, ...] = (), face: str = "") -> Piece:
    part = Part("piece", "A", cut, (), holes, marks)
    return Piece("piece", ("easy",), 1, 8.0, "8 mm", 500.0, (), (part,), face, "fired")


def hole(x: float, y: float) -> Hole:
    return Hole(x, y, 4.5, 4.0)


def zone(x: float, y: float, ring: Ring) -> Mark:
    return Mark("join", tuple((x + a, y + b) for a, b in ring), True, "ball")


def life_ring() -> Piece:
    cut = shape.with_opening(outlines.circle(181.8), outlines.circle(96.6))
    ball = outlines.circle(13.6).outline
    places = [math.radians(22.5 + 45 * i) for i in range(8)]
    zones = tuple(zone(69.5 * math.sin(a), 69.5 * math.cos(a), ball) for a in places)
    return flat(cut, (hole(0, 77),), zones)


def heart_frame() -> Piece:
    cut = shape.with_opening(outlines.rectangle(180, 180, 9), outlines.heart(102, 93))
    return flat(cut, (hole(-40, 75), hole(40, 75)), (Mark("press", outlines.rectangle(160, 160, 5).outline, True),))


def leaf() -> Piece:
    right = [(0, 110), (18, 84), (40, 48), (55, 6), (50, -34), (30, -74), (6, -98), (5, -122)]
    left = [(-x, y) for x, y in right[:0:-1]]
    return flat(Shape(tuple((float(x), float(y)) for x, y in (right + left)[::-1])), (hole(0, 85),))


def hook() -> Piece:
    """Nothing about it is symmetrical."""
    cut = Shape(((-60.0, -80.0), (60.0, -80.0), (60.0, -20.0), (0.0, -20.0), (0.0, 80.0), (-60.0, 80.0)))
    return flat(shape.with_opening(cut, shape.moved(outlines.circle(30), -30, 40)), (hole(-30, 70),))


def pot(across: float = 91.0, tall: float = 114.0, thick: float = 6.0) -> Piece:
    around = math.pi * (across - thick)
    wall, base = outlines.rectangle(around, tall), outlines.circle(across)
    left, bottom, right, top = shape.bounds(wall)
    ends = (Edge("J", ((left, bottom), (left, top))), Edge("J", ((right, bottom), (right, top))), Edge("K", ((left, bottom), (right, bottom))))
    parts = (Part("wall", "A", wall, (), edges=ends), Part("base", "B", base, (), edges=(Edge("K", base.outline),)))
    sizes = (Measure("outside", "outside", across * 0.88, across), Measure("tall", "tall", tall * 0.88, tall + thick))
    return Piece("pot", ("easy",), 1, thick, "6 mm", 700.0, sizes, parts, "", "fired", "cylinder")


PIECES = {
    "ring": life_ring(),
    "heart frame": heart_frame(),
    "leaf": leaf(),
    "tile": flat(outlines.rectangle(120, 120)),
    "bar": flat(outlines.rectangle(30, 190, 4)),
    "strip": flat(outlines.rectangle(300, 40), (hole(-140, 0),)),
    "hook": hook(),
    "pot": pot(),
}

# Not those that look the same for every piece.
OF_THE_PIECE = ("lay", "trace", "lift", "opening", "hole", "texture", "score", "smooth", "stamp", "carve", "paint", "name", "cover", "show",
                "paddle", "wrap", "stand", "sponge-foot")  # fmt: skip

lengths = st.floats(20, 400)
widths = st.floats(25, 190)


@st.composite
def any_piece(draw: st.DrawFn) -> Piece:
    """Any size and outline, with an opening, hanging holes and joining zones where they fit."""
    kind = draw(st.sampled_from(("circle", "rectangle", "heart", "arch", "polygon", "ellipse", "pot")))
    wide, tall = draw(lengths), draw(lengths)
    if kind == "pot":
        return pot(wide, tall, min(8.0, wide / 5))
    cut = {
        "circle": lambda: outlines.circle(wide),
        "rectangle": lambda: outlines.rectangle(wide, tall, min(wide, tall) / 8),
        "heart": lambda: outlines.heart(wide, wide * 0.9),
        "arch": lambda: outlines.arch(wide, max(tall, wide * 0.8)),
        "polygon": lambda: outlines.polygon(draw(st.integers(3, 9)), wide),
        "ellipse": lambda: outlines.ellipse(wide, tall),
    }[kind]()
    room = shape.largest_free_disc(cut)[2]
    if draw(st.booleans()):
        x, y, r = shape.largest_free_disc(cut)
        cut = shape.with_opening(cut, shape.moved(outlines.circle(r * draw(st.floats(0.3, 1.5))), x, y))
    x, y, r = shape.largest_free_disc(cut)
    holes = (Hole(x, y, min(4.5, r), 4.0),) if draw(st.booleans()) else ()
    marks = (zone(x, y, outlines.circle(r * draw(st.floats(0.2, 1.8))).outline),) if draw(st.booleans()) else ()
    assert room > 0
    return flat(cut, holes, marks, draw(st.sampled_from(("", "texture side up"))))


# --- reading a drawing ---


def items(item: Item) -> Iterator[tuple[Path | TextLine, float, float]]:
    return ((each, x, y) for each, x, y, _ in shown((item,)))


def points(path: Path) -> list[tuple[float, float]]:
    return list(path.points())


def reach(item: Path | TextLine, x: float, y: float) -> Box:
    if isinstance(item, TextLine):
        left, foot = x + item.x_mm, y + item.y_mm
        return left, foot - CAPITAL * item.size_pt * MM_PER_POINT, left + width_mm(item.text, item.size_pt, item.bold), foot
    half = item.stroke.width_mm / 2 if item.stroke else 0.0
    xs, ys = zip(*points(item), strict=True)
    return x + min(xs) - half, y + min(ys) - half, x + max(xs) + half, y + max(ys) + half


def texts(group: Group) -> list[TextLine]:
    return [item for item, _, _ in items(group) if isinstance(item, TextLine)]


def paths(group: Group) -> list[Path]:
    return [item for item, _, _ in items(group) if isinstance(item, Path)]


def drawn(name: str, piece: Piece, wide: float = 60.0, left_handed: bool = False) -> Group:
    group = picture(name, piece, wide, left_handed)
    assert group is not None, name
    return group


def figure(path: Path) -> Area:
    """What a path covers, moved to the origin."""
    rings: list[list[tuple[float, float]]] = []
    for command in path.commands:
        if command[0] == "M":
            rings.append([])
        rings[-1] += [(command[i], command[i + 1]) for i in range(1, len(command), 2)]  # type: ignore[misc]
    outline, *holes = (area(ring) for ring in rings)
    for inner in holes:
        outline = outline - inner
    left, top, _, _ = outline.bounds
    return outline.moved(-left, -top)


def alike(a: Area, b: Area) -> bool:
    return (a - b).size + (b - a).size < 0.01 * max(a.size, b.size)


def in_mirror(ground: Area) -> Area:
    wide = ground.bounds[2]
    return ground.mapped(lambda x, y: (wide - x, y))


# --- the book ---


def test_a_lesson_may_use_exactly_the_names_of_the_book() -> None:
    assert set(PICTURES) == set(vocabulary.PICTURES)
    assert all(name == name.lower() and " " not in name for name in PICTURES)


@pytest.mark.parametrize("kind", PIECES)
def test_every_picture_of_every_piece_stays_in_its_box(kind: str) -> None:
    piece = PIECES[kind]
    for wide, left_handed in ((25.0, False), (60.0, True), (120.0, False)):
        for name in PICTURES:
            group = picture(name, piece, wide, left_handed)
            if name == "opening" and not any(part.shape.holes for part in piece.parts):
                assert group is None
                continue
            assert group is not None
            assert paths(group)
            need_inside(group, wide, wide * 0.7)


def need_inside(group: Group, wide: float, tall: float) -> None:
    for item, x, y in items(group):
        left, top, right, bottom = reach(item, x, y)
        assert left >= -0.01, (group.layer, item)
        assert top >= -0.01, (group.layer, item)
        assert right <= wide + 0.01, (group.layer, item)
        assert bottom <= tall + 0.01, (group.layer, item)


@pytest.mark.parametrize("form", [*OUTLINES, *FORMS])
def test_every_outline_and_form_that_a_lesson_can_write_is_drawn(form: str) -> None:
    """Including those that no strategy here makes: stars, crescents, huts, pockets."""
    spec = {form: FORMS[form]} if form in FORMS else {"flat": {"outline": {form: OUTLINES[form]}}}
    piece = kit_of(yaml.safe_dump({**yaml.safe_load(POT), "pieces": [{"name": "pot", **spec}], "steps": [CUT]})).pieces[0]
    for name in PICTURES:
        group = picture(name, piece, 60)
        assert (group is None) == (name == "opening")
        if group:
            need_inside(group, 60, 42)
    for units in ("mm", "in"):
        figures = measured(piece, 48, 44, units)
        need_inside(figures, 48, 44)
        assert texts(figures)


CUT = {"id": "cut", "title": "Cut", "minutes": 8, "text": "Cut it."}


@given(any_piece(), widths, st.booleans())
@settings(max_examples=30, deadline=None)
def test_nothing_leaves_the_box_whatever_the_piece(piece: Piece, wide: float, left_handed: bool) -> None:
    for name in OF_THE_PIECE:
        group = picture(name, piece, wide, left_handed)
        assert group or name == "opening"
        if group:
            need_inside(group, wide, wide * 0.7)


@pytest.mark.parametrize("wide", [36.0, 36.1, 85.0, 85.1])
def test_three_tones_and_three_widths_of_line(wide: float) -> None:
    """Line widths in steps of root 2 (ISO 128); the tones are white, one grey and black."""
    allowed = set(next(weights for limit, weights in WEIGHTS_MM if wide <= limit))
    used: set[float] = set()
    for piece in (PIECES["ring"], PIECES["pot"]):
        for name in PICTURES:
            group = picture(name, piece, wide)
            for item, _, _ in items(group) if group else ():
                tones = {item.tone} if isinstance(item, TextLine) else {item.fill, item.stroke.tone if item.stroke else None} - {None}
                assert tones <= {BLACK, CLAY, WHITE}, (name, item)
                if isinstance(item, Path) and item.stroke:
                    used.add(item.stroke.width_mm)
    assert used == allowed
    thin, usual, heavy = sorted(allowed)
    assert usual / thin == pytest.approx(2, rel=0.03)
    assert heavy / usual == pytest.approx(2)


def test_grey_is_clay_alone() -> None:
    """A picture of tools and water has no grey in it."""
    for name in ("wash", "tidy"):
        assert all(path.fill != CLAY for path in paths(drawn(name, PIECES["tile"])))


def test_dashes_mean_press_and_dots_what_was_or_comes() -> None:
    dashes = {name: {p.stroke.dash_mm for p in paths(drawn(name, PIECES["heart frame"])) if p.stroke and p.stroke.dash_mm} for name in PICTURES}
    dotted = (0.25, 0.75)
    assert dashes["plain"] == {(2.0, 1.0)}  # its press line
    assert dashes["hole"] == {(4.0, 1.0, 0.5, 1.0)}  # the balance line
    assert dashes["lay"] == dashes["turn"] == dashes["lift"] == dashes["opening"] == {dotted}
    others = [found for name, found in dashes.items() if name not in ("plain", "hole")]
    assert all(found <= {dotted} for found in others)
    for name in PICTURES:
        for path in paths(drawn(name, PIECES["heart frame"])):
            if path.stroke and path.stroke.dash_mm:
                assert path.stroke.width_mm == 0.25, name


def test_the_same_piece_gives_the_same_picture() -> None:
    some = {kind: PIECES[kind] for kind in ("ring", "hook", "pot")}
    before = {(name, kind): picture(name, piece, 60) for kind, piece in some.items() for name in PICTURES}
    again = {(name, kind): picture(name, piece, 60) for kind, piece in reversed(some.items()) for name in reversed(PICTURES)}
    assert before == again


def test_what_shows_no_piece_is_the_same_for_all() -> None:
    """These are drawn once: so no piece may change them. All others differ between some of the pieces."""
    for name, draw in PICTURES.items():
        seen = set()
        for piece in (*PIECES.values(), pot(140, 60)):
            drawing = Drawing()
            if name != "opening" or piece.parts[0].shape.holes:
                draw(drawing, Subject(piece))
            seen.add(drawing.printed(Manner(), weights_mm(60)))
        assert (len(seen) == 1) == (name in ALIKE), name


def test_a_picture_without_words_is_the_same_with_and_without_them() -> None:
    for name in PICTURES:
        usual, wordless = (picture(name, PIECES["ring"], 60, wordless=wordless) for wordless in (False, True))
        assert usual
        assert wordless
        assert not texts(wordless), name
        assert (usual.items is wordless.items) == (not texts(usual)), name


def test_a_picture_kept_for_one_piece_is_not_shown_for_another() -> None:
    first, second = flat(outlines.circle(80)), flat(outlines.circle(80), (hole(0, 30),))
    assert drawn("plain", first).items is drawn("plain", first, 70).items  # with lines of the same width, it is the same at both
    assert drawn("plain", first) == drawn("plain", flat(outlines.circle(80)))
    assert drawn("plain", first) != drawn("plain", second)
    assert drawn("plain", first, 60.0) != drawn("plain", first, 61.0)


def test_unknown_names_and_widths_are_refused() -> None:
    with pytest.raises(KeyError):
        picture("knit", PIECES["tile"], 60)
    for wide in (0.0, -5.0, float("nan")):
        with pytest.raises(ValueError, match="mm wide"):
            picture("roll", PIECES["tile"], wide)


# --- the piece in the picture ---


def test_the_learner_sees_the_very_outline() -> None:
    """The plain view is the piece's own shape, turned upside down for the paper and scaled."""
    piece = PIECES["hook"]
    body = paths(drawn("plain", piece, 100.0))[0]
    scale = 62 / 160  # 160 mm tall in a window 62 mm high
    outline = [(50 + x * scale, 35 - y * scale) for x, y in piece.parts[0].shape.outline]
    found = points(body)
    for x, y in outline:
        assert min(math.dist((x, y), p) for p in found) < 0.05
    assert sum(command[0] == "Z" for command in body.commands) == 3  # outline, opening, hanging hole


def test_hanging_holes_are_the_pieces_own() -> None:
    heart, tile = drawn("hole", PIECES["heart frame"], 100.0), drawn("hole", PIECES["tile"], 100.0)
    heavy = [p for p in paths(heart) if p.stroke and p.stroke.width_mm == 1.4 and p.fill == WHITE]
    assert len(heavy) == 2
    middles = sorted((reach(p, 0, 0)[0] + reach(p, 0, 0)[2]) / 2 for p in heavy)
    scale = 50 / 180
    assert middles == pytest.approx([29 - 40 * scale, 29 + 40 * scale], abs=0.05)
    assert not [p for p in paths(tile) if p.stroke and p.stroke.width_mm == 1.4]  # where its holes go is not ours to say


def test_joining_places_are_the_pieces_own() -> None:
    def dots(piece: Piece) -> list[Path]:
        return [p for p in paths(drawn("score", piece, 100.0)) if p.fill == BLACK and not p.stroke and 2 < reach(p, 0, 0)[2] - reach(p, 0, 0)[0] < 5]

    assert len(dots(PIECES["ring"])) == 8
    assert not dots(PIECES["tile"])


def test_both_places_are_numbered_and_joining_goes_1_2_3() -> None:
    for piece in PIECES.values():
        for left_handed in (False, True):
            for name, numbers in (("score", "12"), ("slip", "12"), ("join", "123")):
                words = [t for t in texts(drawn(name, piece, 60, left_handed)) if t.text.isdigit()]
                assert "".join(sorted(t.text for t in words)) == numbers
                if name == "join":
                    assert [t.text for t in sorted(words, key=lambda t: t.x_mm)] == ["1", "2", "3"]
                assert all(t.tone == WHITE and t.bold for t in words)


def test_a_pot_keeps_its_proportions() -> None:
    """A tall pot stands taller in its picture than a wide one; its width by its height is the piece's own."""
    for across, tall in ((80.0, 120.0), (120.0, 80.0)):
        body = reach(paths(drawn("plain", pot(across, tall - 6), 100.0))[0], 0, 0)
        wide, high = body[2] - body[0] - 0.7, body[3] - body[1] - 0.7
        assert wide / (high - 0.26 * wide) == pytest.approx(across / tall, rel=0.03)  # less the ellipse of its rim


def test_a_coiled_pot_stands_as_its_gauge_is_cut() -> None:
    """Half as wide at its rim as at its belly, three quarters at its foot: sizes of the lesson, not of the picture."""
    straight = "coil_pot: {across: 120 mm, tall: 100 mm, coil: 10 mm, measured: outside}"
    belly = straight.replace("}", ", profile: [{across: 90 mm}, {height: 40 mm, across: 120 mm}, {height: 100 mm, across: 60 mm}]}")
    for form, rim_share, foot_share in ((straight, 1, 1), (belly, 1 / 2, 3 / 4)):
        piece = kit_of(POT.replace("cylinder: {across: 80 mm, tall: 95 mm, measured: outside}", form)).pieces[0]
        body, rim, *_ = paths(drawn("plain", piece, 100.0))
        (left, top, right, bottom), (rim_left, _, rim_right, _) = reach(body, 0, 0), reach(rim, 0, 0)
        wide = right - left
        assert (rim_right - rim_left) / wide == pytest.approx(rim_share, abs=0.02)
        assert wide / (bottom - top - 0.26 * wide * (rim_share + foot_share) / 2) == pytest.approx(120 / 100, rel=0.03)
        low = [x for x, y in points(body) if y > bottom - 0.26 * wide * foot_share / 2 - 1.5]  # the front of the foot's ellipse
        assert (max(low) - min(low)) / wide == pytest.approx(foot_share, abs=0.06)


@pytest.mark.parametrize("balls", ["1", "2"])
def test_what_is_pinched_of_two_balls_is_closed(balls: str) -> None:
    """It has no black mouth, and keeps its proportions too."""
    sizes = (Measure("across", "across", 70, 80), Measure("tall", "tall", 88, 100))
    ball = Part("ball", "A", outlines.circle(60), ())
    piece = Piece("egg", ("easy",), 1, 6.0, "", 300.0, sizes, (ball,), "", "fired", "pinch", (("balls", balls),))
    group = drawn("plain", piece, 100.0)
    assert any(path.fill == BLACK for path in paths(group)) == (balls == "1")
    left, top, right, bottom = reach(paths(group)[0], 0, 0)
    ellipses = 0.26 * (right - left) * (1 + 0.45) / 2 if balls == "1" else 0.0  # half the rim's and half the foot's are seen
    assert (right - left - 0.7) / (bottom - top - 0.7 - ellipses) == pytest.approx(80 / 100, rel=0.04)


def test_a_long_piece_without_a_top_lies_down_and_one_with_a_hole_hangs() -> None:
    lying = reach(paths(drawn("plain", flat(outlines.rectangle(30, 190))))[0], 0, 0)
    hanging = reach(paths(drawn("plain", flat(outlines.rectangle(30, 190), (hole(0, 85),))))[0], 0, 0)
    faced = reach(paths(drawn("plain", flat(outlines.rectangle(30, 190), face="arrow up")))[0], 0, 0)
    assert lying[2] - lying[0] > 3 * (lying[3] - lying[1])
    for upright in (hanging, faced):
        assert upright[3] - upright[1] > 3 * (upright[2] - upright[0])


def test_a_wall_stands_round_a_papered_tube() -> None:
    """The tube is white and hollow (its inside black), taller than the clay that goes round it."""
    group = drawn("wrap", PIECES["pot"], 100.0)
    clay = [reach(p, 0, 0) for p in paths(group) if p.fill == CLAY]
    tube = [reach(p, 0, 0) for p in paths(group) if p.fill == WHITE and p.stroke]
    assert min(top for _, top, _, _ in tube) < min(top for left, top, _, _ in clay if left < 20)
    assert any(p.fill == BLACK and reach(p, 0, 0)[3] < 15 for p in paths(group))


def test_a_cone_is_wrapped_round_a_cone() -> None:
    """The upper end of the paper narrows as the piece does; a tube's is as wide as its foot."""

    def share(piece: Piece) -> float:
        body, end = [reach(path, 0, 0) for path in paths(drawn("wrap", piece, 100.0)) if path.fill == WHITE and path.stroke][:2]
        return (end[2] - end[0]) / (body[2] - body[0])

    cone = kit_of(POT.replace("cylinder: {across: 80 mm, tall: 95 mm,", "cone: {bottom: 100 mm, top: 60 mm, tall: 100 mm,"))
    assert share(PIECES["pot"]) == pytest.approx(1, abs=0.01)
    assert share(cone.pieces[0]) == pytest.approx(1 - 0.4 * 46.5 / 34, abs=0.02)  # 34 of clay, as far as a picture has room, and 12.5 more


# --- either hand ---


@pytest.mark.parametrize("name", ["plain", "smooth", "texture", "stamp", "carve", "paint", "wait", "cover", "show", "hole", "lay", "trace"])
def test_the_left_handers_piece_is_not_mirrored(name: str) -> None:
    right, left = drawn(name, PIECES["hook"]), drawn(name, PIECES["hook"], left_handed=True)
    mine = figure(body_of(right))
    assert not alike(mine, in_mirror(mine))
    assert alike(mine, figure(body_of(left)))


def body_of(group: Group) -> Path:
    """The path that shows the hook: six corners, then its opening."""
    return next(p for p in paths(group) if p.fill in (CLAY, WHITE) and len(p.commands) > 12 and p.commands[6] == ("Z",))


def test_the_left_handers_action_is_mirrored() -> None:
    for name in ("pat", "cut", "turn", "pinch", "wash", "roll-coil"):
        right, left = paths(drawn(name, PIECES["tile"])), paths(drawn(name, PIECES["tile"], left_handed=True))
        assert len(right) == len(left)
        for a, b in zip(right, left, strict=True):
            assert all(math.dist((60 - x, y), q) < 2e-3 for (x, y), q in zip(points(a), points(b), strict=True)), name


def test_a_tick_and_a_name_read_alike_for_both() -> None:
    right, left = drawn("show", PIECES["tile"]), drawn("show", PIECES["tile"], left_handed=True)
    tick = next(p for p in paths(right) if len(p.commands) == 7 and p.fill == BLACK)
    assert not alike(figure(tick), in_mirror(figure(tick)))
    assert any(alike(figure(tick), figure(p)) for p in paths(left) if p.commands[-1] == ("Z",))
    for left_handed in (False, True):
        (name,) = texts(drawn("name", PIECES["tile"], 60, left_handed))
        assert name.text == "Ana"


# --- measured ---


@given(any_piece(), st.sampled_from([(40.0, 35.0), (48.0, 44.0), (84.0, 60.0)]), st.sampled_from(["mm", "in"]))
@settings(max_examples=60, deadline=None)
def test_figures_keep_clear_of_each_other_and_of_the_edge(piece: Piece, box: tuple[float, float], units: str) -> None:
    group = measured(piece, *box, units, 12)  # type: ignore[arg-type]
    need_inside(group, *box)
    assert paths(group)
    body = reach(paths(group)[0], 0, 0)
    boxes = [reach(text, 0, 0) for text in texts(group)]
    assert boxes
    for i, a in enumerate(boxes):
        assert not any(overlap(a, b) for b in boxes[i + 1 :]), (texts(group), box)
        inside = overlap(a, body)
        assert not inside or (body[0] < a[0] and a[2] < body[2]), texts(group)[i]  # only in the opening
    assert all(text.size_pt == 12 for text in texts(group))


def overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


@pytest.mark.parametrize(
    ("kind", "units", "figures"),
    [
        ("ring", "mm", {"182", "97", "14", "8 mm"}),
        ("ring", "in", {"7 3/16", "3 13/16", "9/16", "5/16 in"}),  # 181.8, 96.6, 13.9 and 8 mm to the nearest sixteenth
        ("heart frame", "mm", {"180", "102 × 93", "15", "8 mm"}),
        ("leaf", "mm", {"232", "110", "25", "8 mm"}),
        ("hook", "mm", {"120", "160", "30", "10", "8 mm"}),
        ("pot", "mm", {"267", "114", "6 mm"}),
        ("tile", "in", {"4 3/4", "5/16 in"}),
    ],
)
def test_the_figures_are_the_cut_sizes(kind: str, units: str, figures: set[str]) -> None:
    group = measured(PIECES[kind], 84, 60, units)  # type: ignore[arg-type]
    assert {text.text.replace("\u00a0", " ") for text in texts(group)} == figures


def test_a_small_box_tells_width_by_height_on_one_line() -> None:
    group = measured(flat(outlines.rectangle(190, 40)), 40, 35, "mm")
    assert "190 × 40" in {text.text.replace("\u00a0", " ") for text in texts(group)}


def test_where_not_all_fits_the_thickness_goes_first() -> None:
    roomy = {text.text.replace("\u00a0", " ") for text in texts(measured(PIECES["ring"], 40, 35, "mm", 12))}
    tight = {text.text.replace("\u00a0", " ") for text in texts(measured(PIECES["ring"], 24, 19, "mm", 12))}
    assert "8 mm" in roomy
    assert "8 mm" not in tight
    assert "182" in tight
    assert texts(measured(PIECES["ring"], 5, 5, "mm", 12)) == []


def test_a_measured_drawing_kept_for_one_piece_is_not_shown_for_another() -> None:
    first, second = flat(outlines.circle(80)), flat(outlines.circle(90))
    assert measured(first, 40, 35, "mm") is measured(first, 40, 35, "mm")
    assert measured(flat(outlines.circle(80)), 40, 35, "mm") == measured(first, 40, 35, "mm") != measured(second, 40, 35, "mm")
    assert len({measured(first, 40, 35, "mm", 12, thickness) for thickness in (True, False)}) == 2


def test_the_middle_of_an_opening_and_of_holes_is_that_of_their_outlines() -> None:
    for kind in ("ring", "heart frame"):
        for mirrored in (False, True):
            placed = Subject(PIECES[kind], mirrored).place(3, 5, 61, 66)
            assert len(placed.hangs) == len(placed.holes) > 0
            assert all(at == pytest.approx(hole.middle) for at, hole in zip(placed.hangs, placed.holes, strict=True))
            assert placed.amid_opening == pytest.approx(placed.body.openings[0].middle)
            assert placed.opening == placed.body.openings[0]


def test_a_measured_drawing_needs_a_size() -> None:
    with pytest.raises(ValueError, match="can't be 0 x 35 mm"):
        measured(PIECES["tile"], 0, 35, "mm")


# --- sheets and verbs ---


@pytest.mark.parametrize(("paper", "size"), [("A4", (210.0, 297.0)), ("Letter", (215.9, 279.4))])
def test_the_contact_sheet_shows_every_picture_with_its_name(paper: str, size: tuple[float, float]) -> None:
    document = contact_sheet(PIECES["ring"], paper)
    names = [text.text for page in document.pages for item in page.items for text, _, _ in items(item) if isinstance(text, TextLine)]
    assert [name for name in names if name in PICTURES] == list(PICTURES)
    for page in document.pages:
        assert (page.wide_mm, page.tall_mm) == size
        for whole in page.items:
            for item, x, y in items(whole):
                left, top, right, bottom = reach(item, x, y)
                assert min(left, top, size[0] - right, size[1] - bottom) >= 9.9  # 10 mm, less half a frame's line


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("Roll the slab", "roll"), ("Roll a thin coil of scrap.", "roll-coil"), ("Roll eight balls", None), ("Pat it flat", "pat"),
        ("Wedge the clay", "wedge"), ("Turn the slab", "turn"), ("Turn it over", "flip"), ("Flip the slab", "flip"), ("Lay the stencil", "lay"),
        ("Trace around the stencil", "trace"), ("Cut the ring", "cut"), ("Cut out the opening", "opening"), ("Lift the scrap", "lift"),
        ("Pull the outer scrap away.", "lift"), ("Make the hole", "hole"), ("Press the grain", "texture"), ("Scratch the edges", "score"),
        ("Scratch each ball and its place. Brush slip on, then press.", "join"), ("Score and join", "join"), ("Brush slip", "slip"),
        ("Press together", "join"), ("Press a coil into the corner", "coil-corner"), ("Smooth the edges", "smooth"), ("Stack the coils", "stack"),
        ("Blend the coils down inside", "blend"), ("Open the ball", "open"), ("Pinch the wall", "pinch"), ("Paddle the sides", "paddle"),
        ("Wrap the wall", "wrap"), ("Wrap it in plastic", "cover"), ("Stand the wall on the base", "stand"), ("Drape it over the hump", "drape"),
        ("Lay it into the mould", "slump"), ("Carve one wave", "carve"), ("Stamp the border", "stamp"), ("Write your name on the back", "name"),
        ("Paint the border", "paint"), ("Wipe the foot clean", "sponge-foot"), ("Let it dry slowly", "wait"), ("Cover and wait", "cover"),
        ("Show your teacher", "show"), ("Wash up", "wash"), ("Tidy your place", "tidy"), ("Wind it up into a spiral", "spiral"),
        ("Twist the ropes", None), ("", None),
    ],
)  # fmt: skip
def test_the_verb_names_the_picture(words: str, name: str | None) -> None:
    assert picture_for(words) == name
    assert name is None or name in PICTURES
