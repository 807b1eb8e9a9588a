"""What is read from each demo note, and what is flagged, as JSON files that a test compares.

`python -m tests.golden` writes the files anew; look at their diff before you keep them.  They say what is read, not
what is right: `seeds.toml` lists the mistakes that were put into the notes and must be found.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

from saidspec.demo import DAY_IN_NAME, SHEETS, demo_folder
from saidspec.model import Flag, Reading, Sheet, fact_object
from saidspec.pipeline import read
from saidspec.reconcile.output import flag_object
from saidspec.reconcile.run import reconcile
from saidspec.reference.sheets import load_sheet
from saidspec.sources.read import read_note

HERE = Path(__file__).parent
LEFT_OUT = ("confidence", "rule", "cue")  # how it was found: tuned often, and no part of what was read


def notes() -> list[Path]:
    """The demo notes."""
    return sorted(path for path in demo_folder().iterdir() if DAY_IN_NAME.match(path.name))


def golden_of(note: Path) -> Path:
    """The file that holds what is read from a note."""
    return HERE / f"{note.name}.json"


def sheet_of(note: Path) -> Sheet:
    """The reference sheet of the vehicle that a note's name tells."""
    return load_sheet(next(path for path in demo_folder().iterdir()
                           if path.suffix in SHEETS and path.stem in note.stem.split("-")))  # fmt: skip


def read_demo(note: Path) -> Reading:
    """What is read from a demo note, spoken on the day that its name tells."""
    found = DAY_IN_NAME.match(note.name)
    assert found
    day = date.fromisoformat(found.group())
    return read(read_note(note, day=day), day)


def flags_of(note: Path) -> tuple[Flag, ...]:
    """What is flagged of a note alone, against its sheet."""
    return tuple(reconcile(read_demo(note), sheet_of(note))[0])


def told(note: Path) -> dict[str, list[dict[str, Any]]]:
    """The facts, unclaimed numbers, problems and flags of a note as JSON values."""
    reading = read_demo(note)
    facts = [{key: value for key, value in fact_object(fact).items() if key not in LEFT_OUT and value is not None}
             for fact in reading.facts]  # fmt: skip
    return {
        "facts": facts,
        "unclaimed": [{"quote": one.quote, "start": one.start} for one in reading.unclaimed],
        "problems": [{"message": one.message, "start": one.start} for one in reading.problems],
        "flags": [flag_object(flag) for flag in flags_of(note)],
    }  # fmt: skip


def as_text(value: dict[str, list[dict[str, Any]]]) -> str:
    """JSON with one fact, number, problem or flag a line."""
    parts = []
    for key, rows in value.items():
        lines = ",\n".join(f"  {json.dumps(row, ensure_ascii=False)}" for row in rows)
        parts.append(f" {json.dumps(key)}: [\n{lines}\n ]" if rows else f" {json.dumps(key)}: []")
    return "{\n" + ",\n".join(parts) + "\n}\n"
