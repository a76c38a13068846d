"""The XML of an SVG drawing as a small bounded tree: no document type of its own, no entities, nothing fetched."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.parsers import expat

LARGEST_BYTES = 2_000_000
MOST_ELEMENTS = 20_000
DEEPEST = 100
_LONGEST_SHEET = 200_000
_SVG, _XLINK = "http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"
SAVE_PLAIN = "Open it in your drawing program and save it as plain SVG."


class Refused(Exception):
    """The drawing can't be used. `what` says why, `hint` what to do next, both in a teacher's words."""

    def __init__(self, what: str, hint: str = SAVE_PLAIN) -> None:
        super().__init__(what)
        self.what, self.hint = what, hint


@dataclass(slots=True)
class Element:
    """`name` is "" for what is not SVG's own. Attributes are those without a namespace, and the target of a link as `href`."""

    name: str
    attributes: dict[str, str]
    children: list[Element] = field(default_factory=list)
    text: str = ""  # of a style sheet only

    def everything(self) -> Iterator[Element]:
        """This element and all below it, in the order of the file."""
        waiting = [self]
        while waiting:
            element = waiting.pop()
            yield element
            waiting += reversed(element.children)


def svg_tree(data: bytes) -> Element:
    """The drawing's root element. Raises Refused for what is no sound SVG, is too large, or declares entities.

    The usual line that names SVG's own document type is passed over; what it names is never fetched.
    """
    if len(data) > LARGEST_BYTES:
        raise Refused(f"the drawing has {len(data) / 1e6:.1f} MB; at most {LARGEST_BYTES / 1e6:.0f} MB are read.",
                      "Take pictures out of it, or draw it with fewer points.")  # fmt: skip
    if data.startswith(b"\x1f\x8b"):
        raise Refused("the drawing is packed (SVGZ).")
    growth = _Growth()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler = growth.start
    parser.EndElementHandler = growth.end
    parser.CharacterDataHandler = growth.letters
    parser.StartDoctypeDeclHandler = _document_type
    parser.EntityDeclHandler = _entity
    parser.SkippedEntityHandler = _entity
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        raise Refused(f"the file is damaged: it can't be read past its line {error.lineno}.") from None
    except (LookupError, ValueError):  # an encoding that Python does not know, or only knows for whole texts
        raise Refused("its letters are saved in a way that can't be read.") from None
    if growth.root is None or growth.root.name != "svg":
        raise Refused("it is not an SVG drawing.", "Save the shape as an SVG file; a picture that was only renamed can't be read.")
    return growth.root


class _Growth:
    def __init__(self) -> None:
        self.root: Element | None = None
        self._open: list[Element] = []
        self._count = 0

    def start(self, name: str, attributes: dict[str, str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS or len(self._open) >= DEEPEST:
            raise Refused(f"the drawing has more than {MOST_ELEMENTS:,} elements, or {DEEPEST} in one another.", "Draw only the outline.")
        element = Element(_own_name(name), {_attribute(key): value for key, value in attributes.items()})
        if self._open:
            self._open[-1].children.append(element)
        else:
            self.root = element
        self._open.append(element)

    def end(self, _: str) -> None:
        self._open.pop()

    def letters(self, text: str) -> None:
        if self._open[-1].name == "style":
            self._open[-1].text += text
            if len(self._open[-1].text) > _LONGEST_SHEET:
                raise Refused("its style sheet is far too long.")


def _own_name(name: str) -> str:
    space, _, local = name.rpartition(" ")
    return local if space in ("", _SVG) else ""


def _attribute(name: str) -> str:
    return "href" if name == f"{_XLINK} href" else name


def _document_type(_name: str, _system: str | None, _public: str | None, has_own_part: int) -> None:
    if has_own_part:
        _entity()


def _entity(*_: object) -> None:
    raise Refused("it declares entities, with which a small file can grow without end.")
