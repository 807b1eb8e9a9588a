"""Numbers that belong together although a grammar of numbers would part them: "two fifty", "148 312", "and 12".

Each join looks at neighbouring numbers and their context and answers the number they make, or None.
"""

from __future__ import annotations

import itertools
from decimal import Decimal

from saidspec.normalise.clock_readings import fifty_eight_nine_hundred, reading, whole_between, with_half_thousands
from saidspec.normalise.code_tokens import Code
from saidspec.normalise.joins_across import CLOCK, joined_across
from saidspec.normalise.number_words import Number
from saidspec.normalise.tokens import Token, word_at

SOCKET_UNITS = {"mm", "mil", "mill", "mils", "millimeter", "millimetre", "millimeters", "millimetres"}
CHARGED = {"battery", "batteries", "charging", "charge", "charges", "alternator", "volts", "volt", "voltage",
           "cranking"}
BEHIND_VOLTS = {"", "\n", ".", ",", ";", "at", "volts", "volt", "v", "with", "and", "now", "after", "when", "on", "in",
                "to", "before", "so", "cranking", "resting", "running", "overnight"}
TOLD_BY_FIGURES = {"torque", "odometer", "odo", "clock", "mileage", "reads", "torqued"}
COUNTING = {"all", "other", "last", "first", "remaining", "these", "those", "outer", "inner"}  # "all four seventeen"
POURED = {"quart", "quarts", "litre", "litres", "liter", "liters", "pint", "pints", "gallon", "gallons"}
NO_YEARS = {"newton", "newtons", "nm", "foot", "ft", "inch", "psi", "bar", "pounds", "lbs", "lb"}  # "nut 19, 35 Nm"
HUNDREDS = {"rpm", "revs", "miles", "mile", "hours", "km", "kilometers", "kilometres", "ohms", "kpa"}


def joined(toks: list[Token], numbers: dict[int, Number], codes: dict[int, Code]) -> dict[int, Number]:
    """The numbers outside of codes, neighbours joined, by first token."""
    inside = {i for code in codes.values() for i in range(code.first, code.last)}
    left = [number for first, number in sorted(numbers.items()) if first not in inside]
    made: list[Number] = []
    at = 0
    while at < len(left):
        run = [left[at]]
        while at + len(run) < len(left) and _adjacent(toks, run[-1], left[at + len(run)]):
            run.append(left[at + len(run)])
        made += _run(toks, run)
        at += len(run)
    return {number.first: number for number in joined_across(toks, made)}


def _adjacent(toks: list[Token], one: Number, other: Number) -> bool:
    return one.last == other.first and toks[other.first].start - toks[one.last - 1].end <= 1


def _run(toks: list[Token], run: list[Number]) -> list[Number]:
    """A run of numbers with nothing between them, joined from the left."""
    made: list[Number] = []
    at = 0
    run = _halves_parted(toks, run)
    while at < len(run):
        rest = run[at:]
        number, used = rest[0], 1
        alone = (fifty_eight_nine_hundred,) if len(run) == 2 else ()
        for join in (*alone, with_half_thousands, _single_figures, reading, _grouped, _year, _volts, _chain, _paired):
            found = join(toks, rest)
            if found:
                number, used = found
                break
        made.append(number)
        at += used
    return made


def _halves_parted(toks: list[Token], run: list[Number]) -> list[Number]:
    """"Mixed fifty fifty four quarts": half and half, and four quarts."""
    made: list[Number] = []
    for number in run:
        half = bool(made) and made[-1].value == 50 and made[-1].form == number.form == "words"
        if half and 50 < number.value < 60 and number.last - number.first == 2 and (
                word_at(toks, number.last) in POURED):
            middle = number.first + 1
            made += [Number(number.first, middle, Decimal(50), "words", "50"),
                     Number(middle, number.last, number.value - 50, "words", str(number.value - 50))]
        else:
            made.append(number)
    return made


def _single_figures(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"Torque 1 1 0", "odometer 8 4 1 0 0": the figures of a number, each by itself; not "cylinders 1 2 3"."""
    if word_at(toks, run[0].first - 1) not in TOLD_BY_FIGURES:
        return None
    digits = list(itertools.takewhile(lambda number: number.form == "figure" and len(number.digits) == 1, run))
    said = "".join(number.digits for number in digits)
    if len(said) < 3 or said in "0123456789" or said[0] == "0":
        return None
    return Number(run[0].first, digits[-1].last, Decimal(said), "digits", said, False), len(digits)


def _grouped(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"148 312": groups of three figures with a space between, at least four figures before or an odometer near."""
    if toks[run[0].first].kind != "figure" or not toks[run[0].first].lower.isdigit() or run[0].value < 1:
        return None
    used, text = 1, toks[run[0].first].lower
    if len(text) > 3:
        return None
    while used < len(run) and run[used].last - run[used].first == 1 and (
            toks[run[used].first].lower.isdigit() and len(toks[run[used].first].lower) == 3):
        text += toks[run[used].first].lower
        used += 1
    near = {token.lower for token in toks[max(0, run[0].first - 6) : run[0].last + 6]} if used > 1 else set()
    if used == 1 or (len(text) < 5 and near.isdisjoint(CLOCK)):
        return None
    return Number(run[0].first, run[used - 1].last, Decimal(text), "grouped", text, False), used


def _year(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"twenty twenty three", "nineteen ninety eight"."""
    if len(run) < 2 or run[0].value not in (19, 20) or run[0].form != "words" or run[1].form != "words":
        return None
    if not whole_between(run[1], 10, 99) or word_at(toks, run[1].last) in SOCKET_UNITS | NO_YEARS:
        return None
    if (run[0].value == 20 and run[1].value > 49) or word_at(toks, run[0].first - 1) in ("at", "to", "from", "about"):
        return None
    value = run[0].value * 100 + run[1].value
    return Number(run[0].first, run[1].last, value, "year", str(value)), 2


def _volts(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"Battery's twelve six five at rest", "charging at fourteen two": the point is left unsaid."""
    if len(run) < 2 or not whole_between(run[0], 10, 15) or run[0].form != "words":
        return None
    first, behind = run[0].first, word_at(toks, run[-1].last)
    digits = [number for number in run[1:] if number.form == "words" and whole_between(number, 1, 9)]
    pair = len(run) == 2 and run[1].form == "words" and whole_between(run[1], 10, 99)
    near = {token.lower for token in toks[max(0, first - 5) : first]} | {behind}
    if (len(digits) != len(run) - 1 and not pair) or len(run) > 3:
        return None
    if near.isdisjoint(CHARGED) or behind not in BEHIND_VOLTS:
        return None
    figures = "".join(str(number.value) for number in run[1:])
    return Number(first, run[-1].last, Decimal(f"{run[0].value}.{figures}"), "decimal", "", False), len(run)


def _chain(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"two fifty" is 250 and "one oh five" is read by the grammar; but "two ten millimeter bolts" are two bolts."""
    if len(run) < 2 or run[0].form != "words" or run[1].form not in ("words", "decimal") or (
            not whole_between(run[0], 1, 9)):
        return None
    if run[0].last - run[0].first != 1 or (word_at(toks, run[0].first - 1) in COUNTING and run[0].value > 1):
        return None
    if run[1].form == "decimal" and 10 <= run[1].value < 100 and run[1].sure:  # "one fourteen point three"
        return Number(run[0].first, run[1].last, run[0].value * 100 + run[1].value, "chain", "", False), 2
    if not whole_between(run[1], 10, 99):
        return None
    after = word_at(toks, run[1].last)
    if after == "inch" and word_at(toks, run[1].last + 1) in ("pound", "pounds", "lb", "lbs"):
        after = "pound"
    if (after in SOCKET_UNITS and run[1].value <= 36) or after in ("inch", "of", "by"):
        return None
    labels = len(run) > 2 and word_at(toks, run[2].last) in ("is", "'s", "was", "reads")  # "two is one ten three is 85"
    more = len(run) > 2 and run[2].form == "words" and run[2].value < 10 and not labels
    if after in ("bolts", "nuts", "screws", "studs") or more:
        return None
    value = run[0].value * 100 + run[1].value
    return Number(run[0].first, run[1].last, value, "chain", str(value), False), 2


def _paired(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"Twelve fifty rpm" is 1250, "twelve sixty volts" is 12.60: two numbers of two figures before such a unit."""
    if len(run) != 2 or any(number.form != "words" or not whole_between(number, 10, 99) for number in run):
        return None
    unit = word_at(toks, run[1].last)
    if unit in HUNDREDS:
        value = run[0].value * 100 + run[1].value
    elif unit in ("volt", "volts", "v") and 10 <= run[0].value <= 15:
        value = run[0].value + run[1].value / 100
    else:
        return None
    return Number(run[0].first, run[1].last, value, "chain", str(value), False), 2
