"""The outputs that README.md shows are those of the demo's folder: `python -m tests.readme` renews them."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

README = Path(__file__).parents[1] / "README.md"
BLOCK = re.compile(r"^```\n(\$ .*?)^```$", re.MULTILINE | re.DOTALL)


def shell(command: str, folder: Path) -> str:
    """What a command prints, run by a shell that finds the present saidspec, in a folder with its record."""
    own = ("SAIDSPEC", "COLUMNS")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(own)}
    kept |= {"PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}", "SAIDSPEC_RECORD": "record.db"}
    ran = subprocess.run(["bash", "-c", command], cwd=folder, env=kept, capture_output=True, text=True, check=False)
    assert not ran.stderr, f"{command}: {ran.stderr}"
    return ran.stdout


def with_outputs(text: str, folder: Path) -> str:
    """The text with the output of each command of its blocks below it, as it is in the demo's folder."""
    def renewed(block: re.Match[str]) -> str:
        commands = [line for line in block[1].splitlines() if line.startswith("$ ")]
        return "```\n" + "\n\n".join(f"{line}\n{shell(line[2:], folder).strip()}" for line in commands) + "\n```"

    return BLOCK.sub(renewed, text)


def shown_anew() -> str:
    """README.md as its commands print today."""
    with tempfile.TemporaryDirectory() as folder:
        shell("saidspec demo --record record.db", Path(folder))
        return with_outputs(README.read_text("utf-8"), Path(folder))


if __name__ == "__main__":
    README.write_text(shown_anew(), "utf-8")
