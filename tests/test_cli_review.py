"""`saidspec review`, as a process of its own."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from pathlib import Path
from urllib.request import HTTPCookieProcessor, build_opener

import pytest

from tests.report_cli import record_in, refused

PROGRAM = (
    "import saidspec.cli.review; from saidspec.cli.main import app; "
    "app.command('other')(lambda: None); app(['review', *__import__('sys').argv[1:]])"
)


def test_it_prints_its_address_serves_and_ends_on_interrupt(tmp_path: Path) -> None:
    command = [sys.executable, "-c", PROGRAM, "--no-browser", "--record", str(record_in(tmp_path))]
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # a run in the background ignores interrupts
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    signal.signal(signal.SIGINT, before)
    try:
        assert process.stdout is not None
        address = re.search(r"http://127\.0\.0\.1:\d+/start\?key=\S+", process.stdout.readline())
        assert address is not None
        with build_opener(HTTPCookieProcessor()).open(address[0], timeout=10) as page:
            assert "front-brakes.vtt" in page.read().decode()
        process.send_signal(signal.SIGINT)
        _, errors = process.communicate(timeout=20)
    finally:
        process.kill()
    assert process.returncode == 0
    assert "Traceback" not in errors


def test_without_a_record_there_is_nothing_to_review(tmp_path: Path) -> None:
    assert "ingest" in refused("review", "--record", tmp_path / "none.db", "--no-browser")


def test_a_taken_port_says_so(tmp_path: Path) -> None:
    import socket

    record = record_in(tmp_path)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        line = refused("review", "--record", record, "--no-browser", "--port", str(taken.getsockname()[1]))
    assert "choose another with --port" in line


@pytest.mark.parametrize("port", ["-1", "65536"])
def test_a_port_that_is_none(tmp_path: Path, port: str) -> None:
    from typer.testing import CliRunner

    from saidspec.cli.main import app

    result = CliRunner().invoke(app, ["review", "--record", str(tmp_path / "none.db"), "--port", port])
    assert result.exit_code == 2
