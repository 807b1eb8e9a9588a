"""What the tests of normalising share: the package's rules, and a text as figures."""

from __future__ import annotations

from datetime import date

from saidspec.extract.rules import load_rules
from saidspec.model import Note, Reading
from saidspec.normalise.aligned import Aligned
from saidspec.normalise.lexemes import Lexeme, normalised
from saidspec.normalise.speech import speech
from saidspec.pipeline import read
from saidspec.sources.read import read_text

DAY = date(2026, 5, 9)


def note_of(text: str) -> Note:
    """A text as a note in a plain file."""
    return read_text(text.encode(), "said.txt", day=DAY)


def figures(text: str) -> tuple[Aligned, list[Lexeme]]:
    """A text normalised by the package's rules: the aligned text and its lexemes."""
    return normalised(speech(note_of(text)), load_rules().numbers)


def numbers(text: str) -> list[str]:
    """The numbers of a text in plain figures, without the noughts behind a point."""
    return [plain(f"{lex.value:f}") for lex in figures(text)[1] if lex.kind == "number"]


def codes(text: str) -> list[tuple[str, str]]:
    """(kind, code) of the codes of a text."""
    return [(lex.form, lex.text) for lex in figures(text)[1] if lex.kind == "code"]


def reading(text: str) -> Reading:
    """All that a text says."""
    return read(note_of(text), DAY)


def plain(figure: str) -> str:
    """"12.50" → "12.5", "94500.0" → "94500"."""
    return figure.rstrip("0").rstrip(".") if "." in figure else figure
