"""The demo: the notes of an invented workshop, and the commands that turn them into a record, in the order to show.

    folder = lay_out(folder)     # copies of notes and sheets, to look at and to edit
    for step in steps(folder): …

Nothing here knows what the notes say: each step is a command line, and what it prints is what the command prints.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from pathlib import Path

from saidspec.model import UnusableInput

NOTES = "demo_notes"  # the folder of the copies; the sheets lie in it too, as a user would keep them
SHEETS = (".toml", ".csv")
CALLED = {"van": "the van", "motorcycle": "the bike", "trailer": "the trailer"}  # what the notes may call a vehicle
DAY_IN_NAME = re.compile(r"^\d{4}-\d{2}-\d{2}(?=[-_ .])")
TODAY = "2026-05-30"  # some weeks after the last note; without --today the due list counts from the day it is made


@dataclass(frozen=True, slots=True)
class Step:
    """Commands that belong together, and a sentence on what they show; each command without the program's name."""

    title: str
    says: str
    commands: tuple[tuple[str, ...], ...]


def demo_folder() -> Path:
    """The notes that come with the program: inside the wheel, or in the repository it runs from."""
    inside = Path(__file__).parent / NOTES
    return inside if inside.is_dir() else Path(__file__).parents[2] / NOTES


def lay_out(folder: Path) -> list[Path]:
    """Copy notes and sheets into `folder`/demo_notes; the copies in order of name.

    Raises UnusableInput where that folder is there already or cannot be written: nothing is written over.
    """
    target = folder / NOTES
    if target.exists():
        raise UnusableInput(f"{target} is there already: remove it, or name a record in another folder")
    try:
        target.mkdir(parents=True)
        return [Path(shutil.copyfile(one, target / one.name)) for one in sorted(demo_folder().iterdir())
                if one.is_file() and not one.name.startswith(".")]
    except OSError as error:
        raise UnusableInput(f"cannot write the notes to {target}: {error.strerror}; name another record") from error


def steps(files: list[Path]) -> tuple[Step, ...]:
    """The commands of the demo for these notes and sheets, to be run in the folder that holds `demo_notes`."""
    sheets = [one for one in files if one.suffix in SHEETS]
    notes = [one for one in files if one.suffix not in SHEETS]
    return (
        Step("Vehicles and their reference sheets", "Each vehicle comes with a sheet of values to compare with.",
             tuple(("vehicle", "add", "--sheet", f"{NOTES}/{one.name}", *_also(one)) for one in sheets)),
        Step("Reading the notes", "Six notes of six forms; each line tells how many facts were read, of which vehicle, "
             "spoken on which day.", tuple(("ingest", f"{NOTES}/{one.name}", *_day(one)) for one in notes)),
        Step("What one fact is", "Everything in the record goes back to the words it came from.",
             (("find", "caliper", "bracket", "bolt", "torque", "--vehicle", "Packhorse", "--limit", "2"),)),
        Step("Comparing with the sheets", "What disagrees, how bad it is, and the likely cause.", (("reconcile",),)),
        Step("The clean log of one job", "What was done and measured; what is only quoted, planned or guessed stands "
             "apart.", (("log", "--vehicle", "Packhorse", "--since", "2025-10-18", "--until", "2025-10-18"),)),
        Step("What is due", f"Counted from {TODAY}; without --today from the day you ask.",
             (("due", "--today", TODAY),)),
        Step("What is on the shelf", "Bought, used and left over, of all vehicles.", (("stock",),)),
        Step("How the brake discs wear", "Three notes measured them; the sheet has the limit.",
             (("trend", "brake disc", "--vehicle", "Packhorse", "--today", TODAY),)),
        Step("Pages to read or print", "The same as HTML; open them in a browser.", (
            ("log", "--format", "html", "--output", "log.html"),
            ("due", "--today", TODAY, "--format", "html", "--output", "due.html"),
            ("prep", "front brakes", "--vehicle", "Packhorse", "--format", "html", "--output", "prep.html"),
            ("hand-over", "--vehicle", "Packhorse", "--today", TODAY, "--output", "hand-over.html"),
        )),
    )  # fmt: skip


def _also(sheet: Path) -> tuple[str, ...]:
    name = CALLED.get(sheet.stem)
    return ("--also", name) if name else ()


def _day(note: Path) -> tuple[str, ...]:
    """The day with which a note's name begins, as the option of `ingest`."""
    found = DAY_IN_NAME.match(note.name)
    return ("--date", found.group()) if found else ()
