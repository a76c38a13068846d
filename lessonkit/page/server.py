"""The server that the page comes from: this computer's own, for this computer's own browser, and for nobody else.

It listens on 127.0.0.1 alone, at a port that the system picks. Whoever has the address that was printed, with its key, gets a cookie; without
it there is nothing but words. A page from elsewhere in the same browser can neither read nor send anything: Host, Origin and the type of what
is sent are looked at, and the cookie does not travel across sites.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Callable
from functools import partial
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qs, urlsplit

from lessonkit.layout.stencils.document import StencilError
from lessonkit.page.answers import Answer, answers
from lessonkit.page.desk import Desk
from lessonkit.page.refused import Refused

LARGEST_BODY = 3_000_000
IDLE_S = 60.0
_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'none'; frame-ancestors 'none'; base-uri 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
_CLOSED = Refused(403, "this page belongs to the window that lessonkit opened.", "Open the address that was printed where lessonkit was started.")


class PageServer(ThreadingHTTPServer):
    """Serves one desk until it is shut down. Raises OSError where no port can be had."""

    daemon_threads = True

    def __init__(self, desk: Desk) -> None:
        super().__init__(("127.0.0.1", 0), _Handler)
        self.key = secrets.token_urlsafe(24)
        self.host = f"127.0.0.1:{self.server_port}"
        self.cookie = f"lessonkit-{self.server_port}"
        self.answers: dict[tuple[str, str], Callable[[dict[str, str], bytes], Answer]] = answers(desk)

    @property
    def address(self) -> str:
        """With the key: for her alone."""
        return f"http://{self.host}/?key={self.key}"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that went away in the middle is no news."""


class _Handler(BaseHTTPRequestHandler):
    server: PageServer
    protocol_version = "HTTP/1.1"
    server_version, sys_version = "lessonkit", ""
    disable_nagle_algorithm = True  # else every answer waits for the browser to say that it has the head
    timeout = IDLE_S

    def do_GET(self) -> None:
        self._answered(partial(self._get))

    def do_POST(self) -> None:
        self._answered(partial(self._post))

    def log_message(self, *_: Any) -> None:
        """Nothing is written down."""

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """What is no request that the page makes; GET and POST are all there is."""
        self.close_connection = True
        self._send(_refusal(Refused(405 if code == 501 else code, "this is no request that the page makes.", "Load the page again.")))

    def _answered(self, made: Callable[[], Answer]) -> None:
        try:
            answer = made()
        except Refused as refused:
            in_words = "text/html" in self.headers.get("Accept", "")  # she looks at it herself, and not the page
            answer = _refusal(refused, in_words)
        except StencilError as unfit:
            answer = _refusal(Refused(422, unfit.what, unfit.hint))
        except Exception:
            fault = "something went wrong inside lessonkit, and nothing was changed."
            answer = _refusal(Refused(500, fault, "Load the page again; if it comes back, lessonkit check tells more."))
        self._send(answer)

    def _get(self) -> Answer:
        parts = urlsplit(self.path)
        asked = {name: values[-1] for name, values in parse_qs(parts.query, keep_blank_values=True).items()}
        self._from_here()
        if parts.path == "/" and "key" in asked:
            if not secrets.compare_digest(asked["key"].encode(), self.server.key.encode()):
                raise _CLOSED
            cookie = f"{self.server.cookie}={self.server.key}; HttpOnly; SameSite=Strict; Path=/"
            return Answer(b"", "text/plain; charset=utf-8", 303, {"Location": "/", "Set-Cookie": cookie})
        self._with_cookie()
        return self._of("GET", parts.path)(asked, b"")

    def _post(self) -> Answer:
        try:
            self._from_here()
            self._with_cookie()
            if self.headers.get("Origin") != f"http://{self.server.host}":
                raise Refused(403, "only the page itself may ask for this.", "Load the page again.")
            if self.headers.get_content_type() != "application/json":
                raise Refused(415, "only JSON is taken here.", "Load the page again.")
            answer = self._of("POST", urlsplit(self.path).path)
            length = self._length()
        except Refused:
            self.close_connection = True  # what was sent is not read
            raise
        return answer({}, self.rfile.read(length))

    def _from_here(self) -> None:
        """A page that has made its own name point to this computer still sends that name."""
        if self.headers.get_all("Host") != [self.server.host]:
            raise _CLOSED

    def _with_cookie(self) -> None:
        """The cookies of other programs on this computer come along; whatever is in them must not shut her out."""
        pairs = (cookie.strip().partition("=") for cookie in self.headers.get("Cookie", "").split(";"))
        found = next((value for name, _, value in pairs if name == self.server.cookie), "")
        if not secrets.compare_digest(found.encode(), self.server.key.encode()):
            raise _CLOSED
        if self.headers.get("Sec-Fetch-Site", "none") not in ("none", "same-origin"):
            raise _CLOSED

    def _of(self, method: str, path: str) -> Callable[[dict[str, str], bytes], Answer]:
        if found := self.server.answers.get((method, path)):
            return found
        if any(other == path for _, other in self.server.answers):
            raise Refused(405, "this address is asked in another way.", "Load the page again.")
        raise Refused(404, "there is nothing at this address.", "Load the page again.")

    def _length(self) -> int:
        length = self.headers.get("Content-Length", "")
        if not (length.isascii() and length.isdigit()) or self.headers.get("Transfer-Encoding"):
            raise Refused(411, "it is not said how much is sent.", "Load the page again.")
        if int(length) > LARGEST_BODY:
            hint = "Is it the right file? A silhouette is one closed line: save it without pictures."
            raise Refused(413, f"this is more than {LARGEST_BODY // 1_000_000} MB.", hint)
        return int(length)

    def _send(self, answer: Answer) -> None:
        self.send_response(answer.status)
        headers = {"Cache-Control": "no-store", **_HEADERS, "Content-Type": answer.kind, "Content-Length": str(len(answer.data)), **answer.headers}
        if self.close_connection:
            headers["Connection"] = "close"
        for name, value in headers.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(answer.data)


def _refusal(refused: Refused, in_words: bool = False) -> Answer:
    if in_words:
        return Answer(f"{refused.what} {refused.hint}\n".encode(), "text/plain; charset=utf-8", refused.status)
    problems = [{"what": problem.what, "hint": problem.hint, "line": problem.span.line, "field": None} for problem in refused.problems]
    value = {"format": 1, "error": {"what": refused.what, "hint": refused.hint}, "problems": problems}
    return Answer(json.dumps(value, ensure_ascii=False).encode(), "application/json; charset=utf-8", refused.status)
