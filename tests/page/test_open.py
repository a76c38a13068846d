"""`lessonkit open`: the address printed, the browser opened, Ctrl-C the end."""

from __future__ import annotations

import http.client
import re
import signal
import subprocess
import sys
import webbrowser
from pathlib import Path

import pytest
from click.testing import CliRunner

from lessonkit.cli.commands import main
from lessonkit.page.server import PageServer
from tests.lessons_for_tests import FRAME, ROOM
from tests.page.desk_for_tests import desk_in

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(("place", "first"), [(".", None), ("porthole.yaml", "porthole.yaml")])
def test_it_serves_until_ctrl_c_and_writes_no_log(tmp_path: Path, place: str, first: str | None) -> None:
    folder = desk_in(tmp_path / "lessons").folder
    command = [sys.executable, "-m", "lessonkit", "open", str(folder / place), "--no-browser"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        found = re.fullmatch(r"Open this in your browser: http://(127\.0\.0\.1:\d+)/\?key=(\S+)\n", run.stdout.readline())
        assert found is not None
        connection = http.client.HTTPConnection(found[1], timeout=30)
        for address in (f"/?key={found[2]}", "/nothing"):
            connection.request("GET", address)
            reply = connection.getresponse()
            reply.read()
        connection.request("GET", "/shelf", headers={"Cookie": f"lessonkit-{found[1].partition(':')[2]}={found[2]}"})
        reply = connection.getresponse()
        assert reply.status == 200
        assert (f'"open": "{first}"' if first else '"open": null') in reply.read().decode()
        run.send_signal(signal.SIGINT)
        rest, errors = run.stdout.read(), run.stderr.read()
    assert (run.returncode, rest, errors) == (0, "Ctrl-C closes it.\n\nClosed.\n", "")


def ended_at_once(monkeypatch: pytest.MonkeyPatch, has_browser: bool) -> list[str]:
    opened: list[str] = []

    def stop(_: PageServer) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(PageServer, "serve_forever", stop)
    monkeypatch.setattr(webbrowser, "open", lambda address: opened.append(address) or has_browser)
    return opened


@pytest.mark.parametrize("has_browser", [True, False])
def test_the_browser_is_opened_and_the_address_printed_in_any_case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, has_browser: bool) -> None:
    opened = ended_at_once(monkeypatch, has_browser)
    result = CliRunner().invoke(main, ["open", str(desk_in(tmp_path / "lessons").folder)])
    assert result.exit_code == 0
    (address,) = opened
    assert result.output.startswith(f"{'Opened' if has_browser else 'Open this in your browser'}: {address}\n")


def test_a_room_of_her_choice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[Path | None] = []
    before = PageServer.__init__
    ended_at_once(monkeypatch, True)
    monkeypatch.setattr(PageServer, "__init__", lambda self, desk: (seen.append(desk.room), before(self, desk))[1])
    room = tmp_path / "other.yaml"
    room.write_text(ROOM)
    assert CliRunner().invoke(main, ["open", str(desk_in(tmp_path / "lessons").folder), "--room", str(room)]).exit_code == 0
    assert seen == [room]


def test_a_folder_without_lessons(tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["open", str(tmp_path)])
    assert result.exit_code == 2
    assert "no lesson files here. Name their folder, or start with: lessonkit new my-lesson.yaml" in result.output


def test_help_loads_nothing_of_it(tmp_path: Path) -> None:
    (tmp_path / "porthole.yaml").write_text(FRAME)
    code = """
import sys
from lessonkit.cli.commands import main
for words in (["--help"], ["open", "--help"]):
    main(words, standalone_mode=False)
print([name for name in sys.modules if name.startswith(("lessonkit.page", "http.server", "pydantic", "webbrowser"))])
"""
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "Ctrl-C here closes it" in run.stdout
    assert run.stdout.endswith("\n[]\n")
