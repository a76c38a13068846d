"""A folder of lessons on the disk, the desk that it lies on, and a browser's way of asking."""

from __future__ import annotations

import http.client
import json
import shutil
from pathlib import Path
from typing import Any, NamedTuple

from lessonkit.cli.files import lesson_paths, room_path, source
from lessonkit.page.desk import Desk
from lessonkit.page.server import PageServer
from tests.lessons_for_tests import FRAME, POT, ROOM

LESSONS = Path(__file__).parents[2] / "lessons"
CIRCLE = ["pieces", 0, "flat", "outline", "circle", "across"]
TRIANGLE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M50 5 L95 95 L5 95 Z"/></svg>'


def desk_in(folder: Path, with_room: bool = True) -> Desk:
    """With porthole.yaml and reed-pot.yaml."""
    folder.mkdir(exist_ok=True)
    if with_room:
        (folder / "room.yaml").write_text(ROOM)
    (folder / "porthole.yaml").write_text(FRAME)
    (folder / "reed-pot.yaml").write_text(POT)
    return desk_of(folder)


def desk_of(folder: Path) -> Desk:
    folder = folder.resolve()
    room = folder / "room.yaml"
    return Desk(folder, room_path(folder / "here") if room.is_file() else None, lesson_paths, source)


def whole_shelf(folder: Path) -> Desk:
    """A copy of the lessons that come with the program."""
    shutil.copytree(LESSONS, folder)
    return desk_of(folder)


class Reply(NamedTuple):
    status: int
    headers: http.client.HTTPMessage
    data: bytes

    @property
    def value(self) -> Any:
        return json.loads(self.data)


class Browser:
    """One window of the page. Whatever a browser would send can be changed or left out (None)."""

    def __init__(self, server: PageServer) -> None:
        self.server = server

    def ask(self, method: str, address: str, body: bytes | None = None, **headers: str | None) -> Reply:
        sent = {"Host": self.server.host, "Cookie": f"{self.server.cookie}={self.server.key}"}
        sent |= {name.replace("_", "-"): value for name, value in headers.items()}  # type: ignore[dict-item]
        connection = http.client.HTTPConnection("127.0.0.1", self.server.server_port, timeout=30)
        try:
            connection.putrequest(method, address, skip_host=True, skip_accept_encoding=True)
            for name, value in sent.items():
                if value is not None:
                    connection.putheader(name, value)
            if body is not None and "Content-Length" not in sent:
                connection.putheader("Content-Length", str(len(body)))
            connection.endheaders(body)
            answer = connection.getresponse()
            return Reply(answer.status, answer.headers, answer.read())
        finally:
            connection.close()

    def get(self, address: str, **headers: str | None) -> Reply:
        return self.ask("GET", address, **headers)

    def post(self, address: str, value: Any, **headers: str | None) -> Reply:
        usual = {"Origin": f"http://{self.server.host}", "Content_Type": "application/json"}
        body = value if isinstance(value, bytes) else json.dumps(value).encode()
        return self.ask("POST", address, body, **{**usual, **headers})
