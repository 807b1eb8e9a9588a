"""The rules of patterns/distractors.toml: what a number must be like, and which words must stand around it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from saidspec.extract.lexicon import Phrase, phrase_of
from saidspec.patterns import listed

FARTHEST = 5  # tokens of which one begins what comes after a number, or ends what comes before it
Phrases = dict[str, dict[int, dict[Phrase, list[int]]]]  # a word of a phrase -> its length -> the phrase -> rules


@dataclass(frozen=True, slots=True)
class Distractor:
    """A rule for numbers that are no fact: what the number must be like, and which word lists must stand around it."""

    id: str
    low: Decimal
    high: Decimal
    figures: int
    decimal: bool
    whole: bool
    after_mark: bool
    unit: bool
    form: str
    skip: int
    gap: int
    codes: bool
    single: bool
    unless: frozenset[str]
    unlike: frozenset[str]
    needs: frozenset[str]  # of "before", "after", "near"


@dataclass(slots=True)
class DistractorTable:
    """The rules, with their phrases by the word that stands nearest to the number.

    `before` and `after` tell the phrases by the tokens that may stand between them and the number, from none.
    """

    rules: list[Distractor] = field(default_factory=list)
    before: list[Phrases] = field(default_factory=lambda: [{} for _ in range(FARTHEST)])
    after: list[Phrases] = field(default_factory=lambda: [{} for _ in range(FARTHEST)])
    near: Phrases = field(default_factory=dict)


def distractors(entries: Iterable[dict[str, Any]]) -> DistractorTable:
    """The rules of patterns/distractors.toml."""
    made = DistractorTable()
    for number, entry in enumerate(entries):
        needs = frozenset(name for name in ("before", "after", "near") if entry.get(name))
        made.rules.append(
            Distractor(
                f"distractor.{entry['id']}",
                Decimal(str(entry.get("low", 0))),
                Decimal(str(entry.get("high", 10**12))),
                int(entry.get("figures", 0)),
                bool(entry.get("decimal")),
                bool(entry.get("whole")),
                bool(entry.get("after_mark")),
                bool(entry.get("unit")),
                str(entry.get("form", "")),
                int(entry.get("skip", 0)),
                int(entry.get("gap", 0)),
                bool(entry.get("codes")),
                bool(entry.get("single")),
                frozenset(listed(entry.get("unless"))),
                frozenset(listed(entry.get("unlike"))),
                needs,
            )
        )
        _index(made, number, entry)
    return made


def _index(made: DistractorTable, number: int, entry: dict[str, Any]) -> None:
    """Enter the phrases of a rule by the word that stands nearest to the number."""
    before, after = made.before[: made.rules[number].skip + 1], made.after[: made.rules[number].gap + 1]
    for name, tables, key in (("before", before, -1), ("after", after, 0), ("near", [made.near], 0)):
        for phrase in map(phrase_of, listed(entry.get(name))):
            for table in tables:
                sizes = table.setdefault(phrase[key], {})
                sizes.setdefault(len(phrase), {}).setdefault(phrase, []).append(number)
