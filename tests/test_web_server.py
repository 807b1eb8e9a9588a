"""What the review server answers to whom, on the wire."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from http.client import HTTPConnection, HTTPResponse
from urllib.parse import urlencode, urlsplit

import pytest

from saidspec.web.guard import COOKIE, LARGEST, MOST_FIELDS, Session
from saidspec.web.server import ReviewServer
from tests.report_samples import workshop

FORM = "application/x-www-form-urlencoded"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ReviewServer]:
    record = tmp_path_factory.mktemp("record") / "record.db"
    workshop(record).close()
    made = ReviewServer(Session(record, "Ann"))
    threading.Thread(target=made.serve_forever, daemon=True).start()
    yield made
    made.shutdown()
    made.server_close()


def ask(
    server: ReviewServer, method: str, path: str, body: str | None = None, **headers: str
) -> tuple[int, str, HTTPResponse]:
    """Status, text and response of a request with the cookie of the run, unless another one is given."""
    conn = HTTPConnection("127.0.0.1", server.server_port, timeout=10)
    told = {"Cookie": f"{COOKIE}={server.session.key}"}
    told |= {name.replace("_", "-"): value for name, value in headers.items()}
    if body is not None:
        told.setdefault("Content-Type", FORM)
    conn.request(method, path, body, {name: value for name, value in told.items() if value != "none"})
    response = conn.getresponse()
    text = response.read().decode()
    conn.close()
    return response.status, text, response


def post(server: ReviewServer, path: str, token: str | None = None, **more: str) -> tuple[int, str, HTTPResponse]:
    """A form posted to the server with the token of the run."""
    fields = {"verdict": "confirmed", "token": server.session.token if token is None else token}
    return ask(server, "POST", path, urlencode(fields), **more)


def decisions(server: ReviewServer) -> int:
    conn = sqlite3.connect(server.session.record)
    told = conn.execute("SELECT count(*) FROM decisions").fetchone()[0]
    conn.close()
    return int(told)


def test_it_listens_on_the_loopback_address_alone(server: ReviewServer) -> None:
    assert server.server_address[0] == "127.0.0.1"
    assert urlsplit(server.address).hostname == "127.0.0.1"


def test_the_printed_address_lets_in(server: ReviewServer) -> None:
    start = server.address.removeprefix(f"http://127.0.0.1:{server.server_port}")
    status, _, response = ask(server, "GET", start, Cookie="none")
    assert (status, response.headers["Location"]) == (303, "/")
    cookie = response.headers["Set-Cookie"]
    assert cookie.startswith(f"{COOKIE}={server.session.key};")
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie


@pytest.mark.parametrize("path", ["/start", "/start?key=", "/start?key=wrong"])
def test_another_key_does_not(server: ReviewServer, path: str) -> None:
    assert ask(server, "GET", path, Cookie="none")[0] == 403


@pytest.mark.parametrize("cookie", ["none", f"{COOKIE}=wrong", "other=1", "=;;broken\x80"])
@pytest.mark.parametrize("path", ["/", "/note/1", "/style.css", "/nothing"])
def test_without_the_cookie_nothing_is_shown(server: ReviewServer, path: str, cookie: str) -> None:
    status, text, _ = ask(server, "GET", path, Cookie=cookie)
    assert status == 403
    assert "Hallam" not in text


@pytest.mark.parametrize("host", [
    "attacker.example", "attacker.example:{port}", "127.0.0.1", "127.0.0.1:1", "0.0.0.0:{port}",
    "localhost.attacker.example:{port}",
])  # fmt: skip
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_another_name_for_this_machine_is_not_answered(server: ReviewServer, host: str, method: str) -> None:
    before = decisions(server)
    body = urlencode({"verdict": "confirmed", "token": server.session.token}) if method == "POST" else None
    told = ask(server, method, "/fact/1" if body else "/", body, Host=host.format(port=server.server_port))
    assert told[0] == 421
    assert "Hallam" not in told[1]
    assert decisions(server) == before


def test_both_own_names_are_answered(server: ReviewServer) -> None:
    for name in ("127.0.0.1", "localhost"):
        assert ask(server, "GET", "/", Host=f"{name}:{server.server_port}")[0] == 200


def test_pages_keep_others_out_of_them(server: ReviewServer) -> None:
    for path in ("/", "/note/4", "/style.css", "/nothing"):
        headers = ask(server, "GET", path)[2].headers
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
        assert (headers["X-Content-Type-Options"], headers["Cache-Control"]) == ("nosniff", "no-store")
        assert "Access-Control-Allow-Origin" not in headers


def test_an_answer_is_stored_and_leads_back(server: ReviewServer) -> None:
    before = decisions(server)
    status, _, response = post(server, "/fact/1", Origin=f"http://127.0.0.1:{server.server_port}")
    assert (status, response.headers["Location"]) == (303, "/note/1?page=1#fact-1")
    assert decisions(server) == before + 1


@pytest.mark.parametrize("token", ["", "wrong", "ü"])
def test_without_the_token_nothing_is_stored(server: ReviewServer, token: str) -> None:
    before = decisions(server)
    assert post(server, "/fact/1", token)[0] == 403
    assert decisions(server) == before


@pytest.mark.parametrize("origin", ["null", "http://attacker.example", "http://127.0.0.1:1", "https://127.0.0.1:{port}"])
def test_another_origin_stores_nothing(server: ReviewServer, origin: str) -> None:
    before = decisions(server)
    status, text, _ = post(server, "/fact/1", Origin=origin.format(port=server.server_port))
    assert (status, decisions(server)) == (403, before)
    assert "another page" in text


def test_a_post_without_the_cookie_stores_nothing(server: ReviewServer) -> None:
    before = decisions(server)
    assert post(server, "/fact/1", Cookie="none")[0] == 403
    assert decisions(server) == before


@pytest.mark.parametrize(("path", "status"), [
    ("/note/999", 404), ("/note/", 404), ("/note/1/2", 404), ("/note/-1", 404), ("/note/1%20OR%201", 404),
    ("/note/99999999999999999999", 404), ("/../etc/passwd", 404), ("/style.css/x", 404), ("/note/4?page=0", 200),
    ("/note/4?page=999999999999", 200), ("/note/4?page=x", 200),
])  # fmt: skip
def test_odd_addresses(server: ReviewServer, path: str, status: int) -> None:
    assert ask(server, "GET", path)[0] == status


@pytest.mark.parametrize("path", ["/fact/999", "/flag/999", "/fact/x", "/note/1"])
def test_answers_to_nothing(server: ReviewServer, path: str) -> None:
    assert post(server, path)[0] == 404


@pytest.mark.parametrize(("body", "kind", "status"), [
    ("a=1", "text/plain", 415), ("a=1", "application/json", 415), ("a=" + "x" * LARGEST, FORM, 413),
    ("&".join(f"a{n}=1" for n in range(MOST_FIELDS + 1)), FORM, 400),
])  # fmt: skip
def test_answers_that_no_form_sends(server: ReviewServer, body: str, kind: str, status: int) -> None:
    assert ask(server, "POST", "/fact/1", body, Content_Type=kind)[0] == status


def test_other_methods_are_not_known(server: ReviewServer) -> None:
    for method in ("PUT", "DELETE", "OPTIONS", "TRACE"):
        assert ask(server, method, "/")[0] == 501


def test_a_wrong_answer_shows_the_page_again_with_the_problem(server: ReviewServer) -> None:
    fields = {"verdict": "corrected", "token": server.session.token, "value": "<script>"}
    status, text, _ = ask(server, "POST", "/fact/3", urlencode(fields))
    assert status == 400
    assert "&lt;script&gt;&#34; is no number" in text
    assert "<script>" not in text
