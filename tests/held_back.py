"""How many phrases of the corpora are read rightly, by theme and by kind: `python -m tests.held_back [--show dev]`.

`--known` prints the development phrases that are read wrongly as lines for corpus/known_failures.toml, each with the
class of its failure.

Held-back phrases are only counted, never shown: rules are not to be tuned on them.  The rows `facts` tell whether
confidence can be relied on: of the facts of judged kinds at 0.9 and more, and of those below, the share that is right.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter
from dataclasses import dataclass, field

from saidspec.model import Fact
from saidspec.pipeline import read
from saidspec.sources.read import read_text
from tests.phrase_corpus import DEVELOPMENT, HELD_BACK, Phrase, Wrong, load, pair, what_is_wrong

SURE = 0.9


@dataclass
class Score:
    """Phrases right and all, by theme and by kind; a phrase counts for each kind it expects or gets wrong.

    `unclaimed` counts the phrases of which every number must be claimed, or known as no fact.
    """

    right: Counter[str] = field(default_factory=Counter)
    all: Counter[str] = field(default_factory=Counter)

    def count(self, row: str, right: bool) -> None:
        self.all[row] += 1
        self.right[row] += right

    def add(self, phrase: Phrase, facts: tuple[Fact, ...], wrong: list[Wrong]) -> None:
        bad = {each.kind for each in wrong}
        self.count("all phrases", not wrong)
        self.count(f"theme {phrase.file}", not wrong)
        for kind in {each["kind"] for each in phrase.expect} | bad | ({None} if phrase.known else set()):
            self.count(f"kind {kind or 'unclaimed'}", kind not in bad)
        right = set(pair(phrase.expect, facts).values())
        for place, fact in enumerate(facts):
            if place in right or fact.kind in phrase.complete:
                sure = fact.provenance.confidence >= SURE
                self.count(f"facts {'at' if sure else 'below'} {SURE}", place in right)

    def cell(self, row: str) -> str:
        right, count = self.right[row], self.all[row]
        return f"{right:5}/{count:<5}{right / count:6.1%}" if count else ""


def facts_in(phrase: Phrase) -> tuple[tuple[Fact, ...], list[Wrong]]:
    """What was read from a phrase, and what is wrong with it, a crash included."""
    try:
        reading = read(read_text(phrase.text.encode(), "phrase.txt", day=phrase.day), phrase.day)
    except Exception as error:  # a phrase on which reading fails is one wrong phrase, the others still count
        return (), [Wrong(None, f"failed: {type(error).__name__}: {error}", "reading fails")]
    return reading.facts, what_is_wrong(phrase, reading.facts, reading.unclaimed)


def table(development: Score, held_back: Score) -> str:
    rows = sorted(development.all.keys() | held_back.all.keys(), key=lambda row: (row.split()[0], row))
    lines = [f"{'':30}{'development':>18}{'held back':>20}"]
    lines += [f"{row:30}{development.cell(row):>18}{held_back.cell(row):>20}" for row in rows]
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.held_back", description=__doc__)
    parser.add_argument("--show", choices=["dev"], help="print each development phrase that is read wrongly")
    parser.add_argument("--theme", help="only the files of this name")
    parser.add_argument("--known", action="store_true", help="print lines for known_failures.toml and no table")
    options = parser.parse_args()
    scores = (Score(), Score())
    for folder, score in zip((DEVELOPMENT, HELD_BACK), scores, strict=True):
        for phrase in load(folder):
            if options.theme not in (None, phrase.file):
                continue
            facts, wrong = facts_in(phrase)
            score.add(phrase, facts, wrong)
            if wrong and options.show and folder == DEVELOPMENT:
                print(f"{phrase.file} {phrase.case}: {phrase.text}")
                print("".join(f"    {each.message}\n" for each in wrong), end="")
            if wrong and options.known and folder == DEVELOPMENT:
                print(f"{json.dumps(phrase.text)} = {json.dumps(wrong[0].cause)}")
    if not options.known:
        print(table(*scores))


if __name__ == "__main__":
    main()
