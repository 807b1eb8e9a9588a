"""The lines on which the tables, entries and keys of a TOML file stand; the standard reader does not tell them."""

from __future__ import annotations

import re
from pathlib import Path

Place = tuple[str | int, ...]  # ("material", 2, "said"): the key `said` of the third [[material]]
HEADER = re.compile(r"\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
NAME = re.compile(r"""\s*("[^"]*"|'[^']*'|[\w-]+)\s*""")
KEY = re.compile(rf"({NAME.pattern}(?:\.{NAME.pattern})*)=")
LONG = ('"""', "'''")


def lines_of(path: Path) -> dict[Place, int]:
    """The line, from 1, of each table, entry and key of a file that can be read as TOML."""
    found: dict[Place, int] = {}
    counts: dict[Place, int] = {}
    here: Place = ()
    closing = ""
    for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
        if closing:
            closing = "" if closing in line else closing
            continue
        if header := HEADER.match(line):
            here = _place(header[2], counts, listed=header[1] == "[[")
            found.setdefault(here, number)
            found.setdefault(here[:1], number)
        elif key := KEY.match(line):
            names = [name.strip("\"'") for name in NAME.findall(key[1])]
            for size in range(1, len(names) + 1):
                found.setdefault((*here, *names[:size]), number)
            closing = next((mark for mark in LONG if line.count(mark) % 2), "")
    return found


def _place(header: str, counts: dict[Place, int], *, listed: bool) -> Place:
    """The place that a header opens: the last entry of each list on the way, a new one where it is itself listed."""
    names = [name.strip("\"'") for name in NAME.findall(header)]
    here: Place = ()
    for at, name in enumerate(names):
        here = (*here, name)
        if listed and at == len(names) - 1:
            counts[here] = counts.get(here, -1) + 1
            return (*here, counts[here])
        if here in counts:
            here = (*here, counts[here])
    return here
