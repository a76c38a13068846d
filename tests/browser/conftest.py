"""One browser and one `lessonkit open` for all tests of the page; each test has its own window."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlsplit

import pytest

from tests.browser.opened import CHROMIUM, LESSONS, Opened, chromium, opened

PATIENCE_MS = 30_000  # a slow machine is no fault
TOLD = ("/try", "/save", "/silhouette")  # what is refused here, the page tells in words


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    if CHROMIUM is None:
        pytest.skip("there is no Chromium here (apt-get install chromium): the page is not looked at")
    from playwright.sync_api import expect

    expect.set_options(timeout=PATIENCE_MS)
    with chromium() as started:
        yield started


@pytest.fixture(scope="session")
def room(browser: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    folder = shutil.copytree(LESSONS, tmp_path_factory.mktemp("open") / "lessons")
    with opened(folder) as server:
        yield server


@pytest.fixture
def window(browser: Any) -> Iterator[Any]:
    """A window of desktop size, which may hold several tabs. None may ask anything of anybody but this computer, or do what the page's policy
    forbids."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, accept_downloads=True)
    context.set_default_timeout(PATIENCE_MS)
    asked: set[str] = set()
    said: list[str] = []
    context.on("request", lambda request: asked.add(request.url))
    context.on("console", lambda message: said.append(f"{message.location['url']}: {message.text}") if message.type in ("error", "warning") else None)
    context.on("weberror", lambda error: said.append(str(error.error)))
    yield context
    context.close()
    assert [url for url in asked if not url.startswith(("http://127.0.0.1:", "blob:http://127.0.0.1:", "data:"))] == []
    assert [words for words in said if not ("Failed to load resource" in words and urlsplit(words.split(": ")[0]).path in TOLD)] == []


@pytest.fixture
def page(window: Any, room: Opened) -> Any:
    """A tab with the shelf."""
    tab = window.new_page()
    tab.goto(room.address)
    tab.get_by_role("heading", name="Lessons").wait_for()
    return tab
