"""The table of checks and causes as text: `python -m tests.reconcile_table`.

First each note made by hand with the flags that it raises, then each situation in words.
"""

from __future__ import annotations

from saidspec.model import Flag
from tests.reconcile_notes import Spoken, flags_of
from tests.reconcile_situations import situations
from tests.test_reconcile_checks import TABLE


def told(flags: tuple[Flag, ...]) -> str:
    """The checks of some flags, each with its likely cause."""
    return ", ".join(f"{flag.check}{f' ({flag.likely})' if flag.likely else ''}" for flag in flags) or "nothing"


def line(raised: str, what: str, words: str) -> str:
    """One line of the table."""
    return f"{raised:<28} {what:<64} {words}"


def words_of(spoken: Spoken) -> str:
    """A note's words in one line."""
    return " ".join(spoken.text.split())


def main() -> None:
    """Print both tables."""
    print(line("raises", "case", "note"))
    for what, spoken, specs, _ in TABLE:
        print(line(told(flags_of(spoken, specs)), what, words_of(spoken)))
    for one in situations():
        print(line(told(one.outcome()[0]), f"{one.trade}: {one.name}{' (not as it must be yet)' if one.known else ''}",
                   " ".join(one.note.split())))


if __name__ == "__main__":
    main()
