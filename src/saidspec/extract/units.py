"""Units as said in the notes: their words, and where a short or everyday word is one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from saidspec.extract.passage import Passage
from saidspec.extract.word_classes import WordClasses
from saidspec.normalise.words import normal_form
from saidspec.patterns import listed

LEAST_CRANKING = 50  # amperes that a starter draws (common practice)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as said: the spelling of the output, and what it measures."""

    unit: str
    dimension: str


@dataclass(frozen=True, slots=True)
class UnitTable:
    """Units by the normal form of their first word: (words, unit), longest first; and the trade's words around them."""

    forms: dict[str, list[tuple[tuple[str, ...], Unit]]]
    words: WordClasses
    single: dict[str, dict[str, str]]  # dimension -> units that are one word, by its normal form

    def first_words(self) -> frozenset[str]:
        """The first words of all units, in their normal form."""
        return frozenset(self.forms)


def unit_table(entries: Iterable[dict[str, Any]], words: WordClasses) -> UnitTable:
    """The units of the rule files."""
    forms: dict[str, list[tuple[tuple[str, ...], Unit]]] = {}
    for entry in entries:
        for form in listed(entry["said"]):
            said = tuple(normal_form(word) for word in form.split())
            forms.setdefault(said[0], []).append((said, Unit(entry["unit"], entry["dimension"])))
    for options in forms.values():
        options.sort(key=lambda option: -len(option[0]))
    single: dict[str, dict[str, str]] = {}
    for word, options in forms.items():
        for phrase, unit in options:
            if len(phrase) == 1:
                single.setdefault(unit.dimension, {})[word] = unit.unit
    return UnitTable(forms, words, single)


def unit_at(page: Passage, at: int, units: UnitTable) -> tuple[Unit, int] | None:
    """The unit whose words begin at token `at` (a hyphen or stop between them passed over), and the place after."""
    if page.word(at) == "-" or (
            page.word(at) == "." and at and page.word(at + 1) in units.forms and _enclosed(page, at)):
        at += 1
    for words, unit in units.forms.get(page.word(at), ()):
        place = at
        for word in words:
            while place > at and page.word(place) in "-." and page.word(place) and word != page.word(place):
                place += 1
            if page.word(place) != word:
                break
            place += 1
        else:
            return unit, place
    return None


def _enclosed(page: Passage, at: int) -> bool:
    """No space on either side of a token: "35.nm"."""
    before, mark, after = page.lexemes[at - 1 : at + 2]
    return mark.end == after.start and before.end == mark.start


def is_unit(page: Passage, at: int, end: int, unit: Unit, words: WordClasses) -> bool:
    """Whether the word that ends before token `end` is a unit of the number at `at`.

    A short or everyday word is one only where it can be: "a" not as an article, "in" not as a preposition, "second"
    not as the one behind the first.
    """
    word, after = page.word(end - 1), page.word(end)
    touching = page.lexemes[end - 1].start == page.lexemes[at].end
    if word == "a" and end - at == 2:
        return (touching or page.said(end - 1) == "A") and after != "side"
    if word == "in" and end - at == 2:
        return touching or after in ("", ".", ",", "\n") or after in words.told_in_inches
    if word == "cranking":
        return (page.lexemes[at].value or 0) >= LEAST_CRANKING  # but "10.2 cold cranking" are volts
    if unit.unit == "ft":
        return after != "bound"
    if word == "second" and unit.dimension == "time" and page.lexemes[end - 1].text.lower() == "second" and (
            page.lexemes[at].value != 1 and not {"top", "first"}.isdisjoint(page.words(at - 3, at))):
        return False  # "ten thou top, fourteen second"
    if word == "second" and unit.dimension == "time":
        return page.lexemes[end - 1].text.lower().endswith("s") or page.word(at - 1) != "the"
    return True
