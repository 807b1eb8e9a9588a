"""What a number counts, by the word behind it: "two | tins | of brake cleaner", "2.5 | turns", "4 | strokes"."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache

from saidspec.record.entries import Entry
from saidspec.report.parts import report_words


def package(count: Entry) -> str:
    """The package or set right behind the number of a count: "two | tins | of brake cleaner"; "" for pieces."""
    found = _nouns("packages", r"\s+of\b").match(_behind(count))
    if found is None:  # "my last | can of brake cleaner"
        found = _nouns("packages", r"\s+of\b").match(count.fact.provenance.quote.lower().rpartition("last ")[2])
    return found["noun"] if found else ""


def counted_noun(count: Entry) -> str:
    """The word that tells what is counted where it is no part: a package, a turn, a stroke; "" for pieces."""
    last = count.fact.provenance.quote.lower().split()[-1:]  # "two and a half | turns"
    found = _nouns("counted", r"\b").match(_behind(count)) or _nouns("counted", r"$").match("".join(last))
    return package(count) or (found["noun"] if found else "")


def plural(noun: str, value: Decimal | None) -> str:
    """The word for a number of things: 1 tin, 0.5 bottle, 2 boxes."""
    if value is not None and 0 < value <= 1:
        return noun
    return noun + ("es" if noun.endswith(("x", "ch", "sh")) else "s")


def _behind(count: Entry) -> str:
    return count.context[count.fact.provenance.end - count.context_start :].lower()


@cache
def _nouns(name: str, ending: str) -> re.Pattern[str]:
    names = "|".join(sorted(" ".join(words) for words in report_words(name)))
    return re.compile(rf"^\s*(?:[a-z-]+\s+)?(?P<noun>{names})(?:s|es)?{ending}")
