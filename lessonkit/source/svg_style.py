"""Whether an element of a drawing is seen, and how it is filled: attributes, `style`, and plain rules of a style sheet."""

from __future__ import annotations

from typing import NamedTuple

from lessonkit.source.svg_tree import Element, Refused

_PROPERTIES = ("fill", "stroke", "fill-rule", "visibility", "display")


class Look(NamedTuple):
    """What an element hands on to those inside it."""

    fill: str = "black"
    stroke: str = "none"
    fill_rule: str = "nonzero"
    visibility: str = "visible"

    @property
    def is_painted(self) -> bool:
        nothing = ("none", "transparent")
        return self.visibility == "visible" and not (self.fill in nothing and self.stroke in nothing)


class Styles:
    """The drawing's style sheets. Rules for a name, a .class or an #id count; combined selectors are passed over."""

    def __init__(self, root: Element) -> None:
        self._rules: dict[str, dict[str, str]] = {}
        for element in root.everything():
            if element.name == "style":
                self._add(element.text)

    def look(self, element: Element, around: Look) -> Look | None:
        """How the element looks inside one that looks like `around`; None where it and all in it are left out."""
        said = self._said(element)
        if said.get("display") == "none":
            return None
        told = {name.replace("-", "_"): value for name, value in said.items() if name != "display" and value != "inherit"}
        return Look(**{name: told.get(name, getattr(around, name)) for name in ("fill", "stroke", "fill_rule", "visibility")})

    def _said(self, element: Element) -> dict[str, str]:
        """The later overrule the earlier: attributes, rules for the name, its classes, its id, its own style."""
        said = {name: element.attributes[name].strip() for name in _PROPERTIES if name in element.attributes}
        classes = element.attributes.get("class", "").split()
        for selector in ("*", element.name, *(f".{name}" for name in classes), f"#{element.attributes.get('id', '')}"):
            said |= self._rules.get(selector, {})
        return said | _declared(element.attributes.get("style", ""))

    def _add(self, sheet: str) -> None:
        first, *rest = sheet.split("/*")
        sheet = first + " ".join(part.partition("*/")[2] for part in rest)
        for block in sheet.split("}"):
            selectors, _, body = block.rpartition("{")
            declared = _declared(body)
            for selector in selectors.rpartition("{")[2].split(",") if declared else ():
                self._rules.setdefault(selector.strip(), {}).update(declared)


def _declared(body: str) -> dict[str, str]:
    found = {}
    for declaration in body.split(";"):
        name, _, value = declaration.partition(":")
        name, value = name.strip().casefold(), value.replace("!important", "").strip().casefold()
        if name == "transform" and value != "none":
            raise Refused("a shape is moved by its style (transform).")
        if name in _PROPERTIES and value:
            found[name] = value
    return found
