"""Where the numbers of a note stand, and what became of each: found in the characters of the text.

A number is a run of figures or a word of patterns/numbers.toml.  Each is within a fact that carries it, or unclaimed,
or known as no fact: exactly one of the three.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from saidspec.model import Reading
from saidspec.patterns import paired, rule_set
from tests.gold_notes import STATEMENTS

WORDS = {word for entry in rule_set().entries("numbers", "word") for word in paired(entry["values"])}
NUMBER = re.compile(r"\d+|[½¼¾⅛⅜⅝⅞⅓⅔]|(?<![^\W_])(?:" + "|".join(sorted(WORDS, key=len, reverse=True)) + r")(?![^\W_])",
                    re.IGNORECASE)  # fmt: skip


def places(found: Reading) -> Iterator[tuple[str, int, int]]:
    """The numbers of what was said, with their places in the text."""
    for utterance in found.note.utterances:
        for hit in NUMBER.finditer(found.note.text, utterance.start, utterance.end):
            yield hit[0], hit.start(), hit.end()


def wrongly_accounted(found: Reading) -> list[str]:
    """The numbers of a reading that are in none of the three, and those that are in two."""
    facts = [fact.provenance for fact in found.facts if fact.kind not in STATEMENTS]
    due = [fact.provenance for fact in found.facts if fact.kind == "follow_up" and fact.code]
    wrong = []
    for quote, start, end in places(found):
        inside = [bool([each for each in spans if each.start <= start and end <= each.end])
                  for spans in (facts, found.unclaimed, found.known)]  # fmt: skip
        if inside[1] and inside[2]:
            wrong.append(f"{quote} at {start} is unclaimed and known")
        if not any(inside) and not any(each.start <= start and end <= each.end for each in due):
            wrong.append(f"{quote} at {start} is in none")
    return wrong
