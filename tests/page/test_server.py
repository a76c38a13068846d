"""Who may ask, and how: nobody but the window that lessonkit opened."""

from __future__ import annotations

import json
import socket
import threading
import time
from pathlib import Path
from urllib.parse import quote

import pytest

from lessonkit.layout.stencils.document import StencilError
from lessonkit.page import lessons
from lessonkit.page.desk import Desk
from lessonkit.page.server import LARGEST_BODY
from tests.page.desk_for_tests import Browser, Reply

POSTS = ("/try", "/paper", "/save", "/silhouette", "/room", "/room/paper")
GETS = ("/", "/page.css", "/page.js", "/font/Andika-Regular.ttf", "/shelf", "/lesson?file=porthole.yaml", "/small?file=porthole.yaml", "/room")


def refused(reply: Reply, status: int) -> str:
    assert reply.status == status, reply
    assert set(reply.value["error"]) == {"what", "hint"}
    return f"{reply.value['error']['what']} {reply.value['error']['hint']}"


def test_the_address_with_its_key_gives_a_cookie_and_leads_to_the_page(browser: Browser) -> None:
    reply = browser.get(f"/?key={browser.server.key}", Cookie=None)
    assert (reply.status, reply.headers["Location"]) == (303, "/")
    cookie = reply.headers["Set-Cookie"]
    assert cookie == f"lessonkit-{browser.server.server_port}={browser.server.key}; HttpOnly; SameSite=Strict; Path=/"
    page = browser.get("/", Cookie=cookie.partition(";")[0])
    assert page.status == 200
    assert page.data.startswith(b"<!doctype html>")


def test_it_listens_on_this_computer_alone(browser: Browser) -> None:
    assert browser.server.socket.getsockname()[0] == "127.0.0.1"
    assert browser.server.address == f"http://127.0.0.1:{browser.server.server_port}/?key={browser.server.key}"
    assert len(browser.server.key) >= 32


@pytest.mark.parametrize("address", GETS)
def test_nothing_without_the_cookie(browser: Browser, address: str) -> None:
    assert browser.get(address).status == 200
    for cookie in (None, "", f"{browser.server.cookie}=", f"{browser.server.cookie}={'x' * 32}", f"other={browser.server.key}"):
        assert "address that was printed" in refused(browser.get(address, Cookie=cookie), 403)


@pytest.mark.parametrize("address", POSTS)
def test_nothing_can_be_sent_without_the_cookie(browser: Browser, address: str) -> None:
    refused(browser.post(address, {}, Cookie=None), 403)
    refused(browser.post(address, {}), 400)


def test_a_wrong_key(browser: Browser) -> None:
    for key in ("", "x", quote("ü"), browser.server.key[:-1]):
        refused(browser.get(f"/?key={key}"), 403)


def test_she_is_told_in_plain_words(browser: Browser) -> None:
    reply = browser.get("/", Cookie=None, Accept="text/html,*/*")
    assert reply.status == 403
    assert reply.headers["Content-Type"] == "text/plain; charset=utf-8"
    assert reply.data.decode().endswith("Open the address that was printed where lessonkit was started.\n")


@pytest.mark.parametrize("cookies", ["a b=c; {}", "$Version=1; {}", 'x="; {}', "é=ü; {}", "{}; session=1", "=;;{}"])
def test_cookies_of_other_programs_do_not_shut_her_out(browser: Browser, cookies: str) -> None:
    own = f"{browser.server.cookie}={browser.server.key}"
    assert browser.get("/shelf", Cookie=cookies.format(own)).status == 200


@pytest.mark.parametrize("host", ["localhost:{}", "127.0.0.1", "evil.example:{}", "127.0.0.1:{}.evil.example", "", None])
def test_only_under_its_own_name(browser: Browser, host: str | None) -> None:
    """A page elsewhere that has its own name point to this computer (DNS rebinding)."""
    name = host.format(browser.server.server_port) if host is not None else None
    refused(browser.get("/shelf", Host=name), 403)
    refused(browser.post("/try", {}, Host=name), 403)


@pytest.mark.parametrize("origin", ["http://localhost:{}", "http://127.0.0.1:1", "https://127.0.0.1:{}", "http://evil.example", "null", "", None])
def test_only_the_page_itself_may_send(browser: Browser, origin: str | None) -> None:
    assert "only the page itself" in refused(browser.post("/try", {}, Origin=origin and origin.format(browser.server.server_port)), 403)


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "", None])
def test_no_form_of_another_page_can_be_sent(browser: Browser, kind: str | None) -> None:
    refused(browser.post("/try", {}, Content_Type=kind), 415)


@pytest.mark.parametrize("site", ["same-site", "cross-site"])
def test_another_page_of_this_computer_can_not_look(browser: Browser, site: str) -> None:
    refused(browser.get("/shelf", Sec_Fetch_Site=site), 403)
    assert browser.get("/shelf", Sec_Fetch_Site="same-origin").status == 200


def test_what_is_sent_is_bounded(browser: Browser) -> None:
    assert "more than 3 MB" in refused(browser.post("/try", {}, Content_Length=str(LARGEST_BODY + 1)), 413)
    assert "more than 3 MB" in refused(browser.post("/try", {}, Content_Length="9" * 400), 413)
    for length in (None, "", "-1", "1e3", "²"):
        refused(browser.ask("POST", "/try", b"", Origin=f"http://{browser.server.host}", Content_Type="application/json", Content_Length=length), 411)
    chunked = {"Transfer_Encoding": "chunked", "Content_Length": None, "Origin": f"http://{browser.server.host}", "Content_Type": "application/json"}
    refused(browser.ask("POST", "/try", b"2\r\n{}\r\n0\r\n\r\n", **chunked), 411)


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"1", b"null", b"\xff", b"{}", b"[" * 100_000, b'{"file":1}', b'{"file":"a","more":1}'])
@pytest.mark.parametrize("address", POSTS)
def test_what_can_not_be_read_is_refused_whole(browser: Browser, address: str, body: bytes) -> None:
    assert "can't be read" in refused(browser.post(address, body), 400)


@pytest.mark.parametrize(
    "file",
    [
        "../porthole.yaml",
        "..",
        ".",
        "",
        "/etc/passwd",
        "/etc/hosts.yaml",
        "sub/porthole.yaml",
        "..\\porthole.yaml",
        "C:porthole.yaml",
        "porthole.yaml\0",
        ".hidden.yaml",
        "secret.txt",
        "linked.yaml",
        "%2e%2e/porthole.yaml",
        "no-such.yaml",
    ],
)
def test_no_name_leads_out_of_the_folder(browser: Browser, tmp_path: Path, file: str) -> None:
    folder = tmp_path / "lessons"
    (tmp_path / "porthole.yaml").write_text("title: Elsewhere\n")
    (folder / "secret.txt").write_text("title: Secret\n")
    (folder / ".hidden.yaml").write_text("title: Hidden\n")
    (folder / "sub").mkdir()
    (folder / "sub" / "porthole.yaml").write_text("title: Below\n")
    (folder / "linked.yaml").symlink_to(tmp_path / "porthole.yaml")
    for address in ("/lesson", "/small"):
        refused(browser.get(f"{address}?file={quote(file)}"), 404)
    refused(browser.post("/try", {"file": file, "mark": ""}), 404)
    refused(browser.post("/save", {"file": file, "mark": ""}), 404)
    assert b"linked" not in browser.get("/shelf").data


@pytest.mark.parametrize("address", ["/page.html", "/../server.py", "/%2e%2e/server.py", "/static/page.js", "/font/../fonts.py", "/font/", "*"])
def test_nothing_but_the_page_is_served(browser: Browser, address: str) -> None:
    refused(browser.get(address), 404)


def test_each_address_is_asked_in_one_way(browser: Browser) -> None:
    refused(browser.post("/shelf", {}), 405)
    refused(browser.get("/save"), 405)
    for method in ("PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "PROPFIND", "CONNECT"):
        refused(browser.ask(method, "/shelf"), 405)


def test_every_answer_says_what_the_browser_must_not_do(browser: Browser) -> None:
    replies = [*map(browser.get, GETS), browser.get("/shelf", Cookie=None), browser.get("/none"), browser.post("/try", b""), browser.ask("PUT", "/")]
    for reply in replies:
        policy = dict(part.strip().split(" ", 1) for part in reply.headers["Content-Security-Policy"].split(";"))
        assert policy["default-src"] == "'none'"
        assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == policy["font-src"] == "'self'"
        assert policy["frame-ancestors"] == policy["base-uri"] == policy["form-action"] == "'none'"
        assert reply.headers["X-Content-Type-Options"] == "nosniff"
        assert reply.headers["Referrer-Policy"] == "no-referrer"
        assert reply.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        fonts = reply.headers["Content-Type"] == "font/ttf"
        assert reply.headers["Cache-Control"] == ("max-age=86400" if fonts else "no-store")
        assert not {"Access-Control-Allow-Origin", "Set-Cookie"} & set(reply.headers)
        assert "Python" not in str(reply.headers["Server"])


def test_the_page_asks_nobody_else_and_has_nothing_inside_that_is_forbidden(browser: Browser) -> None:
    page = browser.get("/").data.decode()
    assert "<style" not in page
    assert "style=" not in page
    assert "onclick" not in page
    assert "<script>" not in page
    assert "//" not in page.replace("<!doctype", "").replace("https://www.w3.org", "").replace("http://www.w3.org", "")
    assert browser.get("/page.js").headers["Content-Type"] == "text/javascript; charset=utf-8"


def test_odd_requests_end_in_words_or_in_nothing(browser: Browser) -> None:
    long, many = b"GET " + b"/" * 70_000 + b" HTTP/1.1\r\n\r\n", b"GET / HTTP/1.1\r\n" + b"a: b\r\n" * 200 + b"\r\n"
    for sent in (b"\r\n\r\n", b"GARBAGE\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", long, many):
        with socket.create_connection(("127.0.0.1", browser.server.server_port), timeout=10) as connection:
            connection.sendall(sent)
            connection.shutdown(socket.SHUT_WR)
            answer = b"".join(iter(lambda: connection.recv(65536), b""))
        assert answer == b"" or b"this is no request" in answer or b"belongs to the window" in answer
    assert browser.get("/shelf").status == 200


def test_many_requests_on_one_connection(browser: Browser) -> None:
    head = f"GET /shelf HTTP/1.1\r\nHost: {browser.server.host}\r\nCookie: {browser.server.cookie}={browser.server.key}\r\n\r\n".encode()
    with socket.create_connection(("127.0.0.1", browser.server.server_port), timeout=10) as connection:
        connection.sendall(head * 3)
        connection.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    assert answer.count(b"HTTP/1.1 200 OK") == 3


def test_a_fault_inside_says_so_and_the_next_request_works(browser: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise ZeroDivisionError("secret words")

    monkeypatch.setitem(browser.server.answers, ("GET", "/shelf"), fails)
    reply = browser.get("/shelf")
    assert "went wrong inside lessonkit" in refused(reply, 500)
    assert b"secret" not in reply.data
    assert browser.get("/room").status == 200


def test_a_stencil_without_room_for_its_words_is_told(browser: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    def unfit(*_: object) -> None:
        raise StencilError("the words leave no room.", "Shorten its names and notes.", 0)

    monkeypatch.setitem(browser.server.answers, ("GET", "/shelf"), unfit)
    assert "Shorten its names and notes." in refused(browser.get("/shelf"), 422)


def test_every_json_answer_carries_its_format(browser: Browser) -> None:
    for reply in (browser.get("/shelf"), browser.get("/room"), browser.get("/none"), browser.post("/save", {"file": "porthole.yaml", "mark": ""})):
        assert json.loads(reply.data)["format"] == 1


def test_one_at_a_time_works_at_the_desk(browser: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    """The libraries that draw are not made for two threads."""
    inside: list[int] = []
    at_once: list[int] = []

    def slow(_: Desk) -> dict[str, object]:
        inside.append(1)
        at_once.append(len(inside))
        time.sleep(0.02)
        inside.pop()
        return {}

    monkeypatch.setattr(lessons, "shelf", slow)
    threads = [threading.Thread(target=browser.get, args=("/shelf",)) for _ in range(5)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert at_once == [1, 1, 1, 1, 1]
