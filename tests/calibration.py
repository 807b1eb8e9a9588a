"""Whether confidence can be relied on, and how notes are read by kind: `python -m tests.calibration [--held-back]`.

Of the facts in each bin of confidence, 0.05 wide, how many there are and what share is strictly right, over the
development notes with gold; then F1 and strict F1 by kind, how many values are lost without a word,
and how many are known to be no fact and are one.  `--held-back`
adds a column for the held-back notes, of which nothing but counts is shown.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterable, Sequence

from saidspec.model import KINDS
from tests.gold_notes import GoldNote, Judged, Score, load, lost, reading, scored, taken_for_none

FOLDERS = ("notes", "notes_c", "notes_d", "notes_e", "notes_f", "notes_g", "notes_h", "notes_i")
WIDTH = 5  # of a bin, in hundredths


def bins(judged: Iterable[Judged]) -> dict[int, tuple[int, int]]:
    """The lower end of each bin in hundredths -> (facts, of these strictly right); 1.0 belongs to the last bin."""
    count: Counter[int] = Counter()
    right: Counter[int] = Counter()
    for each in judged:
        low = min(round(each.fact.provenance.confidence * 100) // WIDTH * WIDTH, 100 - WIDTH)
        count[low] += 1
        right[low] += each.right
    return {low: (count[low], right[low]) for low in sorted(count)}


def confidence_table(columns: Sequence[tuple[str, list[Judged]]]) -> list[str]:
    """A line a bin, with the facts and the share that is right for each column of notes."""
    counted = [bins(judged) for _, judged in columns]
    lines = ["confidence".ljust(16) + "".join(f"{name:>24}" for name, _ in columns)]
    for low in sorted({low for each in counted for low in each}, reverse=True):
        cells = [f"{share(*each[low]):>24}" if low in each else " " * 24 for each in counted]
        lines.append(f"{low / 100:.2f} to {(low + WIDTH) / 100:.2f}".ljust(16) + "".join(cells))
    for name, low, high in (("0.90 and more", 90, 100), ("below 0.90", 0, 90)):
        sums = [[sum(pair[i] for at, pair in each.items() if low <= at < high) for i in (0, 1)] for each in counted]
        lines.append(name.ljust(16) + "".join(f"{share(*each):>24}" for each in sums))
    return lines


def share(count: int, right: int) -> str:
    return f"{right}/{count} {right / count:6.1%}" if count else ""


def kind_table(columns: Sequence[tuple[str, Score]]) -> list[str]:
    """A line a kind, with F1 and strict F1 and the number of gold facts for each column of notes."""
    kinds = [kind for kind in KINDS if any(score.gold[kind] + score.said[kind] for _, score in columns)]
    lines = ["F1, strict, gold".ljust(16) + "".join(f"{name:>24}" for name, _ in columns)]
    for kind in (*kinds, None):
        cells = [f"{score.f1(kind):.3f}  {score.strict(kind):.3f}  {score.gold[kind] if kind else score.gold.total():5}"
                 for _, score in columns]  # fmt: skip
        lines.append((kind or "all").ljust(16) + "".join(f"{cell:>24}" for cell in cells))
    return lines


def table(columns: Sequence[tuple[str, Sequence[GoldNote]]]) -> str:
    """Both tables, for each column of notes."""
    results = [(name, *scored(notes)) for name, notes in columns]
    lines = confidence_table([(name, judged) for name, _, judged in results])
    told = [[(note, reading(note)) for note in notes] for _, notes in columns]
    missing = [sum(len(lost(*each)) for each in notes) for notes in told]
    denied = [sum(len(taken_for_none(*each)) for each in notes) for notes in told]
    lines += ["", *kind_table([(name, score) for name, score, _ in results]), ""]
    for name, counts in (("lost silently", missing), ("taken for none", denied)):
        lines.append(name.ljust(16) + "".join(f"{count:>24}" for count in counts))
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.calibration", description=__doc__)
    parser.add_argument("--held-back", action="store_true", help="count the held-back notes as well")
    options = parser.parse_args()
    folders = [(folder, load(folder)) for folder in FOLDERS if load(folder)]
    columns = [("all development", [note for _, notes in folders for note in notes]), *folders]
    if options.held_back:
        columns.append(("held back", load("held_back")))
    print(table(columns))


if __name__ == "__main__":
    main()
