"""Who may ask and answer: the checks that keep other pages, other names and other programs away from the review.

Every request must name this machine as its host (a foreign name that resolves to it does not do), every page needs the
cookie that only the printed address sets, and every answer must carry the token of the page and come from the page's
own origin.
"""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass, field
from email.message import Message
from http import HTTPStatus
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from urllib.parse import parse_qs

COOKIE = "saidspec_review"
LARGEST = 64 * 1024  # bytes of an answer
MOST_FIELDS = 50
NAMES = ("127.0.0.1", "localhost")
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; form-action 'self'; base-uri 'none'; "
                               "frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cache-Control": "no-store",
}  # fmt: skip


class RefusedError(Exception):
    """A request that is not answered: its status and one line for the person at the browser."""

    def __init__(self, status: HTTPStatus, line: str) -> None:
        super().__init__(line)
        self.status, self.line = status, line


@dataclass(frozen=True, slots=True)
class Session:
    """One run of the review: the record, who answers, and the secrets of this run."""

    record: Path
    person: str | None = None
    key: str = field(default_factory=lambda: secrets.token_urlsafe(24))  # of the printed address and the cookie
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))  # of every form


def same(told: str, secret: str) -> bool:
    """Whether a secret was told, in a time that does not tell how much of it was right."""
    return hmac.compare_digest(told.encode(), secret.encode())


def own_host(headers: Message, port: int) -> None:
    """Refuse a request to another name than this machine's own: what a rebound name would send."""
    if headers.get("Host", "") not in [f"{name}:{port}" for name in NAMES]:
        raise RefusedError(HTTPStatus.MISDIRECTED_REQUEST, "this page answers only to the address that was printed")


def known(headers: Message, session: Session) -> None:
    """Refuse a request without the cookie of this run."""
    try:
        cookie = SimpleCookie(headers.get("Cookie", "")).get(COOKIE)
    except CookieError:
        cookie = None
    if not same(cookie.value if cookie else "", session.key):
        line = "open the address that was printed when the review was started"
        raise RefusedError(HTTPStatus.FORBIDDEN, line)


def own_page(headers: Message, port: int, answer: dict[str, str], session: Session) -> None:
    """Refuse an answer that does not come from a page of this run."""
    origin = headers.get("Origin")
    if origin is not None and origin not in [f"http://{name}:{port}" for name in NAMES]:
        raise RefusedError(HTTPStatus.FORBIDDEN, "the answer comes from another page and is not taken")
    if not same(answer.get("token", ""), session.token):
        raise RefusedError(HTTPStatus.FORBIDDEN, "the answer carries no token of this run: load the page again")


def length_of(headers: Message) -> int:
    """How many bytes an answer has.  Refuses one of no told length, that is too long, or that no form sends."""
    length = headers.get("Content-Length", "")
    if not length.isdecimal():
        raise RefusedError(HTTPStatus.LENGTH_REQUIRED, "an answer needs a length")
    if len(length) > 9 or int(length) > LARGEST:
        raise RefusedError(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "the answer is too long")
    if headers.get_content_type() != "application/x-www-form-urlencoded":
        raise RefusedError(HTTPStatus.UNSUPPORTED_MEDIA_TYPE, "answers come from the forms of the page")
    return int(length)


def fields_of(body: bytes) -> dict[str, str]:
    """The fields of a form as sent; of a field sent twice the last."""
    try:
        told = parse_qs(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=MOST_FIELDS)
    except ValueError as error:
        raise RefusedError(HTTPStatus.BAD_REQUEST, "the answer has too many fields") from error
    return {name: values[-1] for name, values in told.items()}
