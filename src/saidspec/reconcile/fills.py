"""What was poured in of each fluid: which pours make one fill, in which measure, and whether it was a whole one."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from saidspec.model import Fact, Specification
from saidspec.reconcile.case import DONE, Case
from saidspec.reconcile.cues import cue
from saidspec.reconcile.phrase import Phrase, read_phrase
from saidspec.reference.units import IMPERIAL, convert, convertible, plain, rounded, show

SPLASH = Decimal("0.02")  # share of the largest pour up to which another is an additive or a rinse
POURED: frozenset[str | None] = frozenset({"added", "capacity", None})
RESTATED_WITHIN = 80  # characters
RESTATED_OFF = Decimal("0.08")
# Share by which a total may miss its parts and still be their sum: spoken sums are rounded, "2.6" for 2.55 (common
# practice).  The stock asks the same question, so that a pour that the balance takes for a total is used up once.
SAME_SUM = Decimal("0.02")


@dataclass(frozen=True, slots=True)
class Fill:
    """What was poured of one fluid at one place: the pours, the total said for them, and their sum in litres."""

    pours: tuple[Fact, ...]
    total: Fact | None
    litres: Decimal
    words: Phrase

    @property
    def last(self) -> Fact:
        """The fact that stands for the fill."""
        return self.total or self.pours[-1]


def system_unit(unit: str, system: str | None) -> str:
    """A unit of volume in the measure of a volume system."""
    return IMPERIAL.get(unit, unit) if system == "imperial" else unit


def spec_in(spec: Specification, system: str) -> Specification:
    """A capacity with its pints, quarts and gallons in the measure of a volume system."""
    return replace(spec, unit=system_unit(spec.unit, system)) if spec.unit else spec


def systems_to_try(case: Case, facts: tuple[Fact, ...], spec: Specification) -> tuple[str, ...]:
    """The volume systems in which the facts and the capacity may have been given, the sheet's first."""
    if not any(fact.unit in IMPERIAL for fact in facts) and spec.unit not in IMPERIAL:
        return ("us",)
    told = case.sheet.vehicle.volume_system
    return (told,) if told else ("us", "imperial")


def without_restated(case: Case, pours: list[Fact], system: str) -> list[Fact]:
    """The pours without those that say the one before again in another unit: "2.4 litres, that's two and a half
    quarts"."""
    kept: list[Fact] = []
    for fact in pours:
        before = kept[-1] if kept else None
        if before is not None and before.unit != fact.unit:
            one, other = litres(before, system) or Decimal(0), litres(fact, system) or Decimal(0)
            close = fact.provenance.start - before.provenance.end < RESTATED_WITHIN
            if close and abs(one - other) <= one * RESTATED_OFF and cue("said-again").search(
                    case.reading.note.text[before.provenance.end:fact.provenance.end].lower()):
                continue
        kept.append(fact)
    return kept


def litres(fact: Fact, system: str) -> Decimal | None:
    """The litres of a volume fact, or None where its unit is none of volume."""
    if fact.value is None or not fact.unit or not convertible(fact.unit, "L"):
        return None
    return convert(fact.value, system_unit(fact.unit, system), "L")


def is_top_up(case: Case, fact: Fact) -> bool:
    """Whether a pour is said to be a topping up."""
    return bool(cue("topping-up").search(case.near_text(fact, 40, 30)))


def total_among(case: Case, pours: list[Fact], system: str) -> Fact | None:
    """The pour that is the sum of the others: said as a total, or equal to what came before it."""
    for at, fact in enumerate(pours):
        amounts = [litres(one, system) or Decimal(0) for one in pours[:at]]
        amount = litres(fact, system) or Decimal(0)
        said = cue("total").search(case.near_text(fact, 10, 20))
        if at and same_sum(amount, amounts, said=bool(said)):
            return fact
    return None


def same_sum(amount: Decimal, before: Sequence[Decimal], *, said: bool = False) -> bool:
    """Whether an amount is the sum of two or more before it, but for rounding; or `said` to be a total and not less
    than half of what came before.
    """
    whole = sum(before, Decimal(0))
    return (said and amount >= whole / 2) or (len(before) > 1 and abs(amount - whole) <= whole * SAME_SUM)


def make_fill(case: Case, pours: list[Fact], system: str, words: Phrase) -> Fill:
    """The fill of some pours: the total said, else their sum."""
    pours = without_restated(case, pours, system)
    most = max(((litres(fact, system) or Decimal(0)) for fact in pours), default=Decimal(0))
    pours = [fact for fact in pours if (litres(fact, system) or Decimal(0)) > most * SPLASH] or pours
    total = total_among(case, pours, system)
    parts = tuple(fact for fact in pours if fact is not total)
    amount = litres(total, system) if total else sum((litres(fact, system) or Decimal(0) for fact in parts), Decimal(0))
    return Fill(parts, total, amount or Decimal(0), words)


def no_pour(case: Case, fact: Fact) -> bool:
    """Whether the words beside a volume say that it came out or what it cost, whatever role it was given."""
    end = fact.provenance.end
    return went_out(case, fact) or bool(cue("priced").search(case.reading.note.text[end:end + 25].lower()))


def went_out(case: Case, fact: Fact) -> bool:
    """Whether the words beside a volume say that it came out."""
    where, text = fact.provenance, case.reading.note.text
    after = re.split(r"[.,;!?\n]", text[where.end:where.end + 25])[0].lower()
    before = text[max(0, where.start - 30):where.start].lower()
    return bool(cue("came-out").search(after) or cue("drained").search(before))


def anothers(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a pour is the very capacity of another fluid of the sheet whose name the note has: "485 ml a leg"."""
    context, amount = case.context, litres(fact, "us")
    mine = read_phrase(spec.component, "volume", context.vocabulary).words
    for other in case.holding("volume"):
        if other is spec or amount is None or other.value is None or other.unit is None or other.value_high is not None:
            continue
        wanted = convert(other.value, other.unit, "L")
        own = read_phrase(other.component, "volume", context.vocabulary).words - mine
        named = bool(own) and all(context.last(word, fact.provenance.end) is not None for word in own)
        if named and abs(amount - wanted) <= wanted / 100:
            return True
    return False


def poured(case: Case, spec: Specification) -> list[Fact]:
    """The stated pours that were matched with a capacity."""
    facts = [fact for fact in case.facts("volume", DONE)
             if fact.role in POURED and case.match(fact).spec is spec and not no_pour(case, fact)
             and convertible(fact.unit, "L") and not anothers(case, fact, spec)]
    return [fact for fact in facts if fact.role == "added"] or facts  # what it takes is no further pour


def drained(case: Case, spec: Specification) -> bool:
    """Whether the note shows that the fluid was let out or changed, so that a fill is a whole one."""
    wanted = read_phrase(spec.component, "volume", case.context.vocabulary)
    for fact in case.reading.facts:
        if fact.assertion not in ("stated", "possible") or (fact.assertion == "possible" and fact.kind != "volume"):
            continue
        phrase = case.phrase(fact)
        same = bool(phrase.words & wanted.words) or not phrase.words
        if fact.kind == "volume" and same and (fact.role == "drained" or (phrase.words and went_out(case, fact))):
            return True
        if fact.kind == "operation" and fact.action in ("drain", "flush", "replace") and phrase.words & wanted.words:
            return True
    return False


def fills(case: Case, spec: Specification, system: str) -> list[Fill]:
    """The fills of a fluid: one for each place where the note pours into several (the two legs of a fork)."""
    facts = poured(case, spec)
    groups: dict[frozenset[tuple[str, str]], list[Fact]] = {}
    for fact in facts:
        groups.setdefault(case.phrase(fact).positions, []).append(fact)
    return [make_fill(case, group, system, case.phrase(group[0])) for group in groups.values()]


def told_fill(fill: Fill, system: str | None = None) -> str:
    """A fill for a sentence: as said, in the measure of a volume system, and its parts where there are several."""
    def told(fact: Fact) -> str:
        return show(fact.value or Decimal(0), system_unit(fact.unit, system) if fact.unit else None)

    if fill.total is not None and fill.total.value is not None:
        return told(fill.total)
    parts = " + ".join(told(fact) for fact in fill.pours if fact.value is not None)
    return parts if len(fill.pours) == 1 else f"{parts} = {plain(rounded(fill.litres))} L"


def whole_fills(case: Case, spec: Specification) -> Iterator[tuple[list[Fill], str]]:
    """The fills of a fluid in each volume system that may be meant, each place apart and then all together."""
    facts = tuple(poured(case, spec))
    for system in systems_to_try(case, facts, spec):
        apart = fills(case, spec, system)
        if apart:
            yield apart, system
        if len(apart) > 1:
            yield [make_fill(case, list(facts), system, apart[0].words)], system
