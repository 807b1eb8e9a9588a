"""Reading a question to the record: the kind of fact that it asks for, and the words of the part."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from saidspec.model import Kind
from saidspec.patterns import listed, package_folder

LONGEST = 5  # words of a name or cue
Words = tuple[str, ...]
SamePart = Callable[[Words], frozenset[str]]  # words of a question -> all names of the part that they name


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked: `groups` are the words to be found, each with the other names that mean the same part.

    `words` are all words of the question but those that say nothing, for a search of the text as it stands.
    """

    kind: Kind | None
    role: str | None
    groups: tuple[tuple[str, ...], ...]
    words: Words

    @property
    def anything(self) -> bool:
        """Whether there is anything to look for."""
        return bool(self.words)


@dataclass(frozen=True, slots=True)
class Cues:
    """`patterns/find.toml` as looked up: cue -> (kind, role, words of it that are kept)."""

    asks: Mapping[Words, tuple[Kind, str | None, frozenset[str]]]
    skip: frozenset[str]
    no_cue: frozenset[Words]
    no_names: frozenset[str]
    before_names: frozenset[str] = frozenset()
    behind_names: frozenset[str] = frozenset()


@cache
def cues() -> Cues:
    """The cues of the package."""
    data: dict[str, Any] = tomllib.loads((package_folder() / "find.toml").read_text("utf-8"))
    asks = {_words(said): (entry["kind"], entry.get("role"), frozenset(listed(entry.get("keep"))))
            for entry in data["asks"] for said in listed(entry["said"])}  # fmt: skip
    return Cues(asks, frozenset(listed(data["skip"])), frozenset(_words(said) for said in listed(data["not"])),
                frozenset(listed(data["no_names"])), frozenset(listed(data["before_names"])),
                frozenset(listed(data["behind_names"])))  # fmt: skip


def no_others(words: Words) -> frozenset[str]:  # noqa: ARG001
    """The names of a part for those who know none."""
    return frozenset()


def read_question(text: str, same_part: SamePart = no_others) -> Question:
    """Read a question such as "which socket for the caliper bracket" or "1.74".

    The first cue for a kind counts; `same_part` gives the names of a part that some words name.
    """
    told, words = cues(), _words(text)
    kind: Kind | None = None
    role: str | None = None
    rest: list[str] = []
    at = 0
    while at < len(words):
        taken, asked = _cue(words, at, told)
        if asked is None:
            rest += words[at : at + taken]
        elif kind is None:
            kind, role = asked[:2]
            rest += [word for word in words[at : at + taken] if word in asked[2]]
        elif asked[0] != kind:
            rest += words[at : at + taken]
        at += taken
    useful = tuple(word for word in rest if word not in told.skip)
    said = tuple(word for word in words if word not in told.skip)
    return Question(kind, role, _groups(useful, same_part), said or words)


def _cue(words: Words, at: int, told: Cues) -> tuple[int, tuple[Kind, str | None, frozenset[str]] | None]:
    """How many words from `at` belong together, and the kind they ask for, if any."""
    for length in range(min(LONGEST, len(words) - at), 0, -1):
        those = words[at : at + length]
        if those in told.no_cue:
            return length, None
        if those in told.asks:
            return length, told.asks[those]
    return 1, None


def _groups(words: Words, same_part: SamePart) -> tuple[tuple[str, ...], ...]:
    """The words as groups of which one each is to be found: a part's names together, other words alone."""
    told: list[tuple[str, ...]] = []
    at = 0
    while at < len(words):
        for length in range(min(LONGEST, len(words) - at), 0, -1):
            if names := same_part(words[at : at + length]):
                told.append((" ".join(words[at : at + length]), *sorted(names - {" ".join(words[at : at + length])})))
                at += length
                break
        else:
            told.append((words[at],))
            at += 1
    return tuple(told)


def _words(text: str) -> Words:
    """The words and figures of a text in lower case; a number keeps its point and a code its hyphens."""
    return tuple(re.findall(r"\d+(?:[.,]\d+)+|\w+(?:[-/]\w+)*", text.casefold()))
