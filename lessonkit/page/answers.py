"""What is at each address: bytes in, an answer out. Nothing here knows of sockets, and no path from a request is ever opened as it is."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from importlib.resources import files
from typing import Any
from unicodedata import normalize
from urllib.parse import quote

from lessonkit.drawing.fonts import typeface_path
from lessonkit.page import lessons, room_forms, saving, silhouette, trying
from lessonkit.page.asked import Choices, Drawing, RoomForm, RoomPaper, Saving, asked
from lessonkit.page.desk import Desk
from lessonkit.writers.screen import FAMILIES

Ask = Callable[[dict[str, str], bytes], "Answer"]

_KINDS = {".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8"}


@dataclass(frozen=True, slots=True)
class Answer:
    data: bytes
    kind: str
    status: int = 200
    headers: dict[str, str] = field(default_factory=dict)


def answers(desk: Desk) -> dict[tuple[str, str], Ask]:
    """Everything that can be asked, by method and address."""
    return {
        **_pages(),
        ("GET", "/shelf"): _locked(desk, lambda query, _: _json(lessons.shelf(desk))),
        ("GET", "/lesson"): _locked(desk, lambda query, _: _json(lessons.lesson(desk, query.get("file", "")))),
        ("GET", "/small"): _locked(desk, lambda query, _: _svg(lessons.small(desk, query.get("file", "")))),
        ("POST", "/try"): _locked(desk, lambda _, body: _json(trying.answer(desk, asked(body, Choices)))),
        ("POST", "/paper"): _locked(desk, lambda _, body: _file(*trying.printed(desk, asked(body, Choices)))),
        ("POST", "/save"): _locked(desk, lambda _, body: _json(saving.save(desk, asked(body, Saving)))),
        ("POST", "/silhouette"): _locked(desk, lambda _, body: _json(silhouette.silhouette(desk, asked(body, Drawing)))),
        ("GET", "/room"): _locked(desk, lambda _, __: _json(room_forms.forms(desk))),
        ("POST", "/room"): _locked(desk, lambda _, body: _json(room_forms.fill_in(desk, asked(body, RoomForm)))),
        ("POST", "/room/paper"): _locked(desk, lambda _, body: _file(*room_forms.sheet(desk, asked(body, RoomPaper)))),
    }


def _locked(desk: Desk, ask: Ask) -> Ask:
    def one_at_a_time(query: dict[str, str], body: bytes) -> Answer:
        with desk.lock:
            return ask(query, body)

    return one_at_a_time


def _pages() -> dict[tuple[str, str], Ask]:
    """The page itself and the typefaces of the papers, read once."""
    found: dict[str, Answer] = {}
    for file in files("lessonkit.page").joinpath("static").iterdir():
        if kind := _KINDS.get(f".{file.name.rpartition('.')[2]}"):
            found[f"/{file.name}"] = Answer(file.read_bytes(), kind)
    found["/"] = found.pop("/page.html")
    for face in FAMILIES:
        path = typeface_path(face)
        found[f"/font/{path.name}"] = Answer(path.read_bytes(), "font/ttf", headers={"Cache-Control": "max-age=86400"})
    return {("GET", address): _always(answer) for address, answer in found.items()}


def _always(answer: Answer) -> Ask:
    return lambda _, __: answer


def _json(value: dict[str, Any]) -> Answer:
    return Answer(json.dumps({"format": 1, **value}, ensure_ascii=False).encode(), "application/json; charset=utf-8")


def _svg(text: str) -> Answer:
    return Answer(text.encode(), "image/svg+xml")


def _file(name: str, data: bytes) -> Answer:
    kinds = {"pdf": "application/pdf", "zip": "application/zip", "svg": "image/svg+xml"}
    plain = normalize("NFKD", name).encode("ascii", "ignore").decode()  # a head holds no other letters
    named = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(name)}"
    return Answer(data, kinds[name.rpartition(".")[2]], headers={"Content-Disposition": named})
