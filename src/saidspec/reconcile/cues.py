"""The cues of patterns/reconcile/cues.toml: words around a figure that settle what it is worth against a sheet."""

from __future__ import annotations

import re
from functools import cache

from saidspec.patterns import rule_set, user_folder


@cache
def cues() -> dict[str, re.Pattern[str]]:
    """Every cue by its id; line ends in a pattern only part it."""
    return {entry["id"]: re.compile(entry["pattern"].replace("\n", ""))
            for entry in rule_set(user_folder()).entries("reconcile/cues", "cue")}


def cue(name: str) -> re.Pattern[str]:
    """A cue by its id, to be searched for in text in lower case."""
    return cues()[name]
