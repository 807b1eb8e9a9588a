"""The words of a note as the rules see them: numbers as figures, codes in one piece, everything else word by word."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from saidspec.normalise.aligned import Aligned, Edit
from saidspec.normalise.code_tokens import Code
from saidspec.normalise.fillers import Fillers, without_fillers
from saidspec.normalise.joins import joined
from saidspec.normalise.mishearings import Mishearing, corrections
from saidspec.normalise.number_words import Number, NumberWords
from saidspec.normalise.numbers import Grammar
from saidspec.normalise.part_numbers import PartNumberReader
from saidspec.normalise.spelling import SpellingWords
from saidspec.normalise.tokens import Token, tokens


class Lexeme(NamedTuple):
    """One word, number, code or mark of the normalised text, at start..end of it.

    `kind`: word, suffix, mark, number, code.  A number has `value` and the `form` it was said in; a code has its kind
    in `form`.
    """

    start: int
    end: int
    text: str
    kind: str
    value: Decimal | None = None
    form: str = ""
    sure: bool = True


@dataclass(frozen=True, slots=True)
class NumberRules:
    """All that normalising needs: number words, spelling, mishearings, and the first words of units."""

    words: NumberWords
    spelling: SpellingWords
    misheard: dict[str, list[Mishearing]] = field(default_factory=dict)
    fillers: Fillers = field(default_factory=Fillers)
    unit_words: frozenset[str] = frozenset()
    unit_forms: frozenset[str] = frozenset()  # whole forms, their words joined: "footpound", "nm"

    def is_unit(self, word: str) -> bool:
        """Whether a word may begin a unit of measure."""
        return word in self.unit_words

    def is_number(self, word: str) -> bool:
        """Whether a word is a number word."""
        return self.words.small(word) is not None or word in ("point", "hundred")


def normalised(spoken: Aligned, rules: NumberRules) -> tuple[Aligned, list[Lexeme]]:
    """The text with misheard words put right, numbers as figures and codes in one piece; and its lexemes."""
    toks = tokens(spoken.text)
    spoken, toks = _edited(spoken, toks, corrections(toks, rules.misheard, rules.is_unit, rules.is_number))
    dropped = without_fillers(spoken.text, toks, rules.fillers, rules.words.means_number, rules.is_unit)
    spoken, toks = _edited(spoken, toks, dropped)
    numbers = read_numbers(toks, rules)
    codes = read_codes(spoken.text, toks, numbers, rules)
    _read_behind(toks, numbers, codes, rules)
    found = joined(toks, numbers, codes)
    return _figures(spoken, toks, found, codes)


def _edited(spoken: Aligned, toks: list[Token], edits: list[Edit]) -> tuple[Aligned, list[Token]]:
    if not edits:
        return spoken, toks
    spoken = spoken.edited(edits)
    return spoken, tokens(spoken.text)


def read_numbers(toks: list[Token], rules: NumberRules) -> dict[int, Number]:
    """The numbers by their first token, from left to right, each the longest at its place."""
    grammar = Grammar(toks, rules.words, rules.is_unit)
    numbers: dict[int, Number] = {}
    at, starts = 0, number_starts(rules.words)
    while at < len(toks):
        token = toks[at]
        number = grammar.read(at) if token.kind == "figure" or token.lower in starts else None
        if number:
            numbers[at] = number
            at = number.last
        else:
            at += 1
    return numbers


def _read_behind(toks: list[Token], numbers: dict[int, Number], codes: dict[int, Code], rules: NumberRules) -> None:
    """Read anew, behind its code, what is left of a number that a code has taken the start of: "10W40 .5 litres"."""
    for code in codes.values():
        cut = any(at in numbers and numbers[at].last > code.last for at in range(code.first, code.last))
        left = Grammar(toks, rules.words, rules.is_unit).read(code.last) if cut else None
        if left is not None:
            numbers[code.last] = left


def number_starts(words: NumberWords) -> frozenset[str]:
    """The words that may begin a number."""
    return frozenset({*words.ones, *words.teens, *words.tens, *words.scales, *words.glyphs, *words.plurals,
                      "point", "half", "quarter", "a", "an", "another", "couple", "inch", "hour"})


def read_codes(text: str, toks: list[Token], numbers: dict[int, Number], rules: NumberRules) -> dict[int, Code]:
    """The codes by their first token, from left to right."""
    reader = PartNumberReader(toks, numbers, rules.spelling, rules.is_unit, rules.unit_forms, text)
    codes: dict[int, Code] = {}
    at = 0
    while at < len(toks):
        code = reader.read(at) if toks[at].kind != "mark" and reader.may_begin(at) else None
        if code:
            codes[at] = code
            at = code.last
        else:
            at += 1
    return codes


def _figures(spoken: Aligned, toks: list[Token], numbers: dict[int, Number],
             codes: dict[int, Code]) -> tuple[Aligned, list[Lexeme]]:
    """The edits that write numbers and codes as figures, and the lexemes of the edited text."""
    edits: list[Edit] = []
    lexemes: list[Lexeme] = []
    at, shift = 0, 0
    while at < len(toks):
        item = codes.get(at) or numbers.get(at)
        token = toks[at]
        if item is None:
            lexemes.append(Lexeme(token.start + shift, token.end + shift, token.lower, token.kind))
            at += 1
            continue
        start, end = token.start, toks[item.last - 1].end
        if isinstance(item, Code):
            text, value, form, kind, rule, sure = item.text, None, item.kind, "code", "code", not item.spelled
        else:
            text, value, form, kind = f"{item.value:f}", item.value, item.form, "number"
            rule, sure = f"number.{item.form}", item.sure
        begin, written = start + shift, text
        lexemes.append(Lexeme(begin, begin + len(text), text, kind, value, form, sure))
        if isinstance(item, Number) and item.carries:
            written = f"{text} {item.carries}"
            lexemes.append(Lexeme(begin + len(text) + 1, begin + len(written), item.carries, "word"))
        if spoken.text[start:end] != written:
            edits.append(Edit(start, end, written, rule))
        shift += len(written) - (end - start)
        at = item.last
    return spoken.edited(edits) if edits else spoken, lexemes
