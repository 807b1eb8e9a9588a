"""Reasons to think that a figure was not meant for the part that it was put with, so that nobody is accused.

A false alarm costs more than a question left open: what is in doubt raises no `differs`.  Each doubt is a small
function from a difference to a reason, or None.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from difflib import SequenceMatcher

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import Case
from saidspec.reconcile.causes import Named, bare
from saidspec.reconcile.conditions import other_condition
from saidspec.reconcile.cues import cue
from saidspec.reconcile.neighbours import (
    accounted_for,
    another_beside,
    another_measure,
    has_its_figure,
    named_short,
    others_nearer,
    unclaimed_neighbour,
)
from saidspec.reconcile.other_vehicles import another_vehicle
from saidspec.reconcile.phrase import read_phrase, words_of
from saidspec.reconcile.question import Question
from saidspec.reconcile.settings import found_so, set_right, was_before
from saidspec.reconcile.support import alone, one_measured
from saidspec.reconcile.taken_back import (
    asked_again,
    first_step,
    put_right_later,
    right_number_next,
    taken_back,
    turned_round,
)
from saidspec.reconcile.unsaid_units import unit_unsaid
from saidspec.reference.units import convert, convertible, dimension

UNSURE = Decimal("0.5")  # confidence of a reading up to which nothing is called wrong
SHORT_NAME, SHORT_SURE = 2, Decimal("0.75")  # band of names that say less than the sheet's, and what they must reach
NO_FASTENER = 3  # band of names that say less than the sheet's and leave its fastener out: "slave cylinder 20"
CODES_ALIKE = 0.7  # share of characters in common from which two designations are of one thing
TOOL_SURE = 0.85  # confidence from which the size of a tool may be called wrong
HALF_SURE = Decimal("0.65")  # … up to which only a difference with a known cause is
BREATH, BREATH_OFF = 60, Decimal("1.6")  # characters before a figure for its part's name; ratio up to which it counts
FAR_OFF: dict[str, Decimal] = {"volume": Decimal("1.4")}
BY_CHANCE = Decimal(8)  # ratio beyond which another part's figure is met by chance
FAR_OFF_ELSE = Decimal(3)  # ratio beyond which a difference without a cause is no slip but another part's figure


def unsure_reading(on: Question) -> str | None:
    """A reading that is little sure of its number, unit or part."""
    case, fact, found = on.case, on.fact, on.found
    sure = Decimal(str(fact.provenance.confidence))
    if sure <= UNSURE:
        return "the reading is unsure"
    if found or fact.kind in ("fluid", "part_number"):
        return None
    band = match.candidates[0].band if (match := case.match(fact)).candidates else 0
    short = band >= SHORT_NAME and not only_one(on)
    loose = band > SHORT_NAME and not (band == NO_FASTENER and own_name(on) and only_one(on) and in_one_breath(on))
    half = (sure <= HALF_SURE and not in_one_breath(on)) or (short and sure < SHORT_SURE) or loose
    return "the reading is only half sure, and nothing explains the difference" if half else None


def own_name(on: Question) -> bool:
    """Whether a part is called by a word that is not only that of some plate, bracket or mount."""
    return bool(on.case.phrase(on.fact).core - on.case.context.vocabulary.generic)


def in_one_breath(on: Question) -> bool:
    """Whether the whole name of a part stands right before its figure, and the figure is no more than twice the sheet's
    or half of it: a reading that takes only the unit from elsewhere."""
    case, fact = on.case, on.fact
    ratio = how_far(fact, on.spec)
    if ratio is None or ratio > BREATH_OFF:
        return False
    start = fact.provenance.start
    before = [other.provenance.end for other in case.reading.facts
              if other.kind == fact.kind and other.assertion != "retracted" and other.provenance.end <= start]
    text = case.reading.note.text[max([0, start - BREATH, *before]):start]
    said = {word for _, word in words_of(re.split(r"[.!?]\s|\n", text)[-1], case.context.vocabulary)}
    phrase = case.phrase(fact)
    return bool(phrase.core) and phrase.core <= said and bool(not phrase.fasteners or phrase.fasteners & said)


def only_one(on: Question) -> bool:
    """Whether the sheet has no other part that the fact's words may mean, or none with this measured on it."""
    case, phrase = on.case, on.case.phrase(on.fact)
    quantity = read_phrase(on.spec.component, on.spec.kind, case.context.vocabulary).quantity
    measured = on.fact.kind == "measurement" and quantity is not None
    return alone(phrase, case.sheet, case.context) or (
        measured and one_measured(phrase, quantity or "", case.sheet, case.context))


def further_turn(on: Question) -> str | None:
    """A torque that is the further turn of the sheet in degrees: "140, and 90"."""
    fact, spec = on.fact, on.spec
    turn = fact.kind == "torque" and spec.angle is not None and fact.value == spec.angle
    return "it is the sheet's further turn in degrees" if turn else None


def cut_short(on: Question) -> str | None:
    """A part number that is the sheet's without its first or last characters, or with a word before it ("new one TF")
    in it: the number was not caught as it was said."""
    shorter, longer = sorted((bare(on.fact.code or ""), bare(on.spec.code or "")), key=len)
    cut = on.fact.kind == "part_number" and 3 <= len(shorter) < len(longer) and (
        longer.endswith(shorter) or longer.startswith(shorter))
    return "the number seems not to have been caught whole" if cut else None


def other_words(on: Question) -> str | None:
    """A part by a synonym of the sheet's name, in a note that has the sheet's own name for another figure."""
    case, fact = on.case, on.fact
    wanted, said = read_phrase(on.spec.component, on.spec.kind, case.context.vocabulary), case.phrase(fact)
    if said.core <= wanted.core or not (said.by_name or wanted.by_name):
        return None
    named = any(other.id != fact.id and case.phrase(other).core == wanted.core and other.value != fact.value
                for other in case.facts(fact.kind, ("stated", "quoted")))
    return "the note has the sheet's own name for another figure" if named else None


def came_off(on: Question) -> str | None:
    """A part number that is said to be that of the part which came off, or of one that was taken back."""
    where, text = on.fact.provenance, on.case.reading.note.text.lower()
    if on.fact.kind != "part_number":
        return None
    if cue("was-the-old").search(text[max(0, where.start - 40):where.start]) or cue("is-the-old").search(
            text[where.end:where.end + 40]):
        return "it is the number of what came off"
    return "it is the number of what was taken back" if cue("returned").search(text[where.end:where.end + 80]) else None


def other_number(on: Question) -> str | None:
    """Another number of a part that the note also says was fitted with the sheet's own number: this one came off."""
    if on.fact.kind != "part_number":
        return None
    own = bare(on.spec.code or "")
    fitted = any(other.id != on.fact.id and other.role != "removed" and bare(other.code or "") == own
                 for other in on.case.facts("part_number", ("stated",)))
    return "the sheet's own number was fitted" if fitted else None


def far_off(on: Question) -> str | None:
    """A number that is far from the specification and that no cause explains."""
    fact, spec, found = on.fact, on.spec, on.found
    ratio = how_far(fact, spec)
    if ratio is None or ratio <= FAR_OFF.get(fact.kind, FAR_OFF_ELSE):
        return None
    if not found:
        return "it is too far off to be a slip, and nothing explains it"
    chance = all(named.cause == "neighbour" for named in found) and ratio > BY_CHANCE
    return "it is another part's figure, but too far off to be taken for it" if chance else None


def how_far(fact: Fact, spec: Specification) -> Decimal | None:
    """The larger of two values over the smaller, where both measure the same."""
    unit = fact.unit or spec.unit
    if fact.value is None or spec.value is None or spec.unit is None or not convertible(unit, spec.unit):
        return None
    if dimension(spec.unit) == "temperature" or unit is None:
        return None
    said = convert(fact.value, unit, spec.unit)
    ends = [spec.value, spec.value_high] if spec.value_high is not None else [spec.value]
    ratios = [max(said, end) / min(said, end) for end in ends if end is not None and end > 0 and said > 0]
    return min(ratios, default=None)


def doubtful_claim(on: Question) -> str | None:
    """A quoted figure that something else may be meant by: what was done agrees, or its place was left open."""
    case, fact, spec, found = on.case, on.fact, on.spec, on.found
    if fact.assertion != "quoted":
        return None
    if accounted_for(case, spec, fact) or (found and found[0].cause == "neighbour"):
        return "what was done agrees with the sheet, or it is another part's figure"
    if fact.kind == "measurement" and not spec.bound and not any(named.cause != "neighbour" for named in found):
        return "a quoted measure may hold for other conditions"
    return None


def small_matter(on: Question) -> str | None:
    """The size of a tool, where another part's is said or the reading is not quite sure."""
    fact, spec, found = on.fact, on.spec, on.found
    if fact.kind != "size":
        return None
    if fact.code and spec.code:
        alike = SequenceMatcher(None, bare(fact.code), bare(spec.code)).ratio()
        return None if alike >= CODES_ALIKE else "another designation altogether is another part's"
    unsure = fact.provenance.confidence < TOOL_SURE and not in_one_breath(on)
    unsure |= bool(found) and found[0].cause == "neighbour"
    return "the tool may be for something beside it" if unsure else None


DOUBTS: tuple[Callable[[Question], str | None], ...] = (
    unsure_reading, far_off, unit_unsaid, others_nearer, turned_round, set_right, put_right_later,
    unclaimed_neighbour, doubtful_claim, small_matter, found_so, taken_back, right_number_next, asked_again,
    was_before, another_vehicle, another_beside, another_measure, named_short, has_its_figure, cut_short, further_turn,
    came_off, other_number, other_words, first_step, other_condition,
)  # fmt: skip


def doubt(case: Case, fact: Fact, spec: Specification, found: list[Named]) -> str | None:
    """The first reason to doubt that a difference is one, or None; `found` are the causes that explain it."""
    on = Question(case, fact, spec, found)
    return next((reason for tried in DOUBTS if (reason := tried(on))), None)
