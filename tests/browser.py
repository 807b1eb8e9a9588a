"""A headless Chromium for tests, steered over a pipe by its DevTools protocol; it needs no driver and no library.

Protocol: Chromium's `--remote-debugging-pipe` reads JSON messages ended by a zero byte from descriptor 3 and writes
them to descriptor 4 (DevTools Protocol, domains Target, Page and Runtime).
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-extensions",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
    "--remote-debugging-pipe", "--window-size=1400,1000",
)  # fmt: skip


class Page:
    """One tab of the browser."""

    def __init__(self, to: int, back: int) -> None:
        self._to, self._back = to, os.fdopen(back, "rb")
        self._number, self._session = 0, ""
        self._waiting: list[dict[str, Any]] = []
        target = self._call("Target.createTarget", url="about:blank")["targetId"]
        self._session = self._call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        self._call("Page.enable")

    def open(self, address: str) -> None:
        """Load an address and wait until it is there."""
        self._waiting.clear()
        self._call("Page.navigate", url=address)
        self._loaded()

    def click(self, script: str) -> None:
        """Click the element that a script finds, and wait for the page that it leads to."""
        self._waiting.clear()
        self.run(f"({script}).click()")
        self._loaded()

    def run(self, script: str) -> Any:
        """The value of a script in the page; raises AssertionError where it fails."""
        told = self._call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in told, told["exceptionDetails"]
        return told["result"].get("value")

    def text(self) -> str:
        """The text that the page shows."""
        return str(self.run("document.body.innerText"))

    def _loaded(self) -> None:
        while not any(message.get("method") == "Page.loadEventFired" for message in self._waiting):
            self._waiting.append(self._read())

    def _call(self, method: str, **parameters: Any) -> dict[str, Any]:
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": parameters}
        if self._session:
            message["sessionId"] = self._session
        os.write(self._to, json.dumps(message).encode() + b"\0")
        while (told := self._read()).get("id") != self._number:
            self._waiting.append(told)
        assert "error" not in told, told["error"]
        result: dict[str, Any] = told["result"]
        return result

    def _read(self) -> dict[str, Any]:
        data = bytearray()
        while (byte := self._back.read(1)) != b"\0":
            assert byte, "the browser ended"
            data += byte
        told: dict[str, Any] = json.loads(data)
        return told


@contextmanager
def browser() -> Iterator[Page]:
    """A browser with an empty profile; it is ended with the block."""
    assert BROWSER is not None
    theirs_in, ours_out = os.pipe()
    ours_in, theirs_out = os.pipe()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        # The shell puts the two ends where the browser expects them: descriptors 3 and 4.
        command = f'exec "$0" "$@" 3<&{theirs_in} 4>&{theirs_out}'
        process = subprocess.Popen(
            ["bash", "-c", command, BROWSER, *FLAGS, f"--user-data-dir={profile}", "about:blank"],
            pass_fds=(theirs_in, theirs_out), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(theirs_in)
        os.close(theirs_out)
        try:
            yield Page(ours_out, ours_in)
        finally:
            process.terminate()
            process.wait()
            os.close(ours_out)
