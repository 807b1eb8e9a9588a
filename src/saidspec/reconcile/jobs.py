"""What a job needs to be complete, its order and its cautions (data of patterns/jobs), and which jobs a note shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from saidspec.model import Fact, Kind
from saidspec.patterns import listed, rule_set
from saidspec.reconcile.case import Case
from saidspec.reconcile.fills import is_top_up
from saidspec.reconcile.phrase import Phrase, read_phrase
from saidspec.reconcile.relate import relate
from saidspec.reconcile.support import support

FIRST_WORDS = 6


@dataclass(frozen=True, slots=True)
class Need:
    """Something that the note should say for a job to be complete, and why."""

    what: str
    kind: Kind
    why: str
    or_what: str | None = None
    implied: bool = False  # doing the job works on it
    ask: str = "sheet"  # "sheet": only where the sheet has a value; "mentioned": also where the note works on the part
    unless: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Order:
    """An action that comes before another: "loosen gearbox oil filler plug"."""

    first: str
    then: str
    why: str


@dataclass(frozen=True, slots=True)
class Job:
    """A job: what it is about, the actions that show it, and what belongs to it."""

    id: str
    name: str
    of: str
    done: tuple[tuple[str, ...], ...]
    needs: tuple[Need, ...] = ()
    orders: tuple[Order, ...] = ()
    cautions: tuple[str, ...] = ()
    examples: tuple[tuple[str, str], ...] = ()


def read_job(data: dict[str, Any]) -> Job:
    """A job from its table in a pattern file."""
    needs = tuple(Need(need["what"], need["kind"], need["why"], need.get("or_what"), need.get("implied", False),
                       need.get("ask", "sheet"), tuple(listed(need.get("unless")))) for need in data.get("need", []))
    return Job(
        data["id"], data["name"], data["of"],
        tuple(tuple(action.strip() for action in actions.split("+")) for actions in data["done"]), needs,
        tuple(Order(order["first"], order["then"], order["why"]) for order in data.get("order", [])),
        tuple(caution["text"] for caution in data.get("caution", [])),
        tuple((example["text"], example["missing"]) for example in data.get("example", [])),
    )  # fmt: skip


@cache
def jobs() -> tuple[Job, ...]:
    """Every job of the pattern files."""
    return tuple(read_job(data) for file in rule_set().under("jobs") for data in file.data.get("job", []))


def speaks_of(case: Case, fact: Fact, part: str) -> bool:
    """Whether a fact's component is a part, or short for it where the note supplies the rest."""
    said = case.phrase(fact)
    wanted = read_phrase(part, "volume", case.context.vocabulary)
    related = relate(said, wanted, "volume")
    if related is None or related[0] > 3:
        return False
    if related[0] == 0:
        return True
    return support(fact, said, wanted, related[1], case.context, alone=False)[0]


def names(case: Case, phrase: Phrase, part: str) -> bool:
    """Whether a component of the sheet or of a fact is a part, the word oil left out or not: "hydraulic drain plug"."""
    wanted = read_phrase(part, "torque", case.context.vocabulary)
    return phrase.words - {"oil"} == wanted.words - {"oil"} or relate(phrase, wanted, "torque") in (
        (0, frozenset(), "same words"),) or (
        phrase.core - {"oil"} == wanted.core - {"oil"} and not phrase.fasteners - wanted.fasteners)


def acted(case: Case, job: Job, action: str) -> Fact | None:
    """The first stated fact that shows an action on what a job is about, or None."""
    told = list(case.by_kind.get("operation", []))
    if action in ("drain", "fill"):
        told += case.by_kind.get("volume", [])
    for fact in sorted(told, key=lambda one: one.provenance.start):
        hedged = fact.kind == "volume" and fact.assertion == "possible" and fact.role == "drained"
        if fact.assertion != "stated" and not hedged:  # "I reckon 28 litres came out" hedges the figure, not the deed
            continue
        shown = (fact.kind == "operation" and fact.action == action) or (
            fact.kind == "volume" and action == "drain" and fact.role == "drained") or (
            fact.kind == "volume" and action == "fill" and fact.role == "added" and not is_top_up(case, fact))
        if shown and speaks_of(case, fact, job.of):
            return fact
    return None


def shown_jobs(case: Case) -> Iterator[tuple[Job, Fact]]:
    """The jobs that the note shows as done, each with the first fact that shows it."""
    for job in jobs():
        for actions in job.done:
            shown = [acted(case, job, action) for action in actions]
            if all(shown) and shown[0] is not None:
                yield job, shown[0]
                break


def on_part(case: Case, action: str, part: str) -> Fact | None:
    """The first stated fact that an action was done on a part."""
    for fact in case.by_kind.get("operation", []) + case.by_kind.get("volume", []):
        did = (fact.kind == "operation" and fact.action == action) or (
            fact.kind == "volume" and action == "drain" and fact.role == "drained")
        if did and fact.assertion == "stated" and speaks_of(case, fact, part):
            return fact
    return None


def same_beginning(one: str, other: str) -> bool:
    """Whether two sentences begin with the same words, so that one of them is enough."""
    return one.casefold().split()[:FIRST_WORDS] == other.casefold().split()[:FIRST_WORDS]


def cautions_of(case: Case) -> list[str]:
    """The usual cautions of the jobs that the note shows, and what it did in another order than is usual."""
    told: list[str] = []
    for job, _ in shown_jobs(case):
        broken: list[str] = []
        for order in job.orders:
            first, then = (on_part(case, *text.split(" ", 1)) for text in (order.first, order.then))
            if then is not None and (first is None or first.provenance.start > then.provenance.start):
                told.append(f"{job.name}: {order.why} (the note does not say that it was).")
                broken.append(order.why)
        told += [f"{job.name}: {caution}" for caution in job.cautions
                 if not any(same_beginning(caution, why) for why in broken)]
    return list(dict.fromkeys(told))


