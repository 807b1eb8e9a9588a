"""What the voice benchmark measures: word errors, and which facts survive the way through speech."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from decimal import Decimal

from num2words import num2words

from saidspec.model import Fact

# Spellings that are one word when errors are counted: a recogniser's choice between them is no error.
SAME = {
    "mm": "millimeter", "km": "kilometer", "ml": "milliliter", "psi": "p s i", "okay": "ok", "litre": "liter",
    "metre": "meter", "millimetre": "millimeter", "millilitre": "milliliter", "kilometre": "kilometer", "tyre": "tire",
}  # fmt: skip
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


def words(text: str) -> list[str]:
    """The words of a text as they are counted: small, numbers spelled out, units in one spelling, no plural s."""
    text = re.sub(r"(?<=\d)(?=[a-z])|(?<=[a-z])(?=\d)", " ", text.lower())
    spelled = _NUMBER.sub(lambda match: f" {_spelled(match.group())} ", text)
    found = re.findall(r"[a-z]+(?:'[a-z]+)?", spelled.replace("-", " "))
    singular = [re.sub(r"(?<=[a-rt-z]{3})s$", "", word) for word in found]
    return [part for word in singular if word != "and" for part in SAME.get(word, word).split()]


def _spelled(number: str) -> str:
    value = Decimal(number.replace(",", ""))
    return str(num2words(int(value) if value == int(value) and "." not in number else value)).replace("-", " ")


def word_errors(said: list[str], heard: list[str]) -> int:
    """The least number of words replaced, left out and put in that turn one into the other (Levenshtein distance)."""
    row = list(range(len(heard) + 1))
    for at, word in enumerate(said, start=1):
        before, row[0] = row[0], at
        for index, other in enumerate(heard, start=1):
            before, row[index] = row[index], min(before + (word != other), row[index] + 1, row[index - 1] + 1)
    return row[-1]


def value_key(fact: Fact) -> tuple[object, ...]:
    """What a fact says by itself: kind, value, unit, code."""
    code = re.sub(r"[\s\-]", "", fact.code).upper() if fact.code else None
    return (fact.kind, fact.value, fact.value_high, fact.unit, code, fact.action)


def whole_key(fact: Fact) -> tuple[object, ...]:
    """What a fact says, of which part, and with which standing."""
    return (*value_key(fact), fact.component, fact.assertion)


def survivors(said: Iterable[Fact], heard: Iterable[Fact], key: object = value_key) -> tuple[list[Fact], list[Fact]]:
    """The facts of the script that are among those heard, and those that are not.  Each heard fact counts once."""
    assert callable(key)
    left = Counter(key(fact) for fact in heard)
    kept: list[Fact] = []
    lost: list[Fact] = []
    for fact in said:
        if left[key(fact)] > 0:
            left[key(fact)] -= 1
            kept.append(fact)
        else:
            lost.append(fact)
    return kept, lost


def why_lost(fact: Fact, heard: Iterable[Fact], text: str) -> str:
    """Why a fact of the script is not among those heard: what was heard, or read, instead."""
    heard = list(heard)
    if fact.value is None:
        alike = [one for one in heard if one.kind == fact.kind]
        said = ", ".join(_short(one) for one in alike)[:80]
        return f"other words: {said}" if said else "not heard: no fact of this kind"
    number = words(fact.provenance.quote)[:-1] if fact.unit else words(fact.provenance.quote)
    if not (_holds(words(text), words(str(fact.value))) or _holds(words(text), number)):
        return "number misheard: it is not among the words heard"
    same = [one for one in heard if fact.value in (one.value, one.value_high)]
    for one in same:
        if one.kind == fact.kind and one.unit != fact.unit:
            return f"unit misheard: {one.unit or 'none'} ({one.provenance.quote})"
    others = [one for one in same if one.kind != fact.kind]
    if others:
        return f"read as another kind: {others[0].kind} ({others[0].provenance.quote})"
    return "number heard, no fact read: its unit or part was misheard"


def _short(fact: Fact) -> str:
    return fact.code or fact.action or fact.finding or fact.provenance.quote


def _holds(text: list[str], phrase: list[str]) -> bool:
    size = len(phrase)
    return any(text[at : at + size] == phrase for at in range(len(text) - size + 1))
