"""How a number may stand in a note: as figures or in words."""

from __future__ import annotations

from decimal import Decimal
from functools import cache

from saidspec.patterns import paired, rule_set


@cache
def number_names() -> dict[int, str]:
    """Numbers of one word, and the first of their names in the pattern files."""
    told = {entry["id"]: paired(entry["values"]) for entry in rule_set().entries("numbers", "word")}
    found: dict[int, str] = {}
    for group in ("ones", "teens", "tens"):
        for name, value in told[group].items():
            found.setdefault(int(value), name)
    return found


def below_hundred(number: int) -> str:
    """A number below a hundred in words: "thirty-five"."""
    names = number_names()
    return names.get(number) or f"{names[number - number % 10]}-{names[number % 10]}"


def said_as(value: Decimal) -> list[str]:
    """How a number may stand in a note, in lower case: "107", "a hundred and seven", "one oh seven"; as figures only
    where it is beyond 999 or no whole number.
    """
    plain = format(value.normalize(), "f")
    if value != value.to_integral_value() or not 0 <= value < 1000:
        return [plain]
    hundreds, rest = divmod(int(value), 100)
    words = [below_hundred(rest)] if rest or not hundreds else [""]
    if hundreds:
        tail = f" and {words[0]}" if rest else ""
        one = below_hundred(hundreds)
        short = [f"{one} {'oh ' if rest < 10 else ''}{words[0]}"] if rest else []
        words = [f"{one} hundred{tail}", f"a hundred{tail}" if hundreds == 1 else "", *short]
    forms = [form for form in words if form]
    return [plain, *forms, *(form.replace("-", " ") for form in forms if "-" in form)]
