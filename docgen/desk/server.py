"""One page for one person on this machine: a server on the loopback address, for as long as a sheet is looked through.

Whoever else has an account here, or sends the browser to this address from another page, gets nothing:

- It listens on 127.0.0.1 alone, on a port that the system picks.
- The address that is opened holds a token that is good once. It is exchanged for a cookie that scripts cannot read and
  that no other site's page sends (SameSite=Strict); without it every answer is 403.
- A request must name this very address as its Host (no name that leads here is good: DNS rebinding), and one that
  changes something must come from this page (Origin) as JSON (which a form of another site cannot send).
- The page may load from this address only, run no script but its own file, and be framed by nobody.
"""

import json
import secrets
from http.cookies import CookieError, SimpleCookie
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Event, Lock
from typing import Any

from docgen.club.store import StoreError
from docgen.desk.entry import Entry
from docgen.desk.filing import not_written
from docgen.sheets.jinja import fill

LOOPBACK = "127.0.0.1"
MAX_BODY = 1024 * 1024
"""The most that is read of what the page sends, bytes."""
PATIENCE = 20.0
"""Seconds that a connection may stand idle."""
_COOKIE = "docgen-desk"
_ON = b'<!DOCTYPE html><html lang="en"><title>docgen</title><meta http-equiv="refresh" content="0; url=/">'
"""Goes on to the page. A redirect would count as the other site's that led here, and leave the cookie behind."""
_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}


class Desk(ThreadingHTTPServer):
    """Shows one entry until it is filed or left. ``address`` is what a browser opens, once."""

    daemon_threads = True

    def __init__(self, entry: Entry) -> None:
        super().__init__((LOOPBACK, 0), _Answers)
        self.entry = entry
        self.done = Event()
        self.changing = Lock()
        self.host = f"{LOOPBACK}:{self.server_port}"
        self.cookie = secrets.token_urlsafe(32)
        self._token = secrets.token_urlsafe(32)
        self._lock = Lock()

    @property
    def address(self) -> str:
        """What to open."""
        return f"http://{self.host}/open/{self._token}"

    def spent(self, token: str) -> bool:
        """Take the token, if it is the right one and the first time."""
        with self._lock:
            right = bool(self._token) and secrets.compare_digest(token.encode(), self._token.encode())
            if right:
                self._token = ""
            return right

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that hangs up is nobody's fault."""


class _Answers(BaseHTTPRequestHandler):
    server: Desk
    timeout = PATIENCE
    protocol_version = "HTTP/1.1"
    server_version, sys_version = "docgen", ""

    def do_GET(self) -> None:
        if not self._from_here():
            return
        if self.path.startswith("/open/"):
            if self.server.spent(self.path.removeprefix("/open/")):
                cookie = f"{_COOKIE}={self.server.cookie}; HttpOnly; SameSite=Strict; Path=/"
                self._send(200, _ON, "text/html; charset=utf-8", {"Set-Cookie": cookie})
            else:
                self._refuse("this address was opened before; start the command again")
            return
        if not self._known():
            return
        faces = {f"/page-{page}.jpg": jpeg for page, jpeg in self.server.entry.faces.items()}
        if self.path == "/":
            self._send(200, self.server.entry.page().encode(), "text/html; charset=utf-8")
        elif self.path in ("/entry.css", "/entry.js"):
            kind = "text/css" if self.path.endswith("css") else "text/javascript"
            self._send(200, fill(f"{self.path[1:]}.j2").encode(), f"{kind}; charset=utf-8")
        elif self.path in faces:
            self._send(200, faces[self.path], "image/jpeg")
        elif self.path == "/favicon.ico":  # every browser asks
            self._send(204, b"", "image/x-icon")
        else:
            self._send(404, b"there is nothing here", "text/plain")

    def do_POST(self) -> None:
        if not self._from_here() or not self._known():
            return
        origin, kind = self.headers.get("Origin", ""), self.headers.get("Content-Type", "")
        if origin != f"http://{self.server.host}" or kind.partition(";")[0].strip() != "application/json":
            self._refuse("only the page itself may send anything here")
            return
        asked = self._body()
        if asked is None:
            return
        with self.server.changing:
            answer = self._answer(asked)
        if answer is None:
            self._send(404, b"there is nothing here", "text/plain")
            return
        self._send(200, json.dumps(answer).encode(), "application/json")
        if answer.get("left") or answer.get("filed"):
            self.server.done.set()

    def _answer(self, asked: dict[str, Any]) -> dict[str, Any] | None:
        answers = {str(k): str(v) for k, v in dict(asked.get("answers") or {}).items()}
        try:
            if self.path == "/check":
                return self.server.entry.check(answers)
            if self.path == "/file":
                if self.server.entry.filed:
                    return {"filed": ", ".join(self.server.entry.filed), "said": [], "text": "Already filed."}
                accepted = [str(one) for one in asked.get("accepted") or ()]
                closed = [one for one in asked.get("closed") or () if isinstance(one, int)]
                return self.server.entry.file(answers, accepted, closed)
        except (StoreError, OSError) as error:
            return {"filed": "", "said": [vars(not_written(error))]}
        return {"left": True, "text": self.server.entry.text} if self.path == "/leave" else None

    def _body(self) -> dict[str, Any] | None:
        length = self.headers.get("Content-Length", "")
        if not length.isascii() or not length.isdigit() or int(length) > MAX_BODY:
            self._send(413, b"that is too much", "text/plain", {"Connection": "close"})
            return None
        try:
            found = json.loads(self.rfile.read(int(length)))
            if isinstance(found, dict) and isinstance(found.get("answers") or {}, dict):
                return found
        except (ValueError, RecursionError):
            pass
        self._send(400, b"that is not what the page sends", "text/plain")
        return None

    def _from_here(self) -> bool:
        """Whether the browser was sent to this very address, and not to a name that leads here."""
        if self.headers.get("Host", "") == self.server.host:
            return True
        self._refuse("this is not the address that was opened")
        return False

    def _known(self) -> bool:
        """Whether this is the browser that opened the address."""
        cookie: SimpleCookie = SimpleCookie()
        try:
            cookie.load(self.headers.get("Cookie", ""))
        except CookieError:
            cookie = SimpleCookie()
        given = cookie[_COOKIE].value if _COOKIE in cookie else ""
        if secrets.compare_digest(given.encode(), self.server.cookie.encode()):
            return True
        self._refuse("open the address that the command printed")
        return False

    def _refuse(self, why: str) -> None:
        self._send(403, why.encode(), "text/plain; charset=utf-8", {"Connection": "close"})

    def _send(self, status: int, body: bytes, kind: str, more: dict[str, str] | None = None) -> None:
        self.send_response(status)
        for name, value in {**_HEADERS, "Content-Type": kind, "Content-Length": str(len(body)), **(more or {})}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is written down of what the page asks for."""
