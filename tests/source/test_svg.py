"""Silhouettes against svgelements (another SVG reader), the path grammar of W3C SVG 2, and what counts in a drawing."""

from __future__ import annotations

import math
from io import BytesIO
from itertools import pairwise
from math import dist

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from lessonkit.source.svg import Refusal, Ring, read_silhouette
from lessonkit.source.svg_paths import path_subpaths

MM_PER_PX = 25.4 / 96
PAGE = 'width="100mm" height="80mm" viewBox="0 0 100 80"'  # a user unit is a millimetre
MANY = settings(max_examples=60, deadline=None)


def svg(body: str, head: str = PAGE) -> bytes:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"<svg {names} {head}>{body}</svg>".encode()


def path(d: str, more: str = "") -> bytes:
    return svg(f'<path d="{d}" {more}/>')


def rings(data: bytes) -> tuple[Ring, ...]:
    found = read_silhouette(data)
    assert not isinstance(found, Refusal), found
    return found


def refusal(data: bytes) -> str:
    found = read_silhouette(data)
    assert isinstance(found, Refusal)
    assert found.hint
    assert found.what.endswith(".")
    return found.what


def area(ring: Ring) -> float:
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True)) / 2


def size(ring: Ring) -> tuple[float, float]:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


def corner(ring: Ring, first: Ring) -> tuple[float, float]:
    """A ring's lower left corner, from the first ring's."""
    return min(x for x, _ in ring) - min(x for x, _ in first), min(y for _, y in ring) - min(y for _, y in first)


def around(ring: Ring) -> float:
    return sum(dist(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True))


def outside_rings(data: bytes) -> list[Ring]:
    """The same drawing as svgelements reads it, each curve sampled very finely, in millimetres.

    Its own transformed arcs are not used: it keeps them upright ellipses, which a skewed one is not.
    """
    found = []
    for shape in svgelements.SVG.parse(BytesIO(data), reify=False, ppi=96).elements():
        if isinstance(shape, svgelements.Shape):
            matrix = shape.transform
            for subpath in svgelements.Path(shape.segments(transformed=False)).as_subpaths():
                points = []
                for segment in subpath:
                    if isinstance(segment, svgelements.Line | svgelements.Close):
                        points += [segment.start, segment.end]
                    elif not isinstance(segment, svgelements.Move):
                        points += [segment.point(k / 400) for k in range(401)]
                moved = [matrix.point_in_matrix_space(p) for p in points if p is not None]
                found.append(tuple((p.x * MM_PER_PX, -p.y * MM_PER_PX) for p in moved))
    return found


def agrees(data: bytes) -> None:
    """Every ring as wide, as tall and as large as the outside reader has it, and as far from the first ring."""
    ours, theirs = rings(data), sorted(outside_rings(data), key=lambda ring: -abs(area(ring)))
    assert len(ours) == len(theirs)
    ours = tuple(sorted(ours, key=lambda ring: -abs(area(ring))))
    for ring, other in zip(ours, theirs, strict=True):
        assert size(ring) == pytest.approx(size(other), abs=0.01)
        assert abs(area(ring)) == pytest.approx(abs(area(other)), abs=0.01 * around(ring))
        assert corner(ring, ours[0]) == pytest.approx(corner(other, theirs[0]), abs=0.01)


HEART = "M50 70 C20 45 10 30 25 20 S48 22 50 32 C52 22 60 12 75 20 S80 45 50 70 Z"
DRAWINGS = {
    "cubic": path(HEART),
    "quadratic": path("M10 40 Q30 5 50 40 T90 40 V70 H10 Z"),
    "arcs": path("M20 40 A25 15 30 1 0 60 40 A10 20 -20 0 1 40 65 A30 30 0 0 0 20 40 Z"),
    "arc too small": path("M20 40 A1 2 25 0 1 60 50 L40 70 Z"),
    "negative radii": path("M20 40 A-25 -15 30 1 0 60 40 Z"),
    "relative": path("m20 20 c5 -5 10 -5 15 0 s10 5 15 0 q5 20 -10 20 t-10 5 a5 5 0 0 1 -10 0 h-5 v-10 l-3 -3 z"),
    "hole": path("M10 10H60V60H10Z M20 20V40H40V20Z"),
    "two holes": svg('<rect width="60" height="50"/><circle cx="15" cy="20" r="8"/><ellipse cx="40" cy="25" rx="6" ry="12"/>'),
    "rect": svg('<rect x="5" y="6" width="40" height="30"/>'),
    "round rect": svg('<rect x="5" y="6" width="40" height="30" rx="8" ry="5"/>'),
    "rect with one radius": svg('<rect width="40" height="30" ry="7"/>'),
    "rect with large radii": svg('<rect width="40" height="30" rx="90" ry="6"/>'),
    "polygon": svg('<polygon points="10,10 60,15 40,70,20 50"/>'),
    "polyline that closes": svg('<polyline points="10 10 60 15 40 70 10 10"/>'),
    "matrix": svg(f'<path transform="matrix(.8 .3 -.2 .9 4 5)" d="{HEART}"/>'),
    "rotate": svg(f'<path transform="rotate(33)" d="{HEART}"/>'),
    "rotate about": svg(f'<path transform="rotate(33 50 40)" d="{HEART}"/>'),
    "skew": svg(f'<g transform="skewX(20)"><path transform="skewY(-10)" d="{HEART}"/></g>'),
    "skewed arcs": svg('<circle cx="40" cy="40" r="20" transform="skewX(35) rotate(20) scale(1 .4)"/>'),
    "mirrored": svg(f'<g transform="translate(100, 5) scale(-1 1.2)"><path d="{HEART}"/></g>'),
    "several": svg(f'<g transform="translate(3)scale(.5),rotate(10 20,30)"><g transform="translate(-4 2)"><path d="{HEART}"/></g></g>'),
    "inches": svg('<circle cx="1in" cy="1in" r="0.75in"/>', 'width="3in" height="3in"'),
    "points": svg('<ellipse cx="100pt" cy="90pt" rx="5pc" ry="1.5cm"/>', 'width="300pt" height="300pt"'),
    "px": path(HEART).replace(PAGE.encode(), b'width="400" height="400px"'),
    "viewBox alone": path(HEART).replace(PAGE.encode(), b'viewBox="0 0 100 80"'),
    "viewBox with an offset": path(HEART).replace(PAGE.encode(), b'width="50mm" height="40mm" viewBox="10 20 100 80"'),
    "narrow page": path(HEART).replace(PAGE.encode(), b'width="50mm" height="200mm" viewBox="0 0 100 80"'),
    "stretched": path(HEART).replace(PAGE.encode(), b'width="50mm" height="200mm" viewBox="0 0 100 80" preserveAspectRatio="none"'),
    "use": svg(f'<defs><path id="h" d="{HEART}"/></defs><use xlink:href="#h" x="5" y="2" transform="scale(.7)"/>'),
    "percent": svg('<rect x="10%" y="10%" width="50%" height="25%"/>'),
}


@pytest.mark.parametrize("name", DRAWINGS)
def test_sizes_and_areas_as_another_reader_has_them(name: str) -> None:
    agrees(DRAWINGS[name])


NUMBERS = st.integers(-400, 400).map(lambda n: n / 10)
PAIR = st.tuples(NUMBERS, NUMBERS).map(lambda pair: f"{pair[0]} {pair[1]}")
COMMANDS = st.one_of(
    st.tuples(st.sampled_from("LlTt"), PAIR),
    st.tuples(st.sampled_from("HhVv"), NUMBERS),
    st.tuples(st.sampled_from("SsQq"), PAIR, PAIR),
    st.tuples(st.sampled_from("Cc"), PAIR, PAIR, PAIR),
    st.tuples(st.sampled_from("Aa"), st.sampled_from(["20 9", "40 55", "1 2"]), NUMBERS, st.sampled_from(["0 0", "0 1", "1 0", "1 1"]), PAIR),
).map(lambda words: " ".join(map(str, words)))
TURNS = st.sampled_from(["", "rotate(40)", "scale(2 -.5)", "skewX(30) translate(3)", "matrix(.3 .9 -.7 .2 4 5) rotate(9 3 4)", "skewY(12)"])


MIXED_SMOOTH = {a + b for smooth, others in (("Ss", "QqTt"), ("Tt", "CcSs")) for a in others for b in smooth}


def unmixed(commands: list[str]) -> bool:
    """No S right after Q or T, no T after C or S: svgelements then mirrors the control point, which SVG 2 (9.3.6) forbids."""
    return not any(a[0] + b[0] in MIXED_SMOOTH for a, b in pairwise(commands))


@MANY
@given(st.lists(COMMANDS, min_size=3, max_size=8).filter(unmixed), TURNS)
def test_any_path_is_as_large_as_another_reader_has_it(commands: list[str], turn: str) -> None:
    data = path(f"M 10 10 {' '.join(commands)} Z", f'transform="{turn}"')
    if not isinstance(read_silhouette(data), Refusal):
        agrees(data)
    else:
        assert all(abs(area(ring)) <= 0.01 * around(ring) for ring in outside_rings(data))


@pytest.mark.parametrize(
    ("d", "plain"),
    [
        ("M10 10 20 10 20 20z", "M10 10L20 10L20 20Z"),  # more pairs after M are lines
        ("m10 10 10 0 0 10z", "M10 10L20 10L20 20Z"),  # and relative after m, whose first pair is absolute
        ("M10-10L20-10 20-20z", "M10 -10 L20 -10 L20 -20 Z"),
        ("M.5.5 10.5.5.5 9z", "M0.5 0.5 L10.5 0.5 L0.5 9 Z"),
        ("M1e1,1E+1,200e-1 10L+20 20z", "M10 10 L20 10 L20 20 Z"),
        ("M 10\t10\nL\r20 10 , 20 20 z", "M10 10 L20 10 L20 20 Z"),
        ("M10 10H20 30V30h-20z", "M10 10 L20 10 L30 10 L30 30 L10 30 Z"),
        ("M10 10h20v20zm9 4v2h2z", "M10 10 L30 10 L30 30 Z M19 14 L19 16 L21 16 Z"),  # m after z counts from the start
        ("M10 30a10 10 0 0120 0a10 10 0 01-20 0z", "M10 30 A10 10 0 0 1 30 30 A10 10 0 0 1 10 30 Z"),  # flags need no blank
        ("M10 30a10 10 0 01 20 0 10 10 0 1 1-20 0z", "M10 30 A10 10 0 0 1 30 30 A10 10 0 1 1 10 30 Z"),
        ("M10 30A0 10 0 0 1 30 30L20 50z", "M10 30 L30 30 L20 50 Z"),  # no radius: a straight line
        ("M10 30A5 5 0 0 1 10 30L30 30L20 50z", "M10 30 L30 30 L20 50 Z"),  # no way to go: no arc
        ("M10 10S10 30 30 30z", "M10 10 C10 10 10 30 30 30 Z"),  # nothing to mirror: the place itself
        ("M10 10Q20 40 30 10S40 40 50 10L30 60z", "M10 10Q20 40 30 10 C30 10 40 40 50 10 L30 60Z"),  # a Q is no C
        ("M10 10T30 10L20 30z", "M10 10 L30 10 L20 30 Z"),
        ("M10 10q10 20 20 0tt", None),
        ("M10 10L20 10 20 20z5", None),
        ("L10 10z", None),
        ("M10 10L20 10 20", None),
        ("M,10 10L20 10 20 20z", None),
        ("M10 10,L20 10 20 20z", None),
        ("M10 10L20,,10 20 20z", None),
        ("M10 10A5 5 0 2 1 20 10 L15 20z", None),
        ("M10 10L1e 5 9 9z", None),
        ("M10 10L٣ 5 9 9z", None),
        ("M10 10LNaN 5 9 9z", None),
    ],
)
def test_path_grammar(d: str, plain: str | None) -> None:
    """W3C SVG 2, 9.3: relative, repeated and run-on commands; what breaks the grammar is refused, not half drawn."""
    if plain is None:
        assert "the path" in refusal(path(d))
    else:
        assert rings(path(d, 'fill-rule="evenodd"')) == rings(path(plain, 'fill-rule="evenodd"'))


def test_after_a_close_the_pen_is_back_at_the_start() -> None:
    assert path_subpaths("M1 2h9v9zl5 2 0 2z") == path_subpaths("M1 2 L10 2 L10 11 Z M1 2 L6 4 L6 6 Z")


UNITS = [("mm", 1), ("cm", 10), ("in", 25.4), ("px", MM_PER_PX), ("", MM_PER_PX), ("pt", 25.4 / 72), ("pc", 25.4 / 6)]


@pytest.mark.parametrize(("unit", "mm"), UNITS)
def test_units(unit: str, mm: float) -> None:
    """CSS Values and Units 4, absolute lengths."""
    (ring,) = rings(svg(f'<rect width="30{unit}" height="20{unit}"/>', 'width="200mm" height="200mm"'))
    assert size(ring) == pytest.approx((30 * mm, 20 * mm))


def test_y_points_up_and_counts_from_the_lower_left_corner() -> None:
    outline, hole = rings(path("M10 10H60V60H10Z M20 20V30H30V20Z"))
    assert {(round(x), round(y)) for x, y in outline} == {(0, 0), (0, 50), (50, 0), (50, 50)}
    assert min(hole) == pytest.approx((10, 30))


def test_curves_are_followed_within_a_hundredth_and_finer_on_small_drawings() -> None:
    for radius in (0.5, 3, 40, 400):
        (ring,) = rings(svg(f'<circle r="{radius}"/>'))
        assert size(ring) == pytest.approx((2 * radius, 2 * radius), abs=1e-9)
        middles = [((ax + bx) / 2 - radius, (ay + by) / 2 - radius) for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True)]
        assert max(radius - math.hypot(x, y) for x, y in middles) <= min(0.01, 2 * radius / 50_000)


def test_holes_by_the_fill_rule() -> None:
    """W3C SVG 2, 13.4.2: a ring that runs the same way is a hole by even-odd only."""
    same, against = "M0 0H50V50H0Z M10 10H20V20H10Z", "M0 0H50V50H0Z M10 10V20H20V10Z"
    assert len(rings(path(same))) == 1
    assert len(rings(path(same, 'fill-rule="evenodd"'))) == 2
    assert len(rings(path(same, 'style="fill-rule: evenodd"'))) == 2
    assert len(rings(path(against))) == 2
    # a ring that only seems to lie inside: its corners do, but its side crosses a notch
    notched = "M0 0H50V50H0Z".replace("H50V50", "H50V50H26V5H24V50")
    assert len(rings(path(notched + " M10 20H40V30H10Z"))) == 2


def test_what_is_not_seen_does_not_count() -> None:
    seen = '<rect width="30" height="20"/>'
    hidden = [
        '<g display="none"><circle r="90"/></g>',
        '<circle r="90" style="display: none"/>',
        '<circle r="90" visibility="hidden"/>',
        '<circle r="90" fill="none"/>',
        '<style>.a, circle.b { } .off{display:none}</style><circle r="90" class="a off"/>',
        '<style>/* .x{fill:red} */ #y{fill:none}</style><circle r="90" id="y"/>',
        '<circle r="0"/><rect width="9" height="0"/><path d="M5 5"/><path d="M5 5z"/><path d=""/><polygon points="1 2"/>',
        '<defs><circle r="90"/></defs><clipPath><circle r="90"/></clipPath><mask><circle r="90"/></mask><symbol><circle r="90"/></symbol>',
        "<title>Boat</title><metadata><circle r='90'/></metadata><text>Boat</text><image href='http://127.0.0.1:9/x.png'/>",
        '<e:circle xmlns:e="urn:editor" r="90"/><e:view xmlns:e="urn:editor"><circle r="90"/></e:view>',
    ]
    for other in hidden:
        assert [size(ring) for ring in rings(svg(other + seen))] == [pytest.approx((30, 20))], other
    assert size(rings(svg('<g visibility="hidden"><rect visibility="visible" width="30" height="20"/></g>'))[0]) == pytest.approx((30, 20))
    assert size(rings(svg('<g fill="none"><rect stroke="#000" width="30" height="20"/></g>'))[0]) == pytest.approx((30, 20))
    assert len(rings(svg(seen + seen))) == 1  # written twice, for its fill and for its line


def test_drawings_and_symbols_inside_the_drawing() -> None:
    inner = '<svg x="5" y="5" width="40" height="40" viewBox="0 0 10 20"><rect width="10" height="20"/></svg>'
    assert size(rings(svg(inner))[0]) == pytest.approx((20, 40))
    sliced = inner.replace("viewBox", 'preserveAspectRatio="xMinYMax slice" viewBox')
    assert size(rings(svg(sliced))[0]) == pytest.approx((40, 80))
    symbol = '<symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></symbol><use href="#s" width="30" height="30"/>'
    assert size(rings(svg(symbol))[0]) == pytest.approx((30, 30))


def test_a_gap_under_a_tenth_is_closed() -> None:
    (ring,) = rings(path("M10 10H60V60L10.07 10.07"))
    assert len(ring) == 3
    assert "ends lie 0.141 mm apart" in refusal(path("M10 10H60V60L10.1 10.1"))
