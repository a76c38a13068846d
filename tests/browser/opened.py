"""`lessonkit open` running on a folder of lessons, and a headless Chromium to look at it with."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

LESSONS = Path(__file__).parents[2] / "lessons"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
FLAGS = ("--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync")


@dataclass(frozen=True, slots=True)
class Opened:
    folder: Path
    address: str  # with the key
    process: subprocess.Popen[str]

    def read(self, file: str) -> str:
        return (self.folder / file).read_text(encoding="utf-8")


@contextmanager
def opened(folder: Path) -> Iterator[Opened]:
    """The command as she runs it, until the block ends."""
    command = [sys.executable, "-m", "lessonkit", "open", str(folder), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stdin=subprocess.DEVNULL, text=True) as process:
        try:
            assert process.stdout
            said = process.stdout.readline()
            assert "http://127.0.0.1:" in said, "lessonkit open did not start"
            yield Opened(folder, said.split()[-1], process)
        finally:
            process.terminate()


@contextmanager
def chromium() -> Iterator[Any]:
    """A browser with a fresh profile; there must be one (`CHROMIUM`). Its own sandbox is off: it can't be had in a container."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS), chromium_sandbox=False)
        yield browser
        browser.close()
