"""The cues of a passage, each with the tokens that it governs."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field

from saidspec.extract.grammar import BE
from saidspec.extract.passage import Passage

VALUE_AHEAD = 14  # tokens within which a value behind a cue is the one that it governs
JOINED_TO = BE | {"all", "looks", "look", "looked", "still", "both", "seem", "seemed", "seems", "an", "been"}


@dataclass(frozen=True, slots=True)
class Cue:
    """A cue at tokens start..end that governs the tokens scope_start..scope_end."""

    start: int
    end: int
    category: str
    id: str
    backward: bool
    scope_start: int
    scope_end: int


@dataclass(slots=True)
class Cues:
    """The cues of a passage with their scopes, and where topics and values begin."""

    page: Passage
    enders: frozenset[str]
    topics: frozenset[int]  # tokens at which a component phrase begins
    values: list[int] = field(default_factory=list)  # tokens of numbers and codes, in order
    cues: list[Cue] = field(default_factory=list)
    by_token: dict[int, list[Cue]] = field(default_factory=dict)

    def add(self, cue: Cue) -> None:
        """Keep a cue, and note it at the tokens that it governs."""
        self.cues.append(cue)
        for at in range(cue.scope_start, cue.scope_end):
            self.by_token.setdefault(at, []).append(cue)

    def ends(self, at: int) -> bool:
        """Whether a word turns away; not "right" as a place, and "ok" as a finding only where it opens a clause."""
        word, page = self.page.word(at), self.page
        if word not in self.enders:
            return False
        return not (page.inside("position", at) if word == "right" else page.inside("finding", at) and (
            page.word(at - 1) in JOINED_TO))

    def next_value(self, at: int) -> int | None:
        """The first value at or behind a token."""
        index = bisect_left(self.values, at)
        return self.values[index] if index < len(self.values) else None

    def value_soon(self, at: int) -> bool:
        """Whether a value follows in the sentence, a few words on, with no mark before it."""
        value = self.next_value(at)
        return value is not None and value - at <= VALUE_AHEAD and at < len(self.page) and (
            self.page.same_sentence(at, value)) and self.page.word(at) not in (",", ".", ";")
