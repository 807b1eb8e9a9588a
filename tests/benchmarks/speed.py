"""How fast notes are read, as ratios measured in the same run on the same text, and whether the cost is linear.

    python -m tests.benchmarks.speed [--rounds 3] [--only reading,processes,linear]

All times are processor time (user and system), the best of some rounds, so that other work on the machine counts
little.
The bars: reading at least a tenth of the speed of spaCy's blank tokenizer and at
least 5 times that of quantulum3 (then 10); `extract` of a 300-word note at most twice a process that only makes spaCy's
blank English pipeline; `--help` at most 1.5 times importing typer; a transcript of ten hours at most 1.5 times the
cost a
word of a short text.
"""

from __future__ import annotations

import argparse
import os
import random
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from saidspec.extract.rules import load_rules
from saidspec.pipeline import read
from saidspec.sources.read import read_note, read_text

CORPUS = Path(__file__).parents[1] / "corpus"
SPOKEN = (".txt", ".md", ".srt", ".vtt")
TEN_HOURS = 90_000  # words, at 150 a minute
BASE = 2_000  # words of the text that is doubled
LINEAR = 1.5  # times the cost a word of the shortest text


@dataclass(frozen=True, slots=True)
class Row:
    """A measure in words, what it must be, and whether it is; `passed` None where there is no bar."""

    what: str
    measured: str
    bar: str = ""
    passed: bool | None = None


def notes() -> list[Path]:
    """The development notes of the corpus, in order."""
    return sorted(
        path for folder in ("notes", "notes_c") for path in (CORPUS / folder).iterdir() if path.suffix in SPOKEN
    )


def words_in(text: str) -> int:
    return len(text.split())


def best(rounds: int, work: Callable[[], object]) -> float:
    """The least processor seconds that some rounds of a piece of work took."""
    taken = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def reading_rows(rounds: int) -> Iterator[Row]:
    """Words a second of reading, against spaCy's tokenizer and quantulum3 on the same notes."""
    import spacy

    rules = load_rules()
    told = [read_note(path) for path in notes()]
    texts = [note.text for note in told]
    count = sum(map(words_in, texts))
    for note in told:  # terms enter the matcher when they are first heard
        read(note, rules=rules)
    ours = count / best(rounds, lambda: [read(note, rules=rules) for note in told])
    nlp = spacy.blank("en")
    tokenizer = count / best(rounds, lambda: [nlp.make_doc(text) for text in texts])
    yield Row(f"reading, words a second ({len(texts)} notes, {count} words)", f"{ours:,.0f}")
    yield Row("spaCy's blank tokenizer, words a second", f"{tokenizer:,.0f}")
    yield Row("reading / spaCy's blank tokenizer", f"{ours / tokenizer:.3f}", "at least 0.1", ours >= tokenizer / 10)
    theirs = count / best(1, lambda: [quantities(text) for text in texts])
    yield Row("quantulum3, words a second", f"{theirs:,.0f}")
    yield Row("reading / quantulum3", f"{ours / theirs:.1f}", "at least 5, then 10", ours >= 5 * theirs)


def quantities(text: str) -> object:
    """What quantulum3 finds in a text; nothing where it fails."""
    from quantulum3 import parser

    try:
        return parser.parse(text)
    except Exception:  # its grammar fails on some texts; the time it took counts all the same
        return None


def processor(*arguments: str) -> float:
    """Processor seconds of a Python process."""
    with subprocess.Popen([sys.executable, *arguments], stdout=subprocess.DEVNULL) as process:
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{' '.join(arguments)} ended with status {process.returncode}")
    return used.ru_utime + used.ru_stime


def process_rows(rounds: int) -> Iterator[Row]:
    """Whole processes: `extract` of a note of 300 words, and `--help`."""
    with tempfile.TemporaryDirectory() as folder:
        note = Path(folder) / "note.txt"
        note.write_text(spoken(300), "utf-8")
        ours = min(processor("-m", "saidspec", "extract", str(note)) for _ in range(rounds))
    blank = min(processor("-c", "import spacy; spacy.blank('en')") for _ in range(rounds))
    yield Row("extract of a 300-word note, whole process", f"{ours:.2f} s")
    yield Row("a process that makes spaCy's blank English pipeline", f"{blank:.2f} s")
    yield Row("extract / spaCy's blank pipeline", f"{ours / blank:.2f}", "at most 2", ours <= 2 * blank)
    shown = min(processor("-m", "saidspec", "--help") for _ in range(rounds))
    typer = min(processor("-c", "import typer") for _ in range(rounds))
    yield Row("--help / importing typer", f"{shown / typer:.2f}", "at most 1.5", shown <= 1.5 * typer)


def spoken(count: int, *, punctuated: bool = True) -> str:
    """A text of so many words, of sentences of the development notes in an order of chance, all in one line."""
    chance = random.Random(count)
    texts = (" ".join(note.text[item.start : item.end] for item in note.utterances) for note in map(read_note, notes()))
    sentences = [sentence for text in texts for sentence in re.split(r"(?<=[.!?])\s+", " ".join(text.split()))]
    made: list[str] = []
    while len(made) < count:
        made += chance.choice(sentences).split()
    text = " ".join(made[:count])
    return text if punctuated else re.sub(r"[.,;:!?](?=\s|$)", "", text).lower()


def linear_rows(rounds: int) -> Iterator[Row]:
    """The cost a word as the text grows, up to ten hours in one piece, with and without punctuation."""
    rules = load_rules()
    for punctuated in (True, False):
        how = "punctuated" if punctuated else "without punctuation"
        first = 0.0
        read(read_text(spoken(BASE, punctuated=punctuated).encode(), "spoken.txt"), rules=rules)  # each term once
        for count in (BASE, 2 * BASE, 4 * BASE, 8 * BASE, TEN_HOURS):
            note = read_text(spoken(count, punctuated=punctuated).encode(), "spoken.txt")
            taken = best(rounds if count < TEN_HOURS else 1, lambda note=note: read(note, rules=rules)) / count  # type: ignore[misc]
            first = first or taken
            yield Row(f"{count} words {how}", f"{taken * 1e6:.0f} us a word, {taken / first:.2f} times",
                      f"at most {LINEAR}", taken <= LINEAR * first)  # fmt: skip


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--rounds", type=int, default=3)
    arguments.add_argument("--only", default="reading,processes,linear")
    told = arguments.parse_args()
    measures = {"reading": reading_rows, "processes": process_rows, "linear": linear_rows}
    for name in told.only.split(","):
        for row in measures[name](told.rounds):
            mark = {None: " ", True: "ok", False: "NO"}[row.passed]
            print(f"{mark:<3}{row.what:<58} {row.measured:<28} {row.bar}", flush=True)


if __name__ == "__main__":
    main()
