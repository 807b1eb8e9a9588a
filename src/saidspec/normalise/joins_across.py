"""Numbers joined over a word or mark that a recogniser put between: "87,400 and 12", "5. 2 quarts"; and their signs."""

from __future__ import annotations

from decimal import Decimal

from saidspec.normalise.number_words import Number
from saidspec.normalise.tokens import Token, word_at

CLOCK = {"odometer", "mileage", "clock", "miles", "mile", "km", "kilometers", "kilometres", "kms", "hours", "odo",
    "speedo", "hobbs", "counter", "dial"}
BROKEN_UNITS = {"quarts", "liters", "litres", "millimeters", "millimetres", "mm", "volts", "pints", "gallons", "bar",
    "ohms"}


def joined_across(toks: list[Token], numbers: list[Number]) -> list[Number]:
    """Joins over a word or mark between: "87,400 and 12", "5 point, two", "an inch and a quarter", "minus 31"."""
    made: list[Number] = []
    for number in numbers:
        last = made[-1] if made else None
        between = [token.lower for token in toks[last.last : number.first]] if last else []
        if last and between == ["and"] and last.form == "figure" and last.value >= 1000 and last.value % 100 == 0 and (
                number.value < 100 and "," in toks[last.first].lower):
            made[-1] = Number(last.first, number.last, last.value + number.value, "grouped", "", False)
            continue
        if last and between == [","] and _thousands(toks, last, number):
            made[-1] = Number(last.first, number.last, last.value + number.value, "grouped", "", False)
            continue
        if last and between == ["-"] and last.digits and "." in toks[last.last - 1].lower and number.value < 10 and (
                toks[last.last - 1].end == toks[last.last].start and toks[last.last].end == toks[number.first].start
                and last.value < Decimal("0.1") and number.value == int(number.value)):
            made[-1] = Number(last.first, number.last, Decimal(f"{last.value}{number.value}"), "decimal", "", False)
            continue
        if last and between == ["."] and _broken_decimal(toks, last, number):
            made[-1] = Number(last.first, number.last, Decimal(f"{last.value}.{number.digits}"), "decimal", "", False)
            continue
        made.append(_signed(toks, number))
    return made


def _thousands(toks: list[Token], last: Number, number: Number) -> bool:
    """"One hundred and twelve thousand, six hundred and forty miles": a recogniser's comma within a reading."""
    spoken = toks[last.last - 1].lower == "thousand" and toks[number.first].kind == "word"
    whole = number.value == int(number.value) and 100 <= number.value < 1000
    around = {word_at(toks, at) for at in (*range(last.first - 4, last.first), number.last)}
    return spoken and whole and last.value % 1000 == 0 and not around.isdisjoint(CLOCK)


def _broken_decimal(toks: list[Token], last: Number, number: Number) -> bool:
    """"Added 5. 2 quarts": a point that a recogniser took for the end of a sentence; a unit follows."""
    point = toks[last.last]
    return (last.form == number.form == "figure" and last.value < 100 and last.value == int(last.value)
        and len(number.digits) == 1
        and last.last - last.first == 1
            and point.start == toks[last.last - 1].end and toks[number.first].start == point.end + 1
            and word_at(toks, number.last) in BROKEN_UNITS and word_at(toks, last.first - 1) not in ("at", "to"))


def _signed(toks: list[Token], number: Number) -> Number:
    """With its sign: "minus 31", "−31" where the sign touches the figure and nothing stands before it."""
    before = number.first - 1
    word = word_at(toks, before)
    if (word in ("minus", "negative") and word_at(toks, before - 1) != "or"
        and not (before and toks[before - 1].kind == "figure")) or (word in ("-", "−", "–")
            and toks[before].end == toks[number.first].start and (
            before == 0 or (toks[before - 1].end < toks[before].start and toks[before - 1].kind != "figure"))):
        return Number(before, number.last, -number.value, number.form, number.digits, number.sure)
    return number
