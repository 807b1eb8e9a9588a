"""The figures of the stock: each amount that entries state, and what thing it is an amount of.

One thing has many names: "oil" where the note speaks of engine oil, "clutch fluid" from the bottle of brake fluid.  A
grade names a fluid best; without one, words that say less are taken for the only fuller name of the same note.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from saidspec.reconcile.cues import cue
from saidspec.reconcile.fills import RESTATED_OFF, RESTATED_WITHIN, same_sum
from saidspec.reconcile.fluids import family
from saidspec.record.entries import Entry, by_note
from saidspec.reference.units import convert, convertible
from saidspec.report.counted import package, plural
from saidspec.report.parts import is_about, is_fluid, is_tool, phrase, words
from saidspec.report.stock_values import Way
from saidspec.report.wording import quantity

WAYS: dict[str | None, Way] = {"bought": "bought", "added": "used", "used": "used", "installed": "used",
                               "left over": "left over"}  # fmt: skip
# "two jugs | of | 5 quarts", "2 cans of oil, | one litre | each": containers and what one of them holds.
CONTAINERS = re.compile(r"^[\s\w-]{0,25}\bof\b\s*(?:[\w-]+\s+)?$")
EACH = re.compile(r"^\W{0,2}(?:each|apiece|a piece)\b")
TO_EACH = re.compile(r"^\W{0,2}(?:in|into|to|per|for|on)\s+(?:each|both|either|every)\b")
FOR_EACH = "said of each: it may be more"
IN_A_PACKAGE = re.compile(r"^[\s\w-]{0,25}\bof\b\s*(?:[\w-]+\s+)?(?:[\w-]+\s+)?$")  # between a number and what is in it
NEAR = 60  # characters between a number of containers and what each holds
Key = tuple[object, ...]


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
    held: str = ""  # the package that was counted: "tin", "set"
    stuff: bool = False  # a consumable, which fits any vehicle

    @property
    def fluid(self) -> bool:
        """Whether it is an amount of a fluid."""
        return convertible(self.unit, "L") or (not self.unit and is_fluid(self.name))

    @property
    def own(self) -> bool:
        """Whether it is of one vehicle: a filter without a number, which fits no other."""
        return self.entry.fact.kind == "count" and not self.grade and not self.fluid and not self.stuff

    def thing(self) -> Key:
        """What it is an amount of; figures of one thing are summed up."""
        size = next((unit for unit in ("L", "kg") if convertible(self.unit, unit)), self.unit)
        kind = family(self.grade) if self.fluid and self.grade else None
        name: object = kind or words(self.name)
        if kind is None and self.fluid:  # a fluid is the same wherever on the vehicle it went
            name = frozenset(phrase(self.name).order) or words(self.name)
        return name, self.grade, size, self.entry.vehicle if self.own else ""


def figures(entries: Sequence[Entry]) -> list[Figure]:
    """The amounts of things that entries state, without sums of what was told before."""
    notes = by_note(entries)
    told = [figure for entry in entries if (figure := _figure(entry, notes[entry.note_id])) is not None]
    stuff = {words(entry.fact.code) for entry in entries if entry.fact.kind == "material" and entry.fact.code}
    told = [replace(figure, stuff=words(figure.name) in stuff) for figure in told]
    told = one_grade(one_name(told, lambda figure: figure.entry.note_id))
    return without_totals(without_restated(one_name(told, lambda figure: figure.grade)))


def _figure(entry: Entry, beside: Sequence[Entry]) -> Figure | None:
    fact, way = entry.fact, WAYS.get(entry.fact.role)
    if fact.kind == "volume" and way and fact.value is not None and fact.unit:
        return _volume(entry, way, beside)
    if fact.kind == "count" and way and not _contained(entry, beside):
        return _counted_thing(entry, way, beside)
    if fact.kind == "part_number" and way and fact.code and not _counted(entry, way, beside):
        return Figure(entry, way, fact.component or "part", fact.code, Decimal(1), "", fact.code,
                      ("one piece taken: no number was said",))  # fmt: skip
    if fact.kind == "material" and fact.code and not is_tool(fact.code) and not _kept(entry, beside):
        where = f"on {fact.component}" if fact.component else ""
        return Figure(entry, "used", fact.code, "", None, "", where)
    return None


def _counted_thing(entry: Entry, way: Way, beside: Sequence[Entry]) -> Figure | None:
    """The figure of a count: of pieces, or of packages and what they hold; None where nothing tells of what."""
    fact, held = entry.fact, package(entry)
    grade = next((one for one in beside if held and one.fact.kind == "fluid" and _right_behind(entry, one)), None)
    name = fact.component or (grade and (grade.fact.component or "fluid")) or ""
    if not name:
        return None
    said = f"{fact.value:f}" if fact.value is not None else quantity(fact)
    if is_fluid(name):
        said = f"{said} {plural(held or 'container', fact.value)} (what each holds was not said)"
    elif held:
        said = f"{said} {plural(held, fact.value)}"
    number = (grade.fact.code if grade else None) or _number(entry, beside)
    return Figure(entry, way, name, number, fact.value, "", said, held=held)


def _right_behind(count: Entry, other: Entry) -> bool:
    """Whether something is named right behind the package that was counted: "half a bottle of | DOT 4"."""
    if (count.note_id, count.context_start) != (other.note_id, other.context_start):
        return False
    first, last = count.fact.provenance, other.fact.provenance
    between = count.context[first.end - count.context_start : last.start - count.context_start].lower()
    return first.start <= last.start < first.end or (first.end <= last.start and bool(IN_A_PACKAGE.match(between)))


def _kept(material: Entry, beside: Iterable[Entry]) -> bool:
    """Whether a consumable is named as what was bought or is left, and not as used: "got one tin of | cleaner"."""
    return any(other.fact.kind in ("count", "volume") and WAYS.get(other.fact.role) in ("bought", "left over")
               and other.stands and _right_behind(other, material) for other in beside)


def one_name(told: Sequence[Figure], among: Callable[[Figure], object]) -> list[Figure]:
    """Figures of a fluid said in short with the only fuller name `among` those of their note or grade: "oil" with
    "engine oil".
    """
    full: dict[object, set[str]] = defaultdict(set)
    for figure in told:
        if figure.fluid and among(figure):
            full[among(figure)].add(" ".join(phrase(figure.name).order))
    made = []
    for figure in told:
        short = " ".join(phrase(figure.name).order)
        fuller = {name for name in full.get(among(figure), ()) if name != short and is_about(name, short)}
        if figure.fluid and short and len(fuller) == 1:
            figure = replace(figure, name=fuller.pop(), marks=(*figure.marks, f'said as "{figure.name}"'))
        made.append(figure)
    return made


def one_grade(told: Sequence[Figure]) -> list[Figure]:
    """Figures of no said grade with those of the only grade on record of the vehicle, and marked so: what one vehicle
    takes tells nothing of another.  "atf" is its own grade.
    """
    grades: dict[object, set[str]] = defaultdict(set)
    every = {figure.grade.casefold(): figure.grade for figure in told if figure.fluid and figure.grade}
    for figure in told:
        if figure.fluid and figure.grade:
            grades[figure.entry.vehicle, replace(figure, grade="").thing()].add(figure.grade)
    made = []
    for figure in told:
        known = grades[figure.entry.vehicle, figure.thing()] if figure.fluid and not figure.grade else set()
        if figure.fluid and not figure.grade and figure.name.casefold() in every:
            figure = replace(figure, grade=every[figure.name.casefold()])
        elif len(known) == 1:
            (grade,) = known
            mark = f"grade not said: {grade} is the only one on record of this vehicle"
            figure = replace(figure, grade=grade, marks=(*figure.marks, mark))
        made.append(figure)
    return made


def without_restated(told: Sequence[Figure]) -> list[Figure]:
    """Without amounts that say the one before again in another unit: "48 oz, so a quart and a half"."""
    kept_ones: list[Figure] = []
    last: dict[Key, Figure] = {}
    for figure in told:
        key = (figure.entry.note_id, figure.way, *figure.thing())
        before = last.get(key)
        if before is not None and _says_again(before, figure):
            continue
        if convertible(figure.unit, "L"):
            last[key] = figure
        kept_ones.append(figure)
    return kept_ones


def _says_again(before: Figure, figure: Figure) -> bool:
    """Whether an amount is the one before in another unit, as the balance tells it (`fills.without_restated`)."""
    if before.amount is None or figure.amount is None or before.unit == figure.unit:
        return False
    if not convertible(figure.unit, "L") or before.entry.context_start != figure.entry.context_start:
        return False
    one, other = (convert(each.amount or Decimal(0), each.unit, "L") for each in (before, figure))
    start, end = before.entry.fact.provenance.end, figure.entry.fact.provenance.end
    between = before.entry.context[start - before.entry.context_start : end - before.entry.context_start].lower()
    close = figure.entry.fact.provenance.start - start < RESTATED_WITHIN
    return close and abs(one - other) <= one * RESTATED_OFF and bool(cue("said-again").search(between))


def without_totals(told: Sequence[Figure]) -> list[Figure]:
    """Without the sums that a note gives of what it told before: "six litres, then 200, so 6.2 in all".

    What a sum is, is the reconciler's to say (`fills.same_sum`, and words such as "in total").  Of a total that is more
    than was told before it the difference counts.
    """
    before: dict[Key, list[Decimal]] = defaultdict(list)
    kept_ones = []
    for figure in told:
        if figure.amount is None or not convertible(figure.unit, "L"):
            kept_ones.append(figure)
            continue
        amounts = before[(figure.entry.note_id, figure.way, *figure.thing())]
        amount = convert(figure.amount, figure.unit, "L")
        if amounts and same_sum(amount, amounts, said=bool(cue("total").search(_near(figure.entry, 10, 20)))):
            rest = amount - sum(amounts)
            if rest <= 0 or same_sum(amount, [*amounts, Decimal(0)]):
                continue
            amount, mark = rest, f"of {figure.said} in all, what was not told before"
            figure = replace(figure, amount=convert(rest, "L", figure.unit), marks=(*figure.marks, mark))
        kept_ones.append(figure)
        amounts.append(amount)
    return kept_ones


def _near(entry: Entry, before: int, after: int) -> str:
    """The words around those of an entry, in lower case."""
    start, end = (place - entry.context_start for place in (entry.fact.provenance.start, entry.fact.provenance.end))
    return entry.context[max(start - before, 0) : end + after].lower()


def _volume(entry: Entry, way: Way, beside: Sequence[Entry]) -> Figure:
    fact = entry.fact
    assert fact.value is not None
    name, value, said = fact.component or "fluid not clear from the words", fact.value, quantity(fact)
    marks: tuple[str, ...] = ()
    pieces = next((other for other in beside if _holds(other, entry)), None)
    if pieces is not None and pieces.fact.value is not None:
        value, said, way = value * pieces.fact.value, f"{pieces.fact.value:f} × {said}", "bought"
        marks = (f'number of containers from "{pieces.fact.provenance.quote}"',)
    if way == "used" and TO_EACH.match(_near(entry, 0, 20)[len(fact.provenance.quote) :]):
        marks = (*marks, FOR_EACH)
    grades = {
        other.fact.code for other in beside
        if other.fact.kind == "fluid" and other.fact.code and other.fact.component
        and (is_about(other.fact.component, name) or is_about(name, other.fact.component))
    }  # fmt: skip
    grade = next(iter(grades)) or "" if len(grades) == 1 else ""
    return Figure(entry, way, name, grade, value, fact.unit or "", said, marks)


def _holds(count: Entry, volume: Entry) -> bool:
    """Whether a count is one of containers that each hold a volume: "two jugs of 5 quarts"."""
    if count.fact.kind != "count" or count.fact.role not in ("bought", None):
        return False
    if (count.note_id, count.context_start) != (volume.note_id, volume.context_start):
        return False
    gap = slice(count.fact.provenance.end - count.context_start, volume.fact.provenance.start - count.context_start)
    if not 0 <= gap.start < gap.stop:
        return False
    if count.fact.role == "bought" and gap.stop - gap.start <= NEAR:
        said = count.context[volume.fact.provenance.end - count.context_start :].lower()
        if EACH.match(said) and (not count.fact.component or is_fluid(count.fact.component)):
            return True
    return volume.fact.role == "bought" and bool(CONTAINERS.match(count.context[gap]))


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
