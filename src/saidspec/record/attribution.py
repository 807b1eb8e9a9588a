"""Which vehicle each utterance of a note is about.  Never a guess: where it is not known, the user is asked."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Container, Mapping
from dataclasses import dataclass
from typing import Literal

from saidspec.model import Note

How = Literal["option", "heading", "mention", "person"]
WORD = r"[^\W\d_]{4,}"  # a word of a name that may stand for the name: of four letters at least
LOOK_BACK = 60  # characters before a word that tell whether it is a name
AT_HEAD = 120  # characters of a note in which it may begin with a name
BE = frozenset({"is", "are", "was", "were"})
INSIDE = re.compile(r"[^.!?\s\"'(\[][\"')\]]*\s*$")  # what stands before a word inside a sentence
MEANT = re.compile(r"\b(?:the|my|our|this)\s+$", re.IGNORECASE)  # ... before a word that means a certain thing


@dataclass(frozen=True, slots=True)
class Attribution:
    """The vehicle (an id) of the note as a whole and of each of its utterances, and how it was found."""

    vehicle: int | None
    how: How | None
    utterances: tuple[int | None, ...]
    named: tuple[int, ...] = ()  # vehicles that the note names, most often named first


@dataclass(frozen=True, slots=True)
class Head:
    """The words that may stand before and behind the name by which a note begins."""

    before: frozenset[str] = frozenset()
    behind: frozenset[str] = frozenset()


class Names:
    """The names of the known vehicles, as matched in text: whole words, letter case aside.

    A word of a name stands for the vehicle where it is written as a name (a capital inside a sentence, or in a
    heading) and belongs to no other vehicle: "the Drover", not "the trailer".  In text without capitals, as
    recognisers and chats write it, it is "the drover", and no word of `everyday` counts.

    A note that begins with such a word, whatever its case, begins with the vehicle: "okay drover", "drover oil change".
    `head` are the words that may stand around it there.
    """

    def __init__(
        self, names: Mapping[str, int], everyday: Container[str] = frozenset(), head: Head | None = None
    ) -> None:
        self._everyday, self._head = everyday, head or Head()
        self.known = {" ".join(name.casefold().split()): vehicle for name, vehicle in names.items()}
        self._full = _any_of(list(self.known))
        owners: dict[str, set[int]] = {}
        for name, vehicle in names.items():
            for word in re.findall(WORD, name):
                if word[0].isupper():
                    owners.setdefault(word.casefold(), set()).add(vehicle)
        self._words = {word: next(iter(those)) for word, those in owners.items() if len(those) == 1}
        self._spoken = {word: vehicle for word, vehicle in self._words.items() if word not in everyday}

    def in_text(self, text: str, *, heading: bool = False, no_capitals: bool = False) -> list[int]:
        """The vehicles that `text` names, in order, one entry a mention."""
        whole = list(self._full.finditer(text)) if self.known else []
        told = [(found.start(), self.known[" ".join(found.group().casefold().split())]) for found in whole]
        taken = {at for found in whole for at in range(*found.span())}
        for found in re.finditer(WORD, text):
            word = found.group()
            named = (self._spoken if no_capitals else self._words).get(word.casefold())
            if named is None or found.start() in taken:
                continue
            before = text[max(0, found.start() - LOOK_BACK) : found.start()]
            if (MEANT.search(before) if no_capitals else word[0].isupper() and (heading or INSIDE.search(before))):
                told.append((found.start(), named))
        return [vehicle for _, vehicle in sorted(told)]


    def at_head(self, text: str) -> int | None:
        """The vehicle by whose name a note begins.  A name that only says of what kind a part is ("drover bolts are
        metric") is none, nor one with an article ("a drover came by").
        """
        words = [word.casefold() for word in re.findall(r"[^\W_]+(?:'[a-z]+)?|[.,:;!?–-]|\n", text[:AT_HEAD])]
        at = next((place for place, word in enumerate(words) if word not in self._head.before and word[0].isalnum()),
                  len(words))  # fmt: skip
        named = self._spoken.get(words[at].removesuffix("'s")) if at < len(words) else None
        behind = words[at + 1 :]
        if named is None or not behind or not behind[0][0].isalnum() or behind[0] in self._head.behind:
            return named
        if behind[0][0].isdigit() or words[at].endswith("'s"):
            return named
        part = behind[0] in self._everyday or behind[0].removesuffix("s") in self._everyday
        return named if part and BE.isdisjoint(behind[1:4]) else None


def attribute(note: Note, names: Names, given: int | None = None, how: How = "option") -> Attribution:
    """Find the vehicle of a note: given, else the only one that headings or the text name.

    A heading holds until the next one of its level or above.  `given` with "option" holds for the whole note, with
    "person" for what no heading claims.
    """
    if given is not None and how == "option":
        return Attribution(given, how, (given,) * len(note.utterances))
    by_heading = _by_headings(note, names)
    counts: Counter[int] = Counter()
    spoken = _no_capitals(note)
    for said in note.utterances:
        text = note.text[said.start : said.end]
        counts.update(names.in_text(text, heading=said.heading > 0, no_capitals=spoken and not said.heading))
    opening = next((said for said in note.utterances if not said.heading), None)
    if opening is not None and (begins := names.at_head(note.text[opening.start : opening.end])) is not None:
        counts[begins] += 1
    named = tuple(vehicle for vehicle, _ in counts.most_common())
    rest = given
    if given is None and any(by_heading):
        how = "heading"  # a section that no heading claims may be about a vehicle that is not known yet
    elif given is None:
        rest, how = (named[0] if len(named) == 1 else None), "mention"
    told = tuple(vehicle or rest for vehicle in by_heading)
    whole = _only(told) if told else rest
    return Attribution(whole, how if whole or any(told) else None, told, named)


def _by_headings(note: Note, names: Names) -> list[int | None]:
    told: list[int | None] = []
    open_headings: list[tuple[int, int | None]] = []
    for said in note.utterances:
        if said.heading:
            while open_headings and open_headings[-1][0] >= said.heading:
                open_headings.pop()
            named = set(names.in_text(note.text[said.start : said.end], heading=True))
            above = open_headings[-1][1] if open_headings else None
            open_headings.append((said.heading, named.pop() if len(named) == 1 else above))
        told.append(open_headings[-1][1] if open_headings else None)
    return told


def _no_capitals(note: Note) -> bool:
    """Whether most utterances begin in lower case: then letter case tells nothing about names."""
    begins = [note.text[said.start : said.end].lstrip()[:1] for said in note.utterances]
    letters = [letter for letter in begins if letter.isalpha()]
    return sum(letter.islower() for letter in letters) * 2 > len(letters)


def _only(vehicles: tuple[int | None, ...] | list[int | None]) -> int | None:
    """The one vehicle that all are about; None where they differ or any is not known."""
    those = set(vehicles)
    return those.pop() if len(those) == 1 else None


def _any_of(names: list[str]) -> re.Pattern[str]:
    longest_first = sorted(names, key=len, reverse=True)
    return re.compile(r"(?<!\w)(?:" + "|".join(r"\s+".join(map(re.escape, name.split())) for name in longest_first)
                      + r")(?!\w)", re.IGNORECASE)  # fmt: skip
