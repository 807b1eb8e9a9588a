"""Stock: bought, used and left over of each fluid, part and material, across vehicles, and what that leaves on hand.

Only what was stated counts: what is planned to be bought is not on the shelf.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from saidspec.record.entries import Entry
from saidspec.reference.units import convert, convertible
from saidspec.report.lines import line
from saidspec.report.parts import is_about, phrase, words
from saidspec.report.stock_values import Movement, Stock, StockItem, Way, trimmed
from saidspec.report.wording import quantity

WAYS: dict[str | None, Way] = {"bought": "bought", "added": "used", "used": "used", "installed": "used",
                               "left over": "left over"}  # fmt: skip
ORDER: tuple[Way, ...] = ("bought", "used", "left over")
# "two jugs | of | 5 quarts": what may stand between a number of containers and what one of them holds.
CONTAINERS = re.compile(r"^[\s\w-]{0,25}\bof\b\s*(?:[\w-]+\s+)?$")
SUM = Decimal("0.005")  # share by which a total may be rounded (common practice: half a per cent)
APART = Decimal("0.1")  # share by which said and worked-out rests may differ unremarked (common practice: 10 %)


@dataclass(frozen=True, slots=True)
class Figure:
    """One amount of one thing before it is put with others: `name` is the thing, `grade` its grade or number."""

    entry: Entry
    way: Way
    name: str
    grade: str
    amount: Decimal | None
    unit: str
    said: str
    marks: tuple[str, ...] = ()


def stock(entries: Sequence[Entry], title: str, day: date, part: str = "") -> Stock:
    """The stock from the entries of all vehicles in order of time; of things that `part` names where it is given."""
    told = without_totals(one_grade(figures([entry for entry in entries if entry.stands])))
    together: dict[tuple[frozenset[str], str, str], list[Figure]] = defaultdict(list)
    for figure in told:
        dimension = next((unit for unit in ("L", "kg") if convertible(figure.unit, unit)), figure.unit)
        together[_thing(figure), figure.grade, dimension].append(figure)
    items = [item_of(some) for some in together.values() if any(kept(figure) for figure in some)]
    items = [item for item in items if words(part) <= words(item.name)]
    return Stock(title, day, tuple(sorted(items, key=lambda item: (item.on_hand is None, item.name))))


def kept(figure: Figure) -> bool:
    """Whether a figure makes a thing one of the shelf: six bolts that were counted coming off are none."""
    return figure.way != "used" or bool(figure.unit or figure.grade) or figure.amount is None


def figures(entries: Sequence[Entry]) -> list[Figure]:
    """The amounts of things that entries state."""
    by_note: dict[int, list[Entry]] = defaultdict(list)
    for entry in entries:
        by_note[entry.note_id].append(entry)
    told = []
    for entry in entries:
        fact, beside = entry.fact, by_note[entry.note_id]
        way = WAYS.get(fact.role)
        if fact.kind == "volume" and way and fact.value is not None and fact.unit:
            told.append(_volume(entry, way, beside))
        elif fact.kind == "count" and way and fact.component and not _contained(entry, beside):
            told.append(Figure(entry, way, fact.component, _number(entry, beside), fact.value, "", quantity(fact)))
        elif fact.kind == "part_number" and way and fact.code and not _counted(entry, way, beside):
            told.append(Figure(entry, way, fact.component or "part", fact.code, Decimal(1), "", fact.code,
                               ("one piece taken: no number was said",)))  # fmt: skip
        elif fact.kind == "material" and fact.code:
            where = f"on {fact.component}" if fact.component else ""
            told.append(Figure(entry, "used", fact.code, "", None, "", where))
    return told


def one_grade(told: Sequence[Figure]) -> list[Figure]:
    """Figures of no said grade with those of the only grade on record, and marked so."""
    grades: dict[frozenset[str], set[str]] = defaultdict(set)
    for figure in told:
        if figure.unit and figure.grade:
            grades[words(figure.name)].add(figure.grade)
    made = []
    for figure in told:
        known = grades[words(figure.name)]
        if figure.unit and not figure.grade and len(known) == 1:
            (grade,) = known
            mark = f"grade not said: {grade} is the only one on record"
            figure = replace(figure, grade=grade, marks=(*figure.marks, mark))
        made.append(figure)
    return made


def without_totals(told: Sequence[Figure]) -> list[Figure]:
    """Without the sums that a note gives of what it told before: "six litres, then 200, so 6.2 in all"."""
    before: dict[tuple[int, Way, frozenset[str]], list[Decimal]] = defaultdict(list)
    kept_ones = []
    for figure in told:
        if figure.amount is None or not convertible(figure.unit, "L"):
            kept_ones.append(figure)
            continue
        amounts = before[figure.entry.note_id, figure.way, _thing(figure)]
        amount = convert(figure.amount, figure.unit, "L")
        if len(amounts) < 2 or abs(sum(amounts) - amount) > amount * SUM:
            kept_ones.append(figure)
            amounts.append(amount)
    return kept_ones


def _thing(figure: Figure) -> frozenset[str]:
    """The words of a thing of the shelf; a fluid is the same wherever on the vehicle it went."""
    if convertible(figure.unit, "L"):
        return frozenset(phrase(figure.name).order) or words(figure.name)
    return words(figure.name)


def item_of(some: Sequence[Figure]) -> StockItem:
    """One item from its figures in order of time, with what it leaves on hand."""
    bought = [figure.unit for figure in some if figure.way == "bought"]
    unit = bought[-1] if bought else some[-1].unit
    # What was bought on a day was there when it was used on that day, however the note tells it.
    ordered = sorted(some, key=lambda figure: (figure.entry.day or date.min, ORDER.index(figure.way)))
    movements = tuple(_movement(figure, unit) for figure in ordered)
    name = f"{min((one.name for one in some), key=len)} {some[-1].grade}".strip()
    on_hand, says = _rest(movements, StockItem(name, unit, ()))
    approximate = any(figure.entry.fact.approximate for figure in some)
    return StockItem(name, unit, movements, on_hand, approximate, says, some[-1].grade)


def _rest(movements: Iterable[Movement], item: StockItem) -> tuple[Decimal | None, tuple[str, ...]]:
    """What is on hand: the last rest that was said, and what was bought and used since."""
    rest: Decimal | None = None
    says = []
    unknown_use = 0
    for one in movements:
        if one.way == "left over" and one.amount is not None:
            if rest is not None and abs(rest - one.amount) > APART * max(rest, one.amount):
                told = f"said to be left over is {item.shown(one.amount)}"
                says.append(f"bought and used leave {item.shown(rest)}, {told}")
            rest, unknown_use = one.amount, 0
        elif one.way == "bought" and one.amount is not None:
            rest = (rest or Decimal(0)) + one.amount
        elif one.way == "used" and one.amount is None:
            unknown_use += 1
        elif one.way == "used" and rest is not None and one.amount is not None:
            rest -= one.amount
    if rest is None:
        says.append("nothing bought or left over is on record")
    elif rest < 0:
        says.append(f"{item.shown(-rest)} more used than bought: a purchase is not on record")
        rest = Decimal(0)
    if unknown_use and rest is not None:
        says.append("used without an amount since: less may be left")
    return (None if rest is None else trimmed(rest)), tuple(says)


def _movement(figure: Figure, unit: str) -> Movement:
    told = line(figure.entry)
    value = convert(figure.amount, figure.unit, unit) if figure.amount is not None and unit else figure.amount
    return Movement(told.id, figure.way, value, figure.said, figure.entry.vehicle, figure.entry.day, told.words,
                    (*figure.marks, *told.marks))  # fmt: skip


def _volume(entry: Entry, way: Way, beside: Sequence[Entry]) -> Figure:
    fact = entry.fact
    assert fact.value is not None
    name, value, said = fact.component or "fluid not clear from the words", fact.value, quantity(fact)
    marks: tuple[str, ...] = ()
    pieces = next((other for other in beside if _holds(other, entry)), None)
    if pieces is not None and pieces.fact.value is not None:
        value, said = value * pieces.fact.value, f"{pieces.fact.value:f} × {said}"
        marks = (f'number of containers from "{pieces.fact.provenance.quote}"',)
    grades = {
        other.fact.code for other in beside
        if other.fact.kind == "fluid" and other.fact.code and other.fact.component
        and (is_about(other.fact.component, name) or is_about(name, other.fact.component))
    }  # fmt: skip
    grade = next(iter(grades)) or "" if len(grades) == 1 else ""
    return Figure(entry, way, name, grade, value, fact.unit or "", said, marks)


def _holds(count: Entry, volume: Entry) -> bool:
    """Whether a count is one of containers that each hold a volume: "two jugs of 5 quarts"."""
    if count.fact.kind != "count" or count.fact.role not in ("bought", None) or volume.fact.role != "bought":
        return False
    if (count.note_id, count.context_start) != (volume.note_id, volume.context_start):
        return False
    gap = slice(count.fact.provenance.end - count.context_start, volume.fact.provenance.start - count.context_start)
    return gap.start < gap.stop and bool(CONTAINERS.match(count.context[gap]))


def _contained(count: Entry, beside: Iterable[Entry]) -> bool:
    return any(other.fact.kind == "volume" and _holds(count, other) for other in beside)


def _number(count: Entry, beside: Iterable[Entry]) -> str:
    """The part number said for the thing that was counted, where there is exactly one."""
    numbers = {other.fact.code for other in beside if _same_part(count, other)}
    return next(iter(numbers)) or "" if len(numbers) == 1 else ""


def _counted(number: Entry, way: Way, beside: Iterable[Entry]) -> bool:
    """Whether the pieces of a part number were counted in the same note."""
    return any(WAYS.get(other.fact.role) == way and _same_part(other, number) for other in beside)


def _same_part(count: Entry, number: Entry) -> bool:
    kinds = (count.fact.kind, number.fact.kind) == ("count", "part_number")
    return kinds and bool(count.fact.component) and count.fact.component == number.fact.component
