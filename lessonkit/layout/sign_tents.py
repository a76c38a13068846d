"""Table tents: a station's sign for its own table. Two faces over a ridge; it stands on two feet, one taped over the other."""

from __future__ import annotations

from collections.abc import Sequence

from lessonkit.drawing.fonts import DESCENT, width_mm
from lessonkit.drawing.items import Document, Group, Page
from lessonkit.drawing.typesetting import Block, Span, set_text
from lessonkit.layout.flow import Strip, Type, balanced, bound, columns, draw, foot_lines, paragraph, tall_mm
from lessonkit.layout.pen import DASHED, FINE, Pen, capitals_mm
from lessonkit.layout.pictures.book import picture
from lessonkit.layout.sheet import EDGE_MM, Sheet, edition
from lessonkit.layout.sign_marks import BAND_MM, band, shape_mark
from lessonkit.layout.sign_names import CAPITAL, above_em, letter_height_mm
from lessonkit.layout.sign_rows import PICTURE_SHAPE
from lessonkit.layout.sign_station import Action, Facts, facts
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit
from lessonkit.units import MM_PER_POINT, NO_BREAK

FOOT_MM, OVERLAP_MM = 24.0, 10.0  # a foot, and how far one lies over the other
FOLD_MM = 4.0  # free beside a fold
READ_FROM_MM = 2000.0  # from the far side of the table, and from the way to it
TEXT, SMALL = Type(14, 18.5), Type(8, 10.5)
NAMES_PT, SMALLEST_PT = (84.0, 68.0, 54.0), 30.0
HANGING = "gjpqyQ,;(["  # what reaches below the line
MARK_MM, GUTTER_MM, ARROW_MM = 20.0, 6.0, 18.0
MOST_NAME = 0.4  # of the face
PICTURES_MM = (44.0, 40.0, 36.0, 32.0, 28.0)  # widths tried
SIDE_BY_SIDE = 5


def tent_document(kit: Kit, paper: str) -> Document:
    """A tent for each of the lesson's stations; none for a lesson without stations. What is too long for one goes on to a second."""
    language = kit.room.language
    stations = [facts(kit, index) for index in range(len(kit.lesson.stations))]
    pages = [page for station in stations for page in _pages(kit, paper, station)]
    return Document(say("tents_title", language, lesson=kit.lesson.title), language, tuple(pages))


def _pages(kit: Kit, paper: str, station: Facts) -> list[Page]:
    """With the largest name and then the largest pictures for which one tent is enough; else with the smallest, on more."""
    for name_pt in NAMES_PT:
        tent = _Tent(kit, paper, station, name_pt)
        for picture_mm in PICTURES_MM:
            strips = tent.strips(picture_mm)
            if tent.fits(strips):
                return tent.pages(strips)
    return tent.pages(strips)


class _Tent:
    """One way to letter a station's tent: the same words on both faces."""

    def __init__(self, kit: Kit, paper: str, station: Facts, name_pt: float) -> None:
        self.kit, self.station, self.sheet, self.language = kit, station, Sheet(paper), kit.room.language
        self.wide = self.sheet.live_mm[0]
        self.tall = self.sheet.size_mm[1] / 2 - FOOT_MM - 2 * FOLD_MM
        self.figures = [words for words, _ in station.told]
        room = self.wide - MARK_MM - 2 * GUTTER_MM - max((width_mm(words, TEXT.size_pt, True) for words in self.figures), default=0.0)
        self.name = _name(station.name, name_pt, room, MOST_NAME * self.tall)
        self.above = above_em(station.name) * self.name.size_pt * MM_PER_POINT  # what the letters need above the capitals
        self.below = DESCENT * self.name.size_pt * MM_PER_POINT if any(letter in HANGING for letter in station.name) else 0.0
        self.head = max(MARK_MM, sum((self.above, self.below), self.name.tall_mm)) + 2 + BAND_MM + 4  # the rest begins here, below the band
        self.notes = self._notes()

    def fits(self, strips: Sequence[Strip]) -> bool:
        """On one tent."""
        return self.head + tall_mm(strips) <= self.tall

    def pages(self, rest: Sequence[Strip]) -> list[Page]:
        faces: list[Pen] = []
        while rest or not faces:
            pen = Pen()
            top = self._head(pen)
            (here,), more = columns(rest, self.tall - top, 1)
            if not here:  # higher than a whole face: nothing else can be done with it
                here, more = rest[:1], rest[1:]
            draw(pen, 0, top, here)
            faces.append(pen)
            rest = more
        return [self._page(face, k, len(faces)) for k, face in enumerate(faces, 1)]

    def _head(self, pen: Pen) -> float:
        """The mark, the name, minutes and places, and the band; returns where the rest begins."""
        inner = self.head - BAND_MM - 6
        shape_mark(pen, self.station.number, 0, (inner - MARK_MM) / 2, MARK_MM, TEXT.size_pt * 2)
        pen.block(MARK_MM + GUTTER_MM, self.above + (inner - self.above - self.below - self.name.tall_mm) / 2, self.name)
        for line, words in enumerate(self.figures):
            pen.text(self.wide, capitals_mm(TEXT.size_pt) + 2 + line * TEXT.leading_pt * MM_PER_POINT, words, TEXT.size_pt, bold=True, align="right")
        band(pen, self.station.number, 0, inner + 2, self.wide)
        return self.head

    def strips(self, picture_mm: float) -> list[Strip]:
        """Below the head, with pictures of that width, or what is left of it."""
        actions = self.station.actions
        rows = -(-len(actions) // SIDE_BY_SIDE)
        in_row = -(-len(actions) // rows) if rows else 0
        strips = self._rows(in_row, picture_mm if rows == 1 else PICTURES_MM[-1])
        while in_row > 1 and max(strip.tall_mm for strip in strips) > self._below_head_mm():
            in_row -= 1
            strips = self._rows(in_row, PICTURES_MM[-1])
        return bound([*strips, *self.notes])

    def _below_head_mm(self) -> float:
        return self.tall - self.head

    def _rows(self, in_row: int, picture_mm: float) -> list[Strip]:
        actions = self.station.actions
        return [self._row(actions[first : first + in_row], first, in_row, picture_mm) for first in range(0, len(actions), in_row or 1)]

    def _row(self, actions: Sequence[Action], first: int, in_row: int, picture_mm: float) -> Strip:
        """Actions side by side, each under its picture."""
        pitch = (self.wide + GUTTER_MM) / in_row
        wide = pitch - GUTTER_MM
        drawn_mm = min(picture_mm, wide)
        above = drawn_mm / PICTURE_SHAPE + 3 if any(action.picture for action in actions) else 0.0
        numbered = enumerate(actions, first + 1)
        captions = [set_text([Span(f"{k} ", True), Span(action.text)], wide, TEXT.size_pt, TEXT.leading_pt) for k, action in numbered]

        def put(pen: Pen, x: float, top: float) -> None:
            for index, (action, caption) in enumerate(zip(actions, captions, strict=True)):
                left = x + index * pitch
                drawn = picture(action.picture, action.piece, drawn_mm, wordless=True) if action.picture else None
                if drawn:
                    pen.put(Group((drawn,), left, top))
                pen.block(left, top + above, caption)

        return Strip(above + max(TEXT.tall_mm(caption) for caption in captions), put, 4.0)

    def _notes(self) -> list[Strip]:
        """What you need, when to come, the safety line and where to go next, in two columns."""
        wide = (self.wide - 2 * GUTTER_MM) / 2
        strips: list[Strip] = []
        for key, text in (("sign_need", f"{NO_BREAK}· ".join(self.station.need)), ("sign_come", self.station.come)):
            strips += paragraph([Span(f"{say(key, self.language)} ", True), Span(text)], wide, TEXT, 2.5) if text else []
        if self.station.safety:
            strips += paragraph(self.station.safety, wide, TEXT, 3.0, lambda pen, x, top: pen.warning(x, top - 1.6, 7.6), 11)
        strips += self._next(wide)
        rest: Sequence[Strip] = strips
        faces = []
        while rest:
            filled, rest = balanced(rest, self._below_head_mm() - 3, 2)
            faces.append(self._side_by_side(filled, wide))
        return faces

    def _side_by_side(self, filled: Sequence[Sequence[Strip]], wide: float) -> Strip:
        """Two columns under a line."""
        across, tall = self.wide, max(map(tall_mm, filled))

        def put(pen: Pen, x: float, top: float) -> None:
            pen.line(x, top, x + across, top, FINE)
            for index, column in enumerate(filled):
                draw(pen, x + index * (wide + 2 * GUTTER_MM), top + 3, column)

        return Strip(tall + 3, put, 3.0)

    def _next(self, wide: float) -> list[Strip]:
        if not self.station.next_name:
            return []
        words = [Span(f"{say('sign_next', self.language)} "), Span(self.station.next_name, True)]
        block = set_text(words, wide - ARROW_MM - 4, TEXT.size_pt, TEXT.leading_pt)

        def put(pen: Pen, x: float, top: float) -> None:
            pen.block(x, top, block)
            middle = top + block.tall_mm - capitals_mm(TEXT.size_pt) / 2
            pen.arrow(x + block.wide_mm + 4, middle, x + block.wide_mm + 4 + ARROW_MM, middle)

        return [Strip(TEXT.tall_mm(block), put, 3.0)]

    # -- the sheet
    def _page(self, face: Pen, k: int, n: int) -> Page:
        (wide, tall), (left, _) = self.sheet.size_mm, self.sheet.corner_mm
        ridge = tall / 2
        near = face.group(left, ridge + FOLD_MM)
        far = near._replace(x_mm=left + self.wide, y_mm=ridge - FOLD_MM, half_turn=True)
        pen = Pen()
        for fold in (FOOT_MM, ridge, tall - FOOT_MM):
            pen.line(EDGE_MM, fold, wide - EDGE_MM, fold, FINE, DASHED)
        pen.line(EDGE_MM, OVERLAP_MM + FINE / 2, wide - EDGE_MM, OVERLAP_MM + FINE / 2, FINE)
        draw(pen, left, OVERLAP_MM + 3, foot_lines(*self._foot(k, n), self.wide, SMALL))
        how = say("tent_how", self.language, n=f"{OVERLAP_MM:g}")
        draw(pen, left, tall - FOOT_MM + 3, paragraph(how, self.wide, SMALL))
        name = self.station.name if n == 1 else f"{self.station.name}, {say('part_of_step', self.language, k=k, n=n)}"
        return Page(wide, tall, (*pen.items, near, far), name)

    def _foot(self, k: int, n: int) -> tuple[str, str]:
        place = say("sign_station", self.language, k=self.station.number + 1, n=self.station.of)
        sheet = say("sheet_of", self.language, k=k, n=n)
        return f"{self.kit.lesson.title} · {place}", f"{edition(self.kit)} · {self.sheet.paper} · {sheet}"


def _name(name: str, largest: float, wide: float, tall: float) -> Block:
    """As large as fits on one line; where that is too small for its distance, on more, broken if need be; smaller only where even that
    is more than its share of the face."""
    read = letter_height_mm(READ_FROM_MM) / CAPITAL / MM_PER_POINT
    size = largest
    while size > read and width_mm(name, size, True) > wide:
        size = max(size - 2, read)
    while size > SMALLEST_PT and not _stands(name, size, wide, tall):
        size = max(size * 0.94, SMALLEST_PT)
    return set_text([Span(name, True)], wide, size, size * 1.04)


def _stands(name: str, size: float, wide: float, tall: float) -> bool:
    fits = max(width_mm(letter + "-", size, True) for letter in name) <= wide
    return fits and set_text([Span(name, True)], wide, size, size * 1.04).tall_mm <= tall
