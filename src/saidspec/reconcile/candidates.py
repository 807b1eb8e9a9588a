"""The specifications that a fact may speak of, each with how close its name is and what says so."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.model import Fact, Sheet, Specification
from saidspec.reconcile.comparable import comparable, fact_quantity, spoken_quantity
from saidspec.reconcile.context import Context, says_in_order, says_tail
from saidspec.reconcile.phrase import Phrase, conflicting, read_phrase, unsaid_positions
from saidspec.reconcile.relate import HELD, another_fastener, relate
from saidspec.reconcile.support import alone, one_measured, support
from saidspec.reconcile.vocabulary import folded
from saidspec.reference.applicability import applies
from saidspec.reference.units import convertible

NAMED_BEFORE = 3  # band of a name that only stands before a figure
BANDS = (0, 1, 2, 2, 3, 4, 5, 5, 6)  # band of each relation, in the order of `relate`


@dataclass(frozen=True, slots=True)
class Candidate:
    """A specification that a fact may speak of."""

    spec: Specification
    phrase: Phrase
    band: int
    missing: frozenset[str]  # words of the sheet that the fact leaves out
    unsaid: frozenset[tuple[str, str]]  # positions of the sheet that the fact leaves out
    supported: bool
    open_option: bool
    why: str


def candidates_of(fact: Fact, phrase: Phrase, sheet: Sheet, context: Context) -> list[Candidate]:
    """Every specification of the vehicle that the fact may speak of."""
    found = []
    quantity = fact_quantity(fact, phrase, context) if fact.kind == "measurement" else None
    for spec in sheet.specifications:
        holds = applies(spec, sheet.vehicle)
        wanted = read_phrase(spec.component, spec.kind, context.vocabulary)
        if holds is False or not comparable(fact, spec, phrase, wanted, context) or conflicting(phrase, wanted):
            continue
        related = relate(phrase, wanted, fact.kind, quantity)
        if related is None and fact.kind in HELD and says_tail(context, fact, phrase, wanted):
            related = 3, wanted.core - phrase.core, "the note says its whole name right before it"
        if related is None:
            continue
        relation, missing, why = related
        missing -= wanted.modifiers
        measured = (quantity is not None and quantity == wanted.quantity
                    and one_measured(phrase, quantity, sheet, context))
        supported, says = (support(fact, phrase, wanted, missing, context, alone(phrase, sheet, context), measured)
                           if relation >= 3 else (True, ""))
        if relation >= 6 or (relation in (2, 5) and another_fastener(phrase, wanted)):
            supported = False
        found.append(Candidate(spec, wanted, BANDS[relation], missing, unsaid_positions(wanted, phrase), supported,
                               holds is None or bool(wanted.condition), why + (f"; {says}" if says else "")))
    return found


def named_before(fact: Fact, sheet: Sheet, context: Context) -> list[Candidate]:
    """The specification whose whole name stands before a measurement that was put with a part the sheet does not have:
    "relief valve pressure next, gauge on the test port, it made 175 bar"."""
    found = []
    for spec in sheet.specifications if fact.kind == "measurement" else ():
        wanted = read_phrase(spec.component, spec.kind, context.vocabulary)
        name = [word for word in wanted.order if word not in context.vocabulary.system_says]
        holds = applies(spec, sheet.vehicle)
        only_measure = folded(spec.component) in context.vocabulary.quantities  # "charging voltage"
        alike = spec.kind == fact.kind and convertible(fact.unit, spec.unit)
        if holds is False or not alike or (len(name) < 2 and not only_measure):
            continue
        if wanted.quantity and wanted.quantity == spoken_quantity(fact, context) and says_in_order(context, fact, name):
            band = 0 if only_measure else NAMED_BEFORE
            found.append(Candidate(spec, wanted, band, frozenset(), wanted.positions, True, holds is None,
                                   "the note says its whole name before it"))
    return found if len(found) == 1 else []


def of_one_measure(fact: Fact, phrase: Phrase, sheet: Sheet, context: Context) -> list[Candidate]:
    """The only specification whose name ends in the word for what is measured, where a fact's part has no other word:
    "lining 1.4 mm" for a brake shoe lining."""
    found = []
    for spec in sheet.specifications if fact.kind == "measurement" and len(phrase.words) == 1 else ():
        wanted = read_phrase(spec.component, spec.kind, context.vocabulary)
        holds = applies(spec, sheet.vehicle)
        named = folded(spec.component)[-1:] == phrase.order and phrase.order in context.vocabulary.quantities
        if named and holds is not False and convertible(fact.unit, spec.unit) and not conflicting(phrase, wanted):
            found.append(Candidate(spec, wanted, BANDS[3], frozenset(), unsaid_positions(wanted, phrase), True,
                                   holds is None, "nothing else in the sheet is called so"))
    return found if len(found) == 1 else []
