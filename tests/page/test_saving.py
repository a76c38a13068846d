"""Her changes kept: whole or not at all, and never over what somebody else wrote meanwhile."""

from __future__ import annotations

import multiprocessing
import os
import threading
import time
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from lessonkit.cli.commands import main
from lessonkit.page import saving
from lessonkit.page.desk import Desk
from lessonkit.page.refused import Refused
from tests.lessons_for_tests import FRAME
from tests.page.desk_for_tests import CIRCLE, Browser, Reply


def save(browser: Browser, mark: str | None = None, written: str = "170 mm", **more: Any) -> Reply:
    mark = mark or browser.get("/lesson?file=porthole.yaml").value["mark"]
    return browser.post("/save", {"file": "porthole.yaml", "mark": mark, "changes": [{"path": CIRCLE, "written": written}], **more})


def test_a_change_is_kept_and_check_passes(browser: Browser, desk: Desk) -> None:
    path = desk.folder / "porthole.yaml"
    path.write_text(FRAME.replace("160 mm}}", "160 mm}}   # fired"))
    reply = save(browser)
    assert reply.status == 200
    assert path.read_text() == FRAME.replace("160 mm}}", "170 mm}}   # fired")
    assert reply.value == {"format": 1, "file": "porthole.yaml", "mark": browser.get("/lesson?file=porthole.yaml").value["mark"]}
    result = CliRunner().invoke(main, ["check", str(path)])
    assert (result.exit_code, result.output) == (0, "1 lesson: nothing wrong.\n")
    assert sorted(os.listdir(desk.folder)) == ["porthole.yaml", "reed-pot.yaml", "room.yaml"]


def test_a_copy_under_a_name_of_her_own(browser: Browser, desk: Desk) -> None:
    reply = save(browser, **{"as": "My porthole.yaml"})
    assert reply.value["file"] == "My porthole.yaml"
    assert (desk.folder / "porthole.yaml").read_text() == FRAME
    assert (desk.folder / "My porthole.yaml").read_text() == FRAME.replace("160 mm", "170 mm")
    again = save(browser, **{"as": "My porthole.yaml"})
    assert again.status == 409
    assert again.value["error"] == {"what": "My porthole.yaml is there already and is left as it is.", "hint": "Choose another name."}
    assert save(browser, **{"as": "porthole.yaml"}).status == 409


def test_the_clay_is_written_into_the_lesson(browser: Browser, desk: Desk) -> None:
    assert save(browser, clay="white low-fire").status == 200
    assert "\nclay: white low-fire\n" in (desk.folder / "porthole.yaml").read_text()


@pytest.mark.parametrize(
    "name",
    [
        *("", ".yaml", "a.txt", "a", "../a.yaml", "a/b.yaml", "a\\b.yaml", "a.es.yaml", ".a.yaml", "con.yaml", "NUL.yaml", "room.yaml"),
        *("a\0.yaml", "a .yaml", "a:b.yaml", f"{'x' * 150}.yaml"),
    ],
)
def test_names_that_are_none(browser: Browser, desk: Desk, name: str) -> None:
    reply = save(browser, **{"as": name})
    assert reply.status == 422
    assert "can't be a lesson's file name" in reply.value["error"]["what"]
    assert sorted(path.name for path in desk.folder.parent.rglob("*.*")) == ["porthole.yaml", "reed-pot.yaml", "room.yaml"]


def test_a_lesson_with_a_fault_is_not_kept(browser: Browser, desk: Desk) -> None:
    for written in ("170", "", "30 mm"):
        reply = save(browser, written=written)
        assert reply.status == 422
        assert reply.value["problems"]
        assert all(problem["what"] and problem["line"] for problem in reply.value["problems"])
    assert save(browser, written="a\tb").status == 422
    assert (desk.folder / "porthole.yaml").read_text() == FRAME


def test_a_file_changed_meanwhile_is_left_alone(browser: Browser, desk: Desk) -> None:
    mark = browser.get("/lesson?file=porthole.yaml").value["mark"]
    (desk.folder / "porthole.yaml").write_text(FRAME + "season: Winter\n")
    for more in ({}, {"as": "other.yaml"}):
        reply = save(browser, mark, **more)
        assert reply.status == 409
        assert "changed meanwhile" in reply.value["error"]["what"]
    assert (desk.folder / "porthole.yaml").read_text() == FRAME + "season: Winter\n"
    (desk.folder / "porthole.yaml").unlink()
    assert save(browser, mark).status == 404


def test_two_windows(browser: Browser, desk: Desk) -> None:
    """The second to save is told; once it has read the lesson again, it saves on top of the first."""
    one, two = (browser.get("/lesson?file=porthole.yaml").value["mark"] for _ in range(2))
    assert save(browser, one, "150 mm").status == 200
    assert save(browser, two, "140 mm").status == 409
    assert "150 mm" in (desk.folder / "porthole.yaml").read_text()
    assert save(browser, None, "140 mm").status == 200
    assert "140 mm" in (desk.folder / "porthole.yaml").read_text()


def test_many_windows_at_once_make_one_winner(browser: Browser, desk: Desk) -> None:
    mark = browser.get("/lesson?file=porthole.yaml").value["mark"]
    replies: list[tuple[str, int]] = []

    def one(written: str) -> None:
        replies.append((written, save(browser, mark, written).status))

    threads = [threading.Thread(target=one, args=(f"{150 + number} mm",)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    winners = [written for written, status in replies if status == 200]
    assert len(replies) == 8
    assert len(winners) == 1
    assert {status for _, status in replies} == {200, 409}
    assert (desk.folder / "porthole.yaml").read_text() == FRAME.replace("160 mm", winners[0])


def test_who_may_read_it_stays_hers_to_say(browser: Browser, desk: Desk) -> None:
    path = desk.folder / "porthole.yaml"
    path.chmod(0o600)
    assert save(browser).status == 200
    assert path.stat().st_mode & 0o777 == 0o600


def test_a_file_that_appears_or_changes_at_the_last_moment(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_bytes(b"theirs")
    with pytest.raises(Refused, match="changed meanwhile"):
        saving.keep(tmp_path, {"a.yaml": b"ours", "b.yaml": b"ours"}, {"a.yaml": b"hers", "b.yaml": None})
    with pytest.raises(Refused, match="there already"):
        saving.keep(tmp_path, {"b.yaml": b"ours", "a.yaml": b"ours"}, {"b.yaml": None, "a.yaml": None})
    with pytest.raises(Refused, match="changed meanwhile"):
        saving.keep(tmp_path, {"c.yaml": b"ours"}, {"c.yaml": b"hers"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a.yaml": b"theirs"}


def test_a_disk_that_is_full_changes_nothing(browser: Browser, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    reply = save(browser)
    assert reply.status == 500
    assert reply.value["error"]["what"] == "porthole.yaml could not be written: No space left on device. Nothing was changed."
    assert {path.name for path in desk.folder.iterdir()} == {"porthole.yaml", "reed-pot.yaml", "room.yaml"}
    assert (desk.folder / "porthole.yaml").read_text() == FRAME


def save_for_ever(folder: Path, ready: Any) -> None:
    now = (folder / "big.yaml").read_bytes()
    ready.set()
    for number in count():
        new = bytes([97 + number % 26]) * 400_000
        saving.keep(folder, {"big.yaml": new}, {"big.yaml": now})
        now = new


def test_killed_in_the_middle_it_is_the_old_file_or_the_new(tmp_path: Path) -> None:
    """Thirty kills at odd moments of a run that does nothing but save."""
    path = tmp_path / "big.yaml"
    path.write_bytes(b"a" * 400_000)
    fork = multiprocessing.get_context("fork")
    for kill in range(30):
        ready = fork.Event()
        run = fork.Process(target=save_for_ever, args=(tmp_path, ready))
        run.start()
        assert ready.wait(30)
        time.sleep(0.0011 * kill)
        run.kill()
        run.join()
        data = path.read_bytes()
        assert len(data) == 400_000
        assert len(set(data)) == 1
    assert set(path.read_bytes()) != {ord("a")}
    saving.keep(tmp_path, {"big.yaml": b"whole"}, {"big.yaml": path.read_bytes()})
    assert [found.name for found in tmp_path.iterdir()] == ["big.yaml"]  # what the killed runs left is swept
