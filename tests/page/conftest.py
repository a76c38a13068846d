"""A server in a thread, for each test its own folder."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from lessonkit.page.desk import Desk
from lessonkit.page.server import PageServer
from tests.page.desk_for_tests import Browser, desk_in


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_in(tmp_path / "lessons")


@pytest.fixture
def browser(desk: Desk) -> Iterator[Browser]:
    with PageServer(desk) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        yield Browser(server)
        server.shutdown()
        thread.join()
