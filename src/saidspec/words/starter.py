"""Files to start a folder of words of one's own from: commented examples, none of which counts yet."""

from __future__ import annotations

from pathlib import Path

from saidspec.model import UnusableInput

FILES = Path(__file__).parent / "starter"


def start(folder: Path) -> list[Path]:
    """Write the files into a folder, made if need be; their paths.  UnusableInput where one is there already."""
    wanted = {folder / path.relative_to(FILES): path for path in sorted(FILES.rglob("*.toml"))}
    there = next((path for path in wanted if path.exists()), None)
    if there:
        raise UnusableInput(f"{there} is there already and is left as it is; name another folder")
    try:
        for path, template in wanted.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(template.read_text("utf-8"), "utf-8")
    except OSError as error:
        raise UnusableInput(f"cannot write to {folder}: {error.strerror}; name another folder") from error
    return list(wanted)
