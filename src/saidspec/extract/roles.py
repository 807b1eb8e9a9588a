"""What is measured: told by words around a value (patterns/roles.toml), or by the part that the value is of."""

from __future__ import annotations

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

    forms: dict[str, list[tuple[tuple[str, ...], str, str]]]

    def hints(self, page: Passage, first: int, last: int, start: int, end: int) -> list[Hint]:
        """The role words in tokens first..last outside of the value's start..end, nearest first."""
        found: list[Hint] = []
        for at in range(max(0, first), min(last, len(page))):
            if start <= at < end:
                continue
            for words, kind, role in self.forms.get(page.norm[at], ()):
                if page.norm[at : at + len(words)] == list(words):
                    distance = start - at - len(words) if at < start else at - end
                    found.append(Hint(kind, role, at, at + len(words), max(0, distance)))
        return sorted(found, key=lambda hint: (hint.distance, hint.start - hint.end))


def role_table(entries: Iterable[dict[str, Any]]) -> RoleTable:
    """The role words of the rule files."""
    forms: dict[str, list[tuple[tuple[str, ...], str, str]]] = {}
    for entry in entries:
        for form in listed(entry["says"]):
            words = phrase_of(form)
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
