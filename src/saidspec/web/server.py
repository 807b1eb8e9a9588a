"""The review page on this machine alone: a small server on the loopback address, for one person and one run."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qs, urlsplit

from saidspec.model import UnusableInput
from saidspec.record.place import open_record
from saidspec.record.review_queries import note_of_fact, note_of_flag
from saidspec.report.keeping import renew_flags
from saidspec.web.answers import answer_fact, answer_flag
from saidspec.web.guard import COOKIE, HEADERS, RefusedError, Session, fields_of, known, length_of, own_host, own_page
from saidspec.web.guard import same as same_secret
from saidspec.web.pages import environment, list_page, note_page, page_of

PATIENCE = 15.0  # seconds for a request to arrive


class ReviewServer(ThreadingHTTPServer):
    """The server of one session, on the loopback address."""

    daemon_threads = True

    def __init__(self, session: Session, port: int = 0) -> None:
        super().__init__(("127.0.0.1", port), Handler)
        self.session = session

    @property
    def address(self) -> str:
        """The address to open in a browser."""
        return f"http://127.0.0.1:{self.server_port}/start?key={self.session.key}"


class Handler(BaseHTTPRequestHandler):
    """One request."""

    server: ReviewServer
    timeout = PATIENCE
    server_version = "saidspec"
    sys_version = ""

    def do_GET(self) -> None:
        """Show a page."""
        self._answered(self._get)

    def do_POST(self) -> None:
        """Take an answer."""
        self._answered(self._post)

    def _answered(self, action: Callable[[], None]) -> None:
        try:
            own_host(self.headers, self.server.server_port)
            action()
        except RefusedError as refused:
            self._send(f"{refused.line}\n", refused.status, "text/plain")
        except UnusableInput as problem:
            self._send(f"{problem}\n", HTTPStatus.BAD_REQUEST, "text/plain")
        except sqlite3.OperationalError as error:
            line = f"the record is busy ({error}): go back and try again\n"
            self._send(line, HTTPStatus.SERVICE_UNAVAILABLE, "text/plain")

    def _get(self) -> None:
        parts = urlsplit(self.path)
        asked = parse_qs(parts.query)
        if parts.path == "/start":
            if not same_secret(asked.get("key", [""])[0], self.server.session.key):
                raise RefusedError(HTTPStatus.FORBIDDEN, "this key is of another run: open the printed address")
            self._moved("/", cookie=True)
            return
        known(self.headers, self.server.session)
        if parts.path == "/":
            self._send(self._read(list_page))
        elif parts.path == "/style.css":
            text = "".join(environment().get_template(name).render() for name in ("style.css", "review.css"))
            self._send(text, kind="text/css")
        elif parts.path.startswith("/note/"):
            page = asked.get("page", ["1"])[0]
            self._note(_id(parts.path, "/note/"), int(page) if page.isdecimal() and len(page) < 7 else 1)
        else:
            raise RefusedError(HTTPStatus.NOT_FOUND, "there is no such page: open / for the notes")

    def _post(self) -> None:
        answer = fields_of(self.rfile.read(length_of(self.headers)))
        known(self.headers, self.server.session)
        own_page(self.headers, self.server.server_port, answer, self.server.session)
        path, person = urlsplit(self.path).path, self.server.session.person
        if path.startswith("/fact/"):
            number = _id(path, "/fact/")
            self._stored(f"fact-{number}", lambda conn: note_of_fact(conn, number),
                         lambda conn, note: _answered_fact(conn, note, number, answer, person),
                         lambda conn, note: page_of(conn, note, number))  # fmt: skip
        elif path.startswith("/flag/"):
            number = _id(path, "/flag/")
            self._stored(f"flag-{number}", lambda conn: note_of_flag(conn, number),
                         lambda conn, _note: answer_flag(conn, number, answer, person),
                         lambda _conn, _note: 1)  # fmt: skip
        else:
            raise RefusedError(HTTPStatus.NOT_FOUND, "nothing takes answers here")

    def _stored(
        self, anchor: str, note_of: Callable[[sqlite3.Connection], int | None],
        store: Callable[[sqlite3.Connection, int], None], page_at: Callable[[sqlite3.Connection, int], int],
    ) -> None:  # fmt: skip
        """Store an answer and go back to where it was given; with what was wrong where it cannot be stored."""
        conn = open_record(self.server.session.record, create=False)
        try:
            note = note_of(conn)
            if note is None:
                raise RefusedError(HTTPStatus.NOT_FOUND, "that is not in the record any more: load the page again")
            page = page_at(conn, note)
            try:
                store(conn, note)
            except UnusableInput as problem:
                text = note_page(conn, note, page, self.server.session.token, str(problem), anchor) or ""
                self._send(text, HTTPStatus.BAD_REQUEST)
                return
        finally:
            conn.close()
        self._moved(f"/note/{note}?page={page}#{anchor}")

    def _note(self, note: int, page: int) -> None:
        text = self._read(lambda conn: note_page(conn, note, page, self.server.session.token))
        if text is None:
            raise RefusedError(HTTPStatus.NOT_FOUND, "there is no such note: open / for the notes")
        self._send(text)

    def _read(self, made: Callable[[sqlite3.Connection], Any]) -> Any:
        conn = open_record(self.server.session.record, create=False)
        try:
            return made(conn)
        finally:
            conn.close()

    def _moved(self, to: str, cookie: bool = False) -> None:
        self.send_response(HTTPStatus.SEE_OTHER)
        self.send_header("Location", to)
        if cookie:
            self.send_header("Set-Cookie", f"{COOKIE}={self.server.session.key}; HttpOnly; SameSite=Strict; Path=/")
        self._headers(0)

    def _send(self, text: str, status: HTTPStatus = HTTPStatus.OK, kind: str = "text/html") -> None:
        data = text.encode()
        self.send_response(status)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self._headers(len(data))
        self.wfile.write(data)

    def _headers(self, length: int) -> None:
        for name, value in HEADERS.items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(length))
        self.end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        """Requests are not written down: addresses hold the key."""


def _answered_fact(
    conn: sqlite3.Connection, note: int, fact: int, answer: Mapping[str, str], person: str | None,
) -> None:  # fmt: skip
    """Store the answer to a fact, and compare its note anew: a corrected value may be right, or wrong, now."""
    answer_fact(conn, fact, answer, person)
    renew_flags(conn, [note])


def _id(path: str, before: str) -> int:
    """The number at the end of a path."""
    told = path.removeprefix(before)
    if not told.isdecimal() or len(told) > 15:
        raise RefusedError(HTTPStatus.NOT_FOUND, "there is no such page: open / for the notes")
    return int(told)
