"""How many phrases of the corpora are read rightly, by theme and by kind: `python -m tests.held_back [--show dev]`.

Held-back phrases are only counted, never shown: rules are not to be tuned on them.
"""

from __future__ import annotations

import argparse
from collections import Counter
from dataclasses import dataclass, field

from saidspec.pipeline import read
from saidspec.sources.read import read_text
from tests.phrase_corpus import DEVELOPMENT, HELD_BACK, Phrase, Wrong, load, what_is_wrong


@dataclass
class Score:
    """Phrases right and all, by theme and by kind; a phrase counts for each kind it expects or gets wrong.

    `unclaimed` counts the phrases of which every number must be claimed, or known as no fact.
    """

    right: Counter[str] = field(default_factory=Counter)
    all: Counter[str] = field(default_factory=Counter)

    def add(self, phrase: Phrase, wrong: list[Wrong]) -> None:
        bad = {each.kind for each in wrong}
        for row, good in [("all phrases", not wrong), (f"theme {phrase.file}", not wrong)]:
            self.all[row] += 1
            self.right[row] += good
        for kind in {each["kind"] for each in phrase.expect} | bad | ({None} if phrase.known else set()):
            row = f"kind {kind or 'unclaimed'}"
            self.all[row] += 1
            self.right[row] += kind not in bad

    def cell(self, row: str) -> str:
        right, count = self.right[row], self.all[row]
        return f"{right:5}/{count:<5}{right / count:6.1%}" if count else ""


def wrong_in(phrase: Phrase) -> list[Wrong]:
    """What is wrong with the reading of a phrase, a crash included."""
    try:
        reading = read(read_text(phrase.text.encode(), "phrase.txt", day=phrase.day), phrase.day)
    except Exception as error:  # a phrase on which reading fails is one wrong phrase, the others still count
        return [Wrong(None, f"failed: {type(error).__name__}: {error}")]
    return what_is_wrong(phrase, reading.facts, reading.unclaimed)


def table(development: Score, held_back: Score) -> str:
    rows = sorted(development.all.keys() | held_back.all.keys(), key=lambda row: (row.split()[0], row))
    lines = [f"{'':30}{'development':>18}{'held back':>20}"]
    lines += [f"{row:30}{development.cell(row):>18}{held_back.cell(row):>20}" for row in rows]
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.held_back", description=__doc__)
    parser.add_argument("--show", choices=["dev"], help="print each development phrase that is read wrongly")
    parser.add_argument("--theme", help="only the files of this name")
    options = parser.parse_args()
    scores = (Score(), Score())
    for folder, score in zip((DEVELOPMENT, HELD_BACK), scores, strict=True):
        for phrase in load(folder):
            if options.theme not in (None, phrase.file):
                continue
            wrong = wrong_in(phrase)
            score.add(phrase, wrong)
            if wrong and options.show and folder == DEVELOPMENT:
                print(f"{phrase.file} {phrase.case}: {phrase.text}")
                print("".join(f"    {each.message}\n" for each in wrong), end="")
    print(table(*scores))


if __name__ == "__main__":
    main()
