"""All stencils of a lesson as sheets of paper at full size."""

from __future__ import annotations

from lessonkit.drawing.items import Document, Page
from lessonkit.layout.pen import Pen
from lessonkit.layout.sheet import Sheet, edition, foot
from lessonkit.layout.stencils.board import Board, NoRoom
from lessonkit.layout.stencils.facts import facts_of
from lessonkit.layout.stencils.figure import Figure, figure_of
from lessonkit.layout.stencils.sheets import whole_sheet
from lessonkit.layout.wording import say
from lessonkit.pieces.model import Kit

FOOT_MM = 8.0


def stencil_document(kit: Kit, paper: str) -> Document:
    sheet = Sheet(paper)
    figures = [figure_of(piece, part, facts_of(kit, piece, part)) for piece in kit.pieces for part in piece.parts]
    pages = []
    for i, figure in enumerate(figures):
        for turned in (False, True):
            s = Sheet(paper, turned)
            try:
                w, h = s.live_mm
                board = whole_sheet(kit, figure, (w, h - 8))
            except NoRoom:
                continue
            pen = Pen()
            pen.put(*board.items())
            foot(pen, *s.live_mm, "left", f"{paper} · sheet {i+1}")
            pages.append(s.page(pen, figure.facts.name))
            break
        else:
            print("NOROOM", figure.facts.name)
    return Document(say("stencils_title", "en", lesson=kit.lesson.title), "en", tuple(pages))
