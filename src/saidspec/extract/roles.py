"""Words around a value that tell what it is: the sets of patterns/roles.toml, looked up in a window of the passage."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from saidspec.extract.lexicon import phrase_of
from saidspec.extract.passage import Passage
from saidspec.patterns import listed


@dataclass(frozen=True, slots=True)
class Hint:
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
