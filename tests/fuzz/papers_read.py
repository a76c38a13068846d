"""What must be true of every paper: somebody else's readers open it, no page is empty or cut off, no word is lost."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator
from io import BytesIO
from xml.etree import ElementTree

import pypdfium2
import pypdfium2.raw as pdfium
from PIL import Image
from pypdf import PdfReader
from svgelements import Path as SvgPath

from lessonkit.build import Order, papers, room_papers
from lessonkit.cli.files import folder_name
from lessonkit.drawing.fonts import missing
from lessonkit.pieces.chosen_words import in_reading
from lessonkit.pieces.model import Kit, Step
from lessonkit.planning.numbers import Asked, groups_of, plan
from lessonkit.planpapers import plan_papers
from lessonkit.units import MM_PER_POINT
from tests.fuzz.oracles import Fault

EDGE_MM, EDGE_IF_CORRECTED_MM = 9.0, 5.8  # stems and accents rise over the capitals; a correction of 1.5 % moves A3 by 3.2 mm
LONGEST_NAME = 255  # bytes; every file system takes as many
LONGEST_WHOLE = 12  # letters without a blank that a line can be broken at; what is longer may be broken anywhere
_WORD = re.compile(r"[A-Za-z0-9]+")
_MARK = re.compile(r"\bzq\d+\b")


def built(kit: Kit, order: Order, whole: bool = False) -> int:
    """Makes the papers that are ordered, reads them back and says how many pages they have. Raises Fault. `whole` also makes those of the
    plan and of the room, makes all a second time and reads them with a second reader."""
    made = _made(kit, order, whole)
    if whole and _made(kit, order, whole) != made:
        raise Fault("made twice, they differ")
    pages = 0
    for path, data in made.items():
        for name in path.split("/"):
            if folder_name(name) != name or len(name.encode()) > LONGEST_NAME:
                raise Fault("a file's name that not every system takes", name)
        if path.endswith(".svg"):
            _read_drawing(data, path)
        else:
            pages += _read_pages(data, path, EDGE_IF_CORRECTED_MM if kit.room.printed else EDGE_MM)
            if whole and not len(PdfReader(BytesIO(data)).pages):
                raise Fault("pypdf finds no page", path)
    for level in kit.room.levels:
        _look_for_words(kit, level, order, made)
    return pages


def _made(kit: Kit, order: Order, whole: bool) -> dict[str, bytes]:
    made = papers(kit, order)
    if whole:
        groups, said = groups_of(kit.room)
        asked = Asked((kit,), groups)
        made |= {f"plan/{path}": data for path, data in plan_papers(asked, plan(asked, said), order.paper).items()}
        made |= {f"room/{path}": data for path, data in room_papers(kit.room).items()}
    return made


def _read_pages(data: bytes, name: str, edge_mm: float) -> int:
    document = pypdfium2.PdfDocument(data)
    try:
        for number in range(len(document)):
            page = document[number]
            for fault in _wrong_with_page(page, edge_mm, may_be_empty="-backs-" in name):  # a step without an answer has nothing on its back
                raise Fault(f"{fault}: {_family(name)}", f"{name}, page {number + 1}")
        if not len(document):
            raise Fault(f"no pages: {_family(name)}", name)
        return len(document)
    finally:
        document.close()


def _wrong_with_page(page: pypdfium2.PdfPage, edge_mm: float, may_be_empty: bool) -> Iterator[str]:
    words = page.get_textpage()
    if not may_be_empty and not pdfium.FPDFPage_CountObjects(page.raw):
        yield "an empty page"
    text = words.get_text_range()
    if lost := missing(re.sub(r"[\r\n\ufffe\u0002]", "", text)):  # the reader's own line ends and hyphens
        yield f"letters without a shape (U+{ord(lost[0]):04X})"
    wide, tall, edge = *page.get_size(), edge_mm / MM_PER_POINT
    for index in range(words.count_rects()):
        left, foot, right, top = words.get_rect(index)
        if left < edge or foot < edge or right > wide - edge or top > tall - edge:
            yield "words outside of the page's live area"
            break
    if _ink_at_edge(page, edge_mm):
        yield "ink outside of the page's live area"


def _ink_at_edge(page: pypdfium2.PdfPage, edge_mm: float) -> bool:
    picture = page.render(scale=1.0, grayscale=True).to_pil()  # a pixel for a point
    edge = int(edge_mm / MM_PER_POINT) - 1
    wide, tall = picture.size
    picture.paste(Image.new("L", (wide - 2 * edge, tall - 2 * edge), 255), (edge, edge))
    return bool(picture.getextrema()[0] < 230)


def _family(name: str) -> str:
    """What kind of paper it is, without the names of levels, pieces and groups."""
    return name.rpartition("/")[2].partition("-")[0].partition(".")[0]


def _read_drawing(data: bytes, name: str) -> None:
    root = ElementTree.fromstring(data)
    wide, tall = (float(size) for size in root.attrib["viewBox"].split()[2:])
    paths = [element.attrib["d"] for element in root.iter() if element.tag.endswith("}path")]
    if not paths:
        raise Fault("a drawing without a line", name)
    for path in paths:
        left, top, right, foot = SvgPath(path).bbox() or (0.0, 0.0, 0.0, 0.0)  # a line of blanks has nothing to draw
        if not (-0.01 <= left <= right <= wide + 0.01 and -0.01 <= top <= foot <= tall + 0.01):
            raise Fault("a drawing that leaves its page", f"{name}: {path[:60]}")


def _look_for_words(kit: Kit, level: str, order: Order, made: dict[str, bytes]) -> None:
    """Every step's words stand on its level's cards, and on one card of each set only."""
    steps = in_reading(kit, order.cards.reading).steps[level]
    if not steps or order.cards.reading_of(level) == "picture" or (order.only and "cards" not in order.only):
        return
    text = "\n".join(_text(data) for name, data in made.items() if _is_of(level, name, kit))
    said = "\n".join(said for step in steps for said in _texts(step)) + "\n"
    said *= order.cards.sets or 1
    for what, printed, wanted in (("words", re.findall(_WORD, text), _whole_words(said)), ("letters", _letters(text), _letters(said))):
        if lost := Counter(wanted) - Counter(printed):
            raise Fault(f"{what} of a step are not on its cards", f"{level}: {dict(lost)}")
    marks, once = Counter(_MARK.findall(text)), Counter(_MARK.findall(" ".join(step.text for step in steps)))
    if marks != Counter({mark: count * (order.cards.sets or 1) for mark, count in once.items()}):
        raise Fault("words of a step stand on its cards more than once", f"{level}: {marks - once}")


def _is_of(level: str, name: str, kit: Kit) -> bool:
    """Whether the file holds this level's cards, and not those of a level whose name begins likewise."""
    fitting = [other for other in kit.room.levels if re.match(rf"cards-{re.escape(other)}[-.]", name)]
    return bool(fitting) and max(fitting, key=len) == level


def _texts(step: Step) -> list[str]:
    return [step.title, step.text, step.good, step.choose, step.early, step.stop, *step.safety]


def _whole_words(text: str) -> list[str]:
    return [word for run in re.split(r"[ \t\r\n]+", text) if len(run) <= LONGEST_WHOLE for word in re.findall(_WORD, run)]


def _letters(text: str) -> list[str]:
    return [letter for letter in unicodedata.normalize("NFKD", text) if unicodedata.category(letter)[0] in "LMNS"]


def _text(data: bytes) -> str:
    document = pypdfium2.PdfDocument(data)
    text = "\n".join(document[number].get_textpage().get_text_range() for number in range(len(document)))
    document.close()
    return text
