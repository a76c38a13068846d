"""Built forms: unfolded from the wet solid, on the wall's middle, into flat parts with their joining edges lettered."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite
from typing import Any, NamedTuple

from lessonkit.geometry import boxes, coils, developments, dishes, outlines
from lessonkit.geometry.flat_part import FlatPart
from lessonkit.geometry.shape import area_mm2
from lessonkit.lesson.lesson import Piece as WrittenPiece
from lessonkit.pieces.model import Edge, Mark, Measure, Part, Use
from lessonkit.pieces.scale import Scale
from lessonkit.units import Length, number

Sizes = tuple[tuple[str, float], ...]  # names and millimetres of the finished thing, wet


class Built(NamedTuple):
    """A form before its parts get their letters. `facts` are numbers that are no lengths, for papers and fill-ins; `card` and
    `compare` name the parts that are not cut from clay."""

    finished: Sizes
    parts: tuple[FlatPart, ...]
    volume_mm3: float
    facts: tuple[tuple[str, str], ...] = ()
    card: tuple[str, ...] = ()
    compare: tuple[str, ...] = ()


def unfold(piece: WrittenPiece, thickness_mm: float, scale: Scale, density_g_cm3: float) -> Built:
    """Unfold the piece's form at its wet size. The slab keeps its thickness: only the finished thing is enlarged.

    Raises GeometryError for a form that cannot be made.
    """
    return _UNFOLD[piece.form](getattr(piece, piece.form), thickness_mm, scale, density_g_cm3)


def lettered(built: Built, letters: Callable[[], str], scale: Scale) -> tuple[Part, ...]:
    """The parts as pieces know them: edges get letters from J on, so that none is taken for a part's."""
    parts = []
    for flat in built.parts:
        measures = tuple(_measure(name, size, scale) for name, size in flat.sizes if isfinite(size))
        edges = tuple(Edge(_edge_letter(e.letter), e.line, e.bevel_deg, e.face, e.lap_mm) for e in flat.edges)
        marks = tuple(Mark(m.kind, m.line, m.closed) for m in flat.marks)
        use: Use = "card" if flat.name in built.card else "compare" if flat.name in built.compare else "clay"
        parts.append(Part(flat.name, letters(), flat.shape, measures, (), marks, edges, flat.notes, flat.count, use))
    return tuple(parts)


def finished_measures(built: Built, scale: Scale) -> tuple[Measure, ...]:
    return tuple(_measure(name, size, scale) for name, size in built.finished)


def _measure(name: str, size: float, scale: Scale) -> Measure:
    if name.endswith("_deg"):
        key = name.removesuffix("_deg").replace("_", " ")
        return Measure(key, key, size, size, unit="deg")
    key = name.replace("_", " ")
    return scale.measure(key, key, size)


def _edge_letter(letter: str) -> str:
    return chr(ord("J") + ord(letter) - ord("A")) if letter and ord(letter) - ord("A") < 17 else letter.lower()


def _slabs(finished: Sizes, parts: tuple[FlatPart, ...], thickness_mm: float, facts: tuple[tuple[str, str], ...] = ()) -> Built:
    return Built(finished, parts, sum(area_mm2(part.shape) * part.count for part in parts) * thickness_mm, facts)


def _ways(across_mm: float, measured: str, thickness_mm: float) -> Sizes:
    outside = across_mm if measured == "outside" else across_mm + 2 * thickness_mm
    return (("outside", outside), ("inside", outside - 2 * thickness_mm))


def _cylinder(form: Any, t: float, k: Scale, _: float) -> Built:
    across, tall = k.cut(form.across), k.cut(form.tall)
    parts = developments.cylinder(across_mm=across, tall_mm=tall, thickness_mm=t, measured=form.measured, base=form.base, joint=form.joint)
    return _slabs((*_ways(across, form.measured, t), ("tall", tall)), parts, t)


def _oval(form: Any, t: float, k: Scale, _: float) -> Built:
    wide, deep, tall = k.cut(form.wide), k.cut(form.deep), k.cut(form.tall)
    parts = developments.oval_cylinder(
        wide_mm=wide, deep_mm=deep, tall_mm=tall, thickness_mm=t, measured=form.measured, base=form.base, joint=form.joint
    )
    more = 0.0 if form.measured == "outside" else 2 * t
    return _slabs((("wide", wide + more), ("deep", deep + more), ("tall", tall)), parts, t)


def _cone(form: Any, t: float, k: Scale, _: float) -> Built:
    bottom, top, tall = k.cut(form.bottom), k.cut(form.top), k.cut(form.tall)
    parts = developments.cone(
        bottom_mm=bottom, top_mm=top, tall_mm=tall, thickness_mm=t, measured=form.measured, base=form.base, joint=form.joint
    )
    more = 0.0 if form.measured == "outside" else 2 * t
    return _slabs((("bottom", bottom + more), ("top", top + more), ("tall", tall)), parts, t)


_SLUMP_NOTE = "Pressed clay gives: the finished size is within about 2 %."  # constant area, see geometry.dishes


def _noted(part: FlatPart, *notes: str) -> FlatPart:
    return FlatPart(part.name, part.shape, part.edges, part.marks, part.sizes, part.count, (*part.notes, *notes))


def _dish(form: Any, t: float, k: Scale, _: float) -> Built:
    bottom, rim, tall = k.cut(form.bottom), k.cut(form.rim), k.cut(form.tall)
    part = dishes.dish(bottom_mm=bottom, rim_mm=rim, tall_mm=tall, thickness_mm=t)
    return _slabs((("rim", rim), ("bottom", bottom), ("tall", tall)), (_noted(part, _SLUMP_NOTE),), t)


def _bowl(form: Any, t: float, k: Scale, _: float) -> Built:
    rim, tall = k.cut(form.rim), k.cut(form.tall)
    where = "Slump it into" if form.method == "slumped" else "Drape it over"
    part = dishes.bowl(rim_mm=rim, tall_mm=tall, thickness_mm=t)
    across = rim if form.method == "slumped" else rim - 2 * t
    hollow = f"{where} a round form {number(across, 0)} mm across."
    return _slabs((("rim", rim), ("tall", tall)), (_noted(part, hollow, _SLUMP_NOTE),), t)


def _box(form: Any, t: float, k: Scale, _: float) -> Built:
    wide, deep, tall = k.cut(form.wide), k.cut(form.deep), k.cut(form.tall)
    parts = boxes.box(
        wide_mm=wide, deep_mm=deep, tall_mm=tall, thickness_mm=t, measured=form.measured, corner=form.corner, base=form.base,
        lid=form.lid, lid_gap_mm=_gap(form.gap, k), flange_mm=k.cut(form.flange) if form.flange else None,
    )  # fmt: skip
    more = 0.0 if form.measured == "outside" else 2 * t
    above = 0.0 if form.measured == "outside" or form.base == "none" else t
    return _slabs((("wide", wide + more), ("deep", deep + more), ("tall", tall + above)), parts, t)


def _gap(gap: Length | None, k: Scale) -> float:
    """A lid's gap is what is left after firing."""
    return k.from_fired(gap.mm) if gap else 0.0


def _many_sided(form: Any, t: float, k: Scale, _: float) -> Built:
    across = {"across_mm": k.cut(form.across)} if form.across else {"across_flats_mm": k.cut(form.flats)}
    parts = boxes.many_sided_box(sides=form.sides, tall_mm=k.cut(form.tall), thickness_mm=t, lean_deg=form.lean, base=form.base, **across)
    name = "across" if form.across else "flats"
    return _slabs(((name, next(iter(across.values()))), ("tall", k.cut(form.tall))), parts, t)


def _hut(form: Any, t: float, k: Scale, _: float) -> Built:
    wide, deep, tall, eaves = (k.cut(size) for size in (form.wide, form.deep, form.tall, form.eaves))
    parts = boxes.gable_box(
        wide_mm=wide, deep_mm=deep, tall_mm=tall, eaves_mm=eaves, thickness_mm=t, corner=form.corner, overhang_mm=k.cut_or(form.overhang),
        lid_gap_mm=_gap(form.gap, k), flange_mm=k.cut(form.flange) if form.flange else None,
    )  # fmt: skip
    return _slabs((("wide", wide), ("deep", deep), ("tall", tall), ("eaves", eaves)), parts, t)


def _pocket(form: Any, t: float, k: Scale, _: float) -> Built:
    wide, tall, deep = k.cut(form.wide), k.cut(form.tall), k.cut(form.deep)
    pouch = k.cut(form.pouch) if form.pouch else None
    parts = dishes.wall_pocket(wide_mm=wide, tall_mm=tall, deep_mm=deep, thickness_mm=t, pouch_tall_mm=pouch)
    return _slabs((("wide", wide), ("tall", tall), ("deep", deep)), parts, t)


def _tray(form: Any, t: float, k: Scale, _: float) -> Built:
    long, wide, tall, bottom = (k.cut(size) for size in (form.long, form.wide, form.tall, form.bottom))
    part = dishes.tray(long_mm=long, wide_mm=wide, tall_mm=tall, bottom_mm=bottom, thickness_mm=t, corner_mm=k.cut_or(form.corner))
    return _slabs((("long", long), ("wide", wide), ("tall", tall)), (part,), t)


def _coil_pot(form: Any, t: float, k: Scale, _: float) -> Built:
    """A base disc as wide as the foot, a profile gauge of card, and the coils. Coils are rolled wet: `coil` and `rise` are not scaled."""
    across, tall = k.cut(form.across), k.cut(form.tall)
    profile = [(k.cut_or(width.height), k.cut(width.across)) for width in form.profile] or [(0.0, across), (tall, across)]
    work = coils.coil_work(profile, form.coil.mm, form.rise.mm if form.rise else None)
    foot = profile[0][1]
    base = FlatPart("base", outlines.circle(foot), sizes=(("across", foot),), notes=("Set the first coil on the edge of the base.",))
    gauge = _noted(coils.profile_gauge(profile), "Hold it upright against the pot as you build.")
    facts = (("rows", str(work.rows)), ("coil", f"{work.long_mm / 1000:.1f} m"))
    volume = area_mm2(base.shape) * t + work.volume_mm3
    return Built((("across", max(wide for _, wide in profile)), ("tall", tall)), (base, gauge), volume, facts, card=("gauge",))


def _pinch(form: Any, t: float, k: Scale, density_g_cm3: float) -> Built:
    across, tall = k.cut(form.across), k.cut(form.tall)
    ball_mm = coils.ball_across_mm(form.ball.g, density_g_cm3)
    ball = FlatPart("ball", outlines.circle(ball_mm), sizes=(("across", ball_mm),), notes=("Your ball should cover this circle.",))
    rim = FlatPart("rim", outlines.circle(across), sizes=(("across", across),), notes=("The pinched pot should reach this circle.",))
    facts = (("ball", form.ball.text), ("balls", str(form.balls)))
    finished = (("across", across), ("tall", tall), *((("vent", k.cut(form.vent)),) if form.vent else ()))
    return Built(finished, (ball, rim), form.balls * form.ball.g / density_g_cm3 * 1000, facts, compare=("ball", "rim"))


_UNFOLD: dict[str, Callable[[Any, float, Scale, float], Built]] = {
    "cylinder": _cylinder,
    "oval": _oval,
    "cone": _cone,
    "dish": _dish,
    "bowl": _bowl,
    "box": _box,
    "many_sided": _many_sided,
    "hut": _hut,
    "pocket": _pocket,
    "tray": _tray,
    "coil_pot": _coil_pot,
    "pinch": _pinch,
}
