"""Numbers that a rule knows to be no fact of the vehicle: telephones, times of day, engine sizes, dogs and chairs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from saidspec.extract.component_words import plural
from saidspec.extract.distractor_rules import Distractor, DistractorTable, Phrases
from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity, number_at

ROW = frozenset({"and", ",", "to", "or", "-", "/", "&"})
NEAR = 9  # tokens to either side in which `near` words count


def no_fact(page: Passage, item: Quantity, table: DistractorTable) -> Distractor | None:
    """The rule that knows a number to be none, or None."""
    met = _met(page, item.start, item.number + 1, item.end, table, bool(item.dimension))
    return next(
        (
            table.rules[number]
            for number in sorted(met)
            if met[number] >= table.rules[number].needs and _holds(page, item, table.rules[number])
        ),
        None,
    )


def no_code(page: Passage, at: int, table: DistractorTable) -> Distractor | None:
    """The rule that knows a code to be none ("licence plate is ..."), or None."""
    met = _met(page, at, at + 1, at + 1, table)
    return next(
        (
            table.rules[number]
            for number in sorted(met)
            if table.rules[number].codes and met[number] >= table.rules[number].needs
        ),
        None,
    )


def _met(
    page: Passage, start: int, behind: int, end: int, table: DistractorTable, unit: bool = False
) -> dict[int, set[str]]:
    """Which word lists of which rules stand around tokens start..end; the unit, if there is one, begins at `behind`.

    A number with a unit is told by phrases that hold the unit ("kg dog"), not by what comes after it ("90 Nm star"),
    save by rules that are made for such numbers ("17 mm back in the box").  A hyphen parts nothing ("12-point").
    """
    behind += page.word(behind) == "-"
    end += page.word(end) == "-"
    met: dict[int, set[str]] = {}
    norm, rules = page.norm, table.rules
    begin = start - 1 if page.word(start - 1) == "-" else start  # "four-wheel drive", "a V-8"
    for place, phrases in zip(range(begin - 1, -1, -1), table.before, strict=False):
        for number, size in _told(phrases, norm, place, -1) if norm[place] in phrases else ():
            if rules[number].single and plural(page, place) and not _row(page, behind, end):
                continue  # "terminals five": what each of them has; but "pins 2 and 7"
            if page.word(place - size) not in rules[number].unlike and page.word(end) not in rules[number].unless:
                met.setdefault(number, set()).add("before")
    for first in {behind, end}:
        for place, phrases in zip(range(first, len(norm)), table.after, strict=False):
            for number, size in _told(phrases, norm, place, 1) if norm[place] in phrases else ():
                told = rules[number].unit or not unit or place == behind
                if told and page.word(place + size) not in rules[number].unless:
                    met.setdefault(number, set()).add("after")
    for place in range(max(page.sentence_start(start), start - NEAR), min(page.sentence_end(start), end + NEAR)):
        if norm[place] in table.near and not start <= place < behind:
            for number, _ in _told(table.near, norm, place, 1):
                met.setdefault(number, set()).add("near")
    return met


def _row(page: Passage, behind: int, end: int) -> bool:
    """Whether a number goes on as a row: "slots 3, 4 and 9", "pages 12 to 14"."""
    if end > behind and number_at(page, end - 1):
        return True
    return page.word(end) in ROW and number_at(page, end + 1)


def _told(phrases: Phrases, norm: list[str], at: int, step: int) -> list[tuple[int, int]]:
    """(rule, length) of the phrases that begin at a token (`step` 1) or end with it (`step` -1), one of their words."""
    found: list[tuple[int, int]] = []
    for size, told in phrases[norm[at]].items():
        words = tuple(norm[at : at + size] if step > 0 else norm[max(0, at + 1 - size) : at + 1])
        found += [(number, size) for number in told.get(words, ())]
    return found


def _holds(page: Passage, item: Quantity, rule: Distractor) -> bool:
    if (
        rule.codes
        or not rule.low <= item.value <= rule.high
        or (item.dimension and not rule.unit and "after" not in rule.needs)
    ):
        return False
    is_whole = item.value == item.value.to_integral_value()
    if (
        (rule.decimal and (is_whole or item.form == "fraction"))
        or (rule.whole and not is_whole)
        or ((item.form == "plural" or rule.form) and item.form != rule.form)
    ):
        return False
    if rule.figures and sum(len(_digits(page, at)) for at in _run(page, item)) < rule.figures:
        return False
    return not rule.after_mark or page.word(item.end) in (".", ",", "", "\n", "so", "and")


def _run(page: Passage, item: Quantity) -> list[int]:
    """The tokens of this number and of those that stand right beside it."""
    first = last = item.number
    while first and _joins(page, first - 1, -1):
        first -= 1
    while last + 1 < len(page) and _joins(page, last + 1, 1):
        last += 1
    return [i for i in range(first, last + 1) if page.lexemes[i].kind == "number"]


def _digits(page: Passage, at: int) -> str:
    """The figures of a number as said, leading noughts and all."""
    said = "".join(char for char in page.note.text[slice(*page.origin(at, at + 1))] if char.isdigit())
    return said or page.lexemes[at].text.replace(".", "")


def _joins(page: Passage, at: int, step: int) -> bool:
    if page.lexemes[at].kind == "number":
        return True
    other = at + step
    return page.word(at) == "-" and 0 <= other < len(page) and page.lexemes[other].kind == "number"


def known_numbers(
    page: Passage, numbers: dict[int, Quantity], table: DistractorTable, names: Iterable[int]
) -> dict[int, str]:
    """The tokens of all numbers that are known to be no fact, with the rule that knows; `names` are those that belong
    to a vehicle's name.
    """
    claimed = dict.fromkeys(names, "vehicle.name")
    for item in numbers.values():
        for at in _clock(page, item):
            claimed.setdefault(at, "distractor.clock")
        rule = no_fact(page, item, table)
        if rule:
            for at in range(item.start, item.end) if not rule.figures else _run(page, item):
                claimed.setdefault(at, rule.id)
            if rule.single:
                claimed.update(dict.fromkeys(_of_how_many(page, item, numbers), rule.id))
    return claimed


def _of_how_many(page: Passage, item: Quantity, numbers: dict[int, Quantity]) -> range:
    """"Position 3 of 5": the tokens of the number of places behind a place in a row."""
    places = numbers.get(item.end + 1) if page.word(item.end) == "of" else None
    if places is None or places.dimension or places.high is not None or places.value < item.value:
        return range(0)
    return range(places.start, places.end)


def _clock(page: Passage, item: Quantity) -> Iterator[int]:
    """The tokens of a time of day or a ratio: "5:30", "18:00", "ten past four", "a 50/50 mix"."""
    at, end = item.number, item.number + 2
    if end >= len(page) or page.lexemes[end].kind != "number" or page.lexemes[at].kind != "number":
        return
    mark, value, other = page.word(at + 1), item.value, page.lexemes[end].value or Decimal(0)
    touching = (
        page.lexemes[at].end == page.lexemes[at + 1].start and page.lexemes[at + 1].end == page.lexemes[end].start
    )
    hands = mark == ":" and touching and 0 <= value <= 24 and 0 <= other < 60
    after = mark == "after" and value in (5, 10, 20, 25) and 1 <= other <= 12 and (
        page.word(end + 1) in ("", ".", ",", "\n", "and", "already", "now", "when"))
    spoken = mark == "past" and 1 <= other <= 12 and value < 30
    to_hour = (
        mark == "to"
        and value in (5, 10, 20, 25)
        and 1 <= other <= 12
        and other < value
        and (not item.dimension and page.word(at - 1) not in ("from", "down"))
    )
    ratio = (
        touching
        and not item.dimension
        and ((mark in ("/", ":", "-") and value + other == 100) or (mark == ":" and other == 1))
    )
    if hands or spoken or after or to_hour or ratio:
        yield from range(at, end + 1)
