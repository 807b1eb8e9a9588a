"""What a clock shows as it is said: "eighty seven four fifty", "one twelve four oh six", "ninety eight five".

Tens of thousands, hundreds and the rest are numbers of their own, and one number beside words of an odometer.
"""

from __future__ import annotations

from decimal import Decimal

from saidspec.normalise.joins_across import CLOCK
from saidspec.normalise.number_words import Number
from saidspec.normalise.tokens import Token, word_at

HOURS = {"hours", "hour", "hobbs"}
AT = {"at", "by", "until", "till", "around", "about", "on"}  # before a reading told with the work done then
WORK = {"last", "done", "changed", "replaced", "before", "next", "due", "again", "since", "fitted"}
FEWEST = 13  # thousands: "the clock says ten five" is a time
METERS = {"meter", "metre", "hobbs", "counter", "clock", "engine"}
GAUGES = {"gauge", "indicator", "runout", "vernier", "depth"}  # a clock that measures hundredths of a millimetre
BEFORE_HUNDREDS = {"was", "at", "is", "'s", "reads", "says", "on", "shows", "showed", "read", "said", "odo", "odometer",
                   "clock", "mileage", "about", "around", "now", "reading", "showing", "done", "just", "say",
                   "had", "has"}
BEHIND_HUNDREDS = {"", ".", ",", "\n", "on", "now", "per", "by", "when", "and", "so", "miles", "mile", "km", "today",
                   "or", "which", "this", "last", "then", "but", "kilometres", "kilometers", "roughly"}


def whole_between(number: Number, low: int, high: int) -> bool:
    """A whole number from low to high that was said or written as one."""
    return number.value == int(number.value) and low <= number.value <= high and number.form in (
        "words", "figure", "digits", "chain")


def reading(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """The reading of an odometer that begins a run of numbers, and how many of them it takes."""
    if len(run) < 2:
        return None
    near = {token.lower for token in toks[max(0, run[0].first - 6) : run[0].last + 8]}
    if near.isdisjoint(CLOCK | HOURS):
        if _is_on(toks, run[0].first):
            return _hundreds(toks, run)
        at_work = word_at(toks, run[0].first - 1) in AT and not near.isdisjoint(WORK)
        if not at_work or len(run) < 3:
            return None
    parts = _parts(run) or _of_hours(run, near)
    if parts is None:
        measured = near & HOURS or near & GAUGES
        told = run[0].form == "words" or word_at(toks, run[0].first - 1) in ("at", "on", "reads", "says")
        return _hundreds(toks, run) if not measured and told else None
    used, value = parts
    form = "grouped" if run[0].form in ("figure", "scaled") and run[0].value >= 1000 else "chain"
    return Number(run[0].first, run[used - 1].last, Decimal(value), form, str(value), False), used


def _parts(run: list[Number]) -> tuple[int, int] | None:
    """How many numbers make a reading, and what it is."""
    first, second = run[0], run[1]
    rest = int(second.value) if second.value == int(second.value) and 100 <= second.value <= 999 else 0
    if first.form in ("figure", "scaled") and first.value >= 1000 and first.value % 1000 == 0:
        return (2, int(first.value) + rest) if whole_between(second, 100, 999) else None  # "87,000 412"
    said = second.form in ("words", "scaled", "digits")
    if first.form == "scaled" and 100 <= first.value <= 999 and rest and said:
        return 2, int(first.value) * 1000 + rest  # "a hundred and twelve four oh six"
    if first.form not in ("words", "digits"):
        return None
    tail = _tail(run, 2) if whole_between(first, 1, 9) and whole_between(second, 10, 99) else None
    if tail:  # "one twelve four fifty", "one twelve four oh six"
        return 2 + tail[0], (int(first.value) * 100 + int(second.value)) * 1000 + tail[1]
    if not whole_between(first, 10, 999):
        return None
    if len(run) > 2 and whole_between(second, 1, 9) and whole_between(run[2], 10, 99):
        return 3, int(first.value) * 1000 + int(second.value) * 100 + int(run[2].value)
    return (2, int(first.value) * 1000 + rest) if rest and said else None


def _of_hours(run: list[Number], near: set[str]) -> tuple[int, int] | None:
    """"Twenty nine seventy eight on the hour meter"."""
    pair = len(run) == 2 and all(number.form == "words" and whole_between(number, 10, 99) for number in run)
    return (2, int(run[0].value * 100 + run[1].value)) if pair and near & HOURS and near & METERS else None


def _tail(run: list[Number], at: int) -> tuple[int, int] | None:
    """The last three figures of a reading from number `at` of a run on: how many numbers they take, and their value."""
    if len(run) > at + 1 and whole_between(run[at], 1, 9) and whole_between(run[at + 1], 10, 99):
        return 2, int(run[at].value) * 100 + int(run[at + 1].value)
    three = len(run) > at and run[at].form in ("digits", "scaled") and 100 <= run[at].value <= 999
    return (1, int(run[at].value)) if three else None


def _is_on(toks: list[Token], at: int) -> bool:
    """"She's on 61 2": what a vehicle is on is its mileage."""
    return word_at(toks, at - 1) == "on" and word_at(toks, at - 2) in ("'s", "is", "was", "now")


def _hundreds(toks: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"Ninety eight five" on the clock: thousands and hundreds."""
    thousands, hundreds = run[0], run[1]
    if len(run) != 2 or thousands.form not in ("words", "figure") or hundreds.form != thousands.form or (
            hundreds.last - hundreds.first != 1 or not thousands.sure):
        return None
    if not whole_between(thousands, FEWEST, 999) or not whole_between(hundreds, 1, 9):
        return None
    if word_at(toks, thousands.first - 1) not in BEFORE_HUNDREDS or word_at(toks, hundreds.last) not in BEHIND_HUNDREDS:
        return None
    value = thousands.value * 1000 + hundreds.value * 100
    return Number(thousands.first, hundreds.last, value, "chain", str(value), False), 2


def with_half_thousands(_: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"One thirty three and a half thousand" is 133,500."""
    if len(run) < 2 or run[0].form != "words" or not whole_between(run[0], 1, 9) or run[0].last - run[0].first != 1:
        return None
    if run[1].form != "scaled" or not 10_000 <= run[1].value < 100_000 or run[1].value % 1000 != 500:
        return None
    value = run[0].value * 100_000 + run[1].value
    return Number(run[0].first, run[1].last, value, "scaled", str(value), False), 2


def fifty_eight_nine_hundred(_: list[Token], run: list[Number]) -> tuple[Number, int] | None:
    """"Fifty eight nine hundred" is 58,900 wherever it is said: it can be nothing else."""
    if len(run) != 2 or run[0].form != "words" or not whole_between(run[0], 10, 99) or (
            run[1].last - run[1].first != 2):
        return None
    if run[1].form != "scaled" or run[1].value % 100 or not 100 <= run[1].value <= 900:
        return None
    value = run[0].value * 1000 + run[1].value
    return Number(run[0].first, run[1].last, value, "chain", str(value), False), 2
