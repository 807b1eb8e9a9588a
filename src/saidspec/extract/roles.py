"""What is measured: told by words around a value (patterns/roles.toml), or by the part that the value is of."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NamedTuple

from saidspec.extract.lexicon import Lexicon, phrase_of
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.patterns import listed


class Hint(NamedTuple):
    """A role word at tokens start..end, `distance` tokens from the value."""

    kind: str
    role: str
    start: int
    end: int
    distance: int


@dataclass(frozen=True, slots=True)
class RoleTable:
    """Role phrases by their first word: (words, kind, role), longest first."""

    forms: dict[str, list[tuple[list[str], str, str]]]

    def said(self, page: Passage) -> RolesSaid:
        """The role words of a passage."""
        found = [Hint(kind, role, at, at + len(words), 0) for at, word in enumerate(page.norm) if word in self.forms
                 for words, kind, role in self.forms[word] if page.norm[at : at + len(words)] == words]
        return RolesSaid(found, [hint.start for hint in found])


@dataclass(frozen=True, slots=True)
class RolesSaid:
    """The role words of a passage in the order of the note, and their first tokens."""

    found: list[Hint]
    starts: list[int]

    def hints(self, first: int, last: int, start: int, end: int) -> list[Hint]:
        """The role words in tokens first..last outside of a value's start..end, nearest first."""
        near = [hint._replace(distance=max(0, start - hint.end if hint.start < start else hint.start - end))
                for hint in self.found[bisect_left(self.starts, first) : bisect_left(self.starts, last)]
                if not start <= hint.start < end]
        return sorted(near, key=lambda hint: (hint.distance, hint.start - hint.end))


def role_table(entries: Iterable[dict[str, Any]]) -> RoleTable:
    """The role words of the rule files."""
    forms: dict[str, list[tuple[list[str], str, str]]] = {}
    for entry in entries:
        for form in listed(entry["says"]):
            words = [*phrase_of(form)]
            forms.setdefault(words[0], []).append((words, entry["kind"], entry["id"]))
    for options in forms.values():
        options.sort(key=lambda option: -len(option[0]))
    return RoleTable(forms)


def part_role(mention: Mention | None, lexicon: Lexicon) -> str | None:
    """What is usually measured on a part: thickness of a pad, gap of a plug."""
    if mention is None:
        return None
    for first in range(len(mention.words)):
        name = " ".join(mention.words[first:])
        for key in (lexicon.canonical.get(name, name), name):
            if key in lexicon.measures:
                return lexicon.measures[key]
    return None
