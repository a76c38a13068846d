"""Every lesson x level x format x paper x language, as an outside reader (pdfium) finds it in the PDF.

The step pictures are left out here: they are looked at elsewhere, and would take most of the time. One lesson is tried in all
ways, each of the others in its usual one and in one format more, another for each; with EVERY_CARD=1 all in all formats.
"""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from PIL import Image

from lessonkit.build import work
from lessonkit.cli.files import source
from lessonkit.drawing.items import Document, Group, Page
from lessonkit.layout import card_pictures
from lessonkit.layout.card_formats import CardType, Format
from lessonkit.layout.card_order import CARD_FORMATS, CardOrder
from lessonkit.layout.cards import card_document
from lessonkit.layout.pictures.measured import measured
from lessonkit.layout.sheet import Sheet
from lessonkit.pieces.chosen_words import in_reading
from lessonkit.pieces.model import Kit, Piece, Step
from lessonkit.units import MM_PER_POINT
from lessonkit.writers.pdf import write_pdf
from tests.layout.card_reading import LEVELS, PRINTED, card_words, cards, crossing, overlapping, text_boxes

LESSONS = Path(__file__).parents[2] / "lessons"
NAMES = sorted(path.stem for path in LESSONS.glob("*.yaml") if path.stem != "room" and "." not in path.stem)
WHOLE = "porthole"
BASE = CardType(22, 14, 18, 17.5, 14)


@cache
def kit(name: str) -> Kit:
    found, problems = work(source(LESSONS / f"{name}.yaml"), source(LESSONS / "room.yaml"))
    assert found, problems
    return found


@pytest.fixture
def no_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    @cache
    def drawn_once(name: str, *size: Any, **more: Any) -> Group:
        return measured(pieces[name], *size, **more)

    def noted(piece: Piece, *size: Any, **more: Any) -> Group:
        pieces[piece.name] = piece
        return drawn_once(piece.name, *size, **more)

    pieces: dict[str, Piece] = {}
    monkeypatch.setattr(card_pictures, "picture", lambda *_: None)
    monkeypatch.setattr(card_pictures, "measured", noted)


def orders(name: str) -> Iterator[CardOrder]:
    """The ways in which a lesson is tried."""
    yield CardOrder()
    if name == WHOLE:
        for format_, languages in product(CARD_FORMATS, ((), ("es",), ("en", "es"))):
            yield CardOrder(format_, languages=languages)
        for format_, reading in product(("4", "2", "large"), ("picture", "plain", "full")):
            yield CardOrder(format_, reading)  # type: ignore[arg-type]
        yield CardOrder(languages=("en", "es"), reading="full", backs="short-edge")
        yield CardOrder(languages=("es",), backs="long-edge", sets=3)
    elif os.environ.get("EVERY_CARD"):
        yield from (CardOrder(format_) for format_ in CARD_FORMATS)
    else:
        yield CardOrder(CARD_FORMATS[NAMES.index(name) % len(CARD_FORMATS)])


def tokens(text: str) -> list[str]:
    return re.findall(r"\w+", text.replace("\N{NO-BREAK SPACE}", " "))


def texts(step: Step) -> list[str]:
    return [text for text in (step.title, step.text, step.good, step.choose, step.early, step.stop, *step.safety) if text]


def field_mm(document: Document, order: CardOrder, paper: str) -> tuple[float, float]:
    """How wide and tall a card's field is."""
    if order.format == "strip":
        return Format(4, BASE).field_mm(paper)[0], Sheet(paper).live_mm[1]
    page = document.pages[0]
    count = 2 if page.wide_mm > page.tall_mm else 4 if len({card.y_mm for card in cards(document)}) > 1 else 1
    return Format(count, BASE).field_mm(paper)


def faults(document: Document, order: CardOrder, paper: str, kits: list[Kit], level: str) -> Iterator[str]:
    wide, tall = field_mm(document, order, paper)
    for card in cards(document):
        yield from (f"{a} on {b}" for a, b in overlapping(card))
        yield from (f"{text} crosses a line" for text in crossing(card))
        for text, left, top, right, foot in text_boxes(card):
            if left < -0.01 or top < -0.01 or right > wide + 0.01 or foot > tall + 0.01:
                yield f"{text} leaves its card"
    pages = [page.get_textpage() for page in pypdfium2.PdfDocument(write_pdf(document))]
    least = min(pdfium.FPDFText_GetFontSize(page.raw, index) for page in pages for index in range(page.count_chars())
                if not pdfium.FPDFText_IsGenerated(page.raw, index))  # fmt: skip
    if least < (18 if order.format == "large" else 8) - 0.001:
        yield f"a letter of {least:g} pt"
    for sheet, page in zip(document.pages, pages, strict=True):
        edges = (side for index in range(page.count_rects()) for side in to_edges(sheet, *page.get_rect(index)))
        if min(edges, default=99) < 10:
            yield "words nearer than 10 mm to the edge"
    yield from unsaid(" ".join(page.get_text_range() for page in pages), order, kits, level)


def to_edges(sheet: Page, *sides_pt: float) -> tuple[float, ...]:
    left, foot, right, top = (side * MM_PER_POINT for side in sides_pt)
    return left, foot, sheet.wide_mm - right, sheet.tall_mm - top


def unsaid(read_back: str, order: CardOrder, kits: list[Kit], level: str) -> Iterator[str]:
    """What the lesson says and the PDF does not."""
    read = Counter(tokens(read_back))
    steps = kits[0].steps[level]
    if order.reading_of(level) == "picture":
        wanted = Counter(word for step in steps for word in tokens(step.number))
        if order.format != "strip":  # the helper's line
            wanted += Counter(word for step in steps for text in (step.title, step.stop, *step.safety) for word in tokens(text))
    else:
        wanted = Counter(word for kit in kits for step in kit.steps[level] for text in texts(step) for word in tokens(text))
        terms = {step.word for kit in kits for step in kit.steps[level] if step.word}
        wanted += Counter(word for term in terms for text in term for word in tokens(text))
    if wanted - read:
        yield f"not printed: {dict(wanted - read)}"


@pytest.mark.usefixtures("no_pictures")
@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_clipped_small_hidden_or_lost(name: str, level: str) -> None:
    found = []
    for order, paper in product(orders(name), PRINTED):
        kits = [in_reading(kit_, order.reading) for kit_ in order.spoken(kit(name))]
        document = card_document(kit(name), level, paper, order)
        found += [f"{order} {paper}: {fault}" for fault in faults(document, order, paper, kits, level)]
    assert found == []


@pytest.mark.usefixtures("no_pictures")
def test_the_test_can_fail() -> None:
    document = card_document(kit("reed-pot"), "easy", "A4")
    lengthened = replace(kit("reed-pot"), steps={"easy": tuple(step._replace(text=f"{step.text} Truly.") for step in kit("reed-pot").steps["easy"])})
    assert list(faults(document, CardOrder(), "A4", [lengthened], "easy")) == ["not printed: {'Truly': 8}"]
    assert list(faults(document, CardOrder("large"), "A4", [kit("reed-pot")], "easy")) == ["a letter of 8 pt"]


@pytest.mark.usefixtures("no_pictures")
@pytest.mark.parametrize("paper", PRINTED)
@pytest.mark.parametrize("name", NAMES)
def test_four_cards_go_to_the_sheet(name: str, paper: str) -> None:
    for level in LEVELS:
        document = card_document(kit(name), level, paper)
        assert field_mm(document, CardOrder(), paper) == Format(4, BASE).field_mm(paper)
        assert len(document.pages) == -(-len(cards(document)) // 4)


@pytest.mark.usefixtures("no_pictures")
def test_a_translated_card_has_the_same_picture_in_the_same_place() -> None:
    both = card_document(kit("porthole"), "easy", "A4", CardOrder("2", languages=("en", "es")))
    said = card_words(cards(both)[0])
    for part in ("New to this · Nuevo en esto", "6 minutes · minutos", "Roll the slab Estira la placa", "STOP ALTO",
                 "this thick · así de grueso: 8 mm", "English, español"):  # fmt: skip
        assert part in said.replace("\u00a0", " ")
    assert "[en]" not in " ".join(card_words(card) for card in cards(both))


def test_an_untranslated_text_stands_once_and_marked() -> None:
    english = kit("reed-pot")
    steps = {level: tuple(step._replace(text=f"[en] {step.text}", title="Alisa") for step in own) for level, own in english.steps.items()}
    spanish = replace(english, room=english.room.model_copy(update={"language": "es"}), steps=steps)
    document = card_document(replace(english, translations={"es": spanish}), "easy", "A4", CardOrder(languages=("en", "es")))
    said = card_words(cards(document)[0]).replace("\u00a0", " ")
    assert said.count("Lay down the blue sticks.") == said.count("[en] Lay down the blue sticks.") == 1


@pytest.mark.parametrize("order", [CardOrder(), CardOrder("strip")])
def test_levels_differ_on_a_copier_s_black_and_white(order: CardOrder) -> None:
    runs = []
    for level in LEVELS:
        page = pypdfium2.PdfDocument(write_pdf(card_document(kit("porthole"), level, "A4", order)))[0]
        image = page.render(scale=4 * MM_PER_POINT).to_pil().convert("L").point(lambda tone: 255 * (tone > 128))
        strip = image.crop((40, 80, 64, 81)) if order.format == "strip" else image.crop((160, 38, 161, 62))
        runs.append(black_runs(strip))
    assert runs == [1, 2]


def black_runs(image: Image.Image) -> int:
    """How many dark stretches a line of pixels has."""
    dark = [tone < 128 for tone in image.tobytes()]
    return sum(here and not before for before, here in zip([False, *dark], dark, strict=False))
