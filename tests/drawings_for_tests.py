"""Items as they come out on the paper."""

from __future__ import annotations

from collections.abc import Iterator

from lessonkit.drawing.items import Group, Item, Path, TextLine

Shown = tuple[Path | TextLine, float, float, str]


def shown(items: tuple[Item, ...], x: float = 0.0, y: float = 0.0, layer: str = "", scale: float = 1.0) -> Iterator[Shown]:
    """Every path and line of text as large as its groups show it, with its group's place on the page and the innermost named layer."""
    for item in items:
        if isinstance(item, Group):
            assert not item.half_turn
            yield from shown(item.items, x + item.x_mm * scale, y + item.y_mm * scale, item.layer or layer, scale * item.scale)
        elif isinstance(item, TextLine):
            yield item._replace(x_mm=item.x_mm * scale, y_mm=item.y_mm * scale, size_pt=item.size_pt * scale), x, y, layer
        else:
            yield item.mapped((scale, 0.0), (scale, 0.0)), x, y, layer
