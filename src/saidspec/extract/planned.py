"""What a plan is about: the action that is told in its clause, and the part that is to be worked on."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field

from saidspec.discourse.reference import referent
from saidspec.extract.days import Day
from saidspec.extract.draft import Draft
from saidspec.extract.grammar import BE, NEEDS, PRONOUNS
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.plan import NOTHING, Plan

TIMES = frozenset({"next", "last", "before", "after", "until", "when", "since", "once", "every"})
GETTING = frozenset({"get", "need", "want", "have", "getting", "needs", "wants"})
AFTER_PRONOUN = frozenset({"side", "week", "time", "morning", "year"})  # "this week" is no part
SAID_OF_SUBJECT = ("plan-do", "plan-sort", "plan-needs", "needs-doing")
SUBJECT_REACH = 8  # tokens that the name of a part may be long, with a small word behind it
NO_VERB = "plan-watch"  # says itself what is to do


@dataclass(slots=True)
class Planned:
    """What the plans of a passage are made of, and the tokens that follow-ups have taken."""

    page: Passage
    days: list[Day]
    parts: dict[int, Mention]  # completed mentions by their first token
    order: list[int]  # the first tokens of these, ascending
    operations: list[Draft]
    verbs: set[int]  # tokens at which an action is told
    taken: set[int] = field(default_factory=set)

    def heard(self, at: int) -> Iterator[Mention]:
        """The completed mentions that begin before a token, latest first."""
        return (self.parts[self.order[place]] for place in range(bisect_left(self.order, at) - 1, -1, -1))


def verb_of(planned: Planned, plan: Plan) -> Found | None:
    """The action of a plan: behind what says that it is planned, else before it ("replace it before summer")."""
    if plan.id == NO_VERB:
        return None
    actions = [found for at in range(plan.first, plan.last)
               if (found := planned.page.starting("action", at)) and _means_it(planned, plan, found)]
    reach = plan.end + 4 if plan.action else plan.last
    behind = next((found for found in actions if plan.start - 1 <= found.start < reach), None)
    if behind or plan.item:
        return behind or next(iter(actions), None)
    return next((found for found in reversed(actions)
                 if found.term.detail == "base" and found.start not in planned.taken), None)


def _means_it(planned: Planned, plan: Plan, found: Found) -> bool:
    """Whether a verb tells what is planned.

    In the past it does only behind "be" or "get" ("get the brake hose changed"), as a noun only where it is an action.
    """
    page, before = planned.page, planned.page.word(found.start - 1)
    if before in NOTHING:
        return False
    if found.term.detail == "past":
        return before in ("be", "get", "gets", "to", "have") or (
            not GETTING.isdisjoint(page.words(max(plan.first, found.start - 6), found.start)))
    return found.start in planned.verbs or found.start <= plan.end or (
        found.term.detail == "base" and before in ("to", "[", "]"))


def part_of(planned: Planned, plan: Plan, verb: Found | None) -> tuple[Mention | None, int, int]:
    """(part, start, end) of a plan: the object of its verb, its subject, else what is talked of."""
    parts = planned.parts
    if plan.alone:
        return None, plan.start, plan.end
    if verb:
        inner = _part_within(parts, verb.start, verb.end)
        if inner:
            return inner, inner.start, inner.end
        if "level" in planned.page.words(verb.end, verb.end + 3):
            return _level(planned), verb.start, verb.end
    own = _part_within(parts, plan.start, plan.end)
    if own:
        return own, own.start, own.end
    subject = _subject(planned, plan)
    if subject:
        return subject, subject.start, subject.end
    object_, word = _object(planned, plan, verb)
    if object_:
        return object_, object_.start, object_.end
    if not word:
        subject = next((parts[at] for at in range(plan.start - 1, plan.first - 1, -1)
                        if at in parts and parts[at].end <= plan.start), None)
        if subject:
            return subject, subject.start, subject.end
        word = next((word for word in planned.page.words(plan.first, plan.start) if word in PRONOUNS), "")
    at = min(plan.start, plan.first + 1) if plan.item else plan.start
    return referent(planned.page, planned.heard(at), at, word), plan.start, plan.end


def _subject(planned: Planned, plan: Plan) -> Mention | None:
    """"The battery wants replacing", "the blades are due": the part right before a plan that is said of it."""
    page = planned.page
    said = page.words(plan.start, plan.end)
    of_it = plan.id in SAID_OF_SUBJECT or said[-1:] == ["due"] or (
        said[:1] != [] and said[0] in NEEDS and page.word(plan.start + 1).endswith("ing"))
    if not of_it or plan.item:
        return None
    return next((planned.parts[at] for at in range(plan.start - 1, max(plan.first, plan.start - SUBJECT_REACH) - 1, -1)
                 if at in planned.parts and plan.start - 2 <= planned.parts[at].end <= plan.start), None)


def _part_within(parts: dict[int, Mention], first: int, last: int) -> Mention | None:
    return next((parts[at] for at in range(first, last) if at in parts), None)


def _object(planned: Planned, plan: Plan, verb: Found | None) -> tuple[Mention | None, str]:
    """(part, pronoun) behind the verb or the words of a plan, whichever comes first."""
    page, parts = planned.page, planned.parts
    begin = plan.end
    if verb:
        behind = verb.start >= plan.start - 1 or plan.item
        begin = verb.start if verb.start < plan.start else min(plan.end, verb.end) if behind else plan.end
    for at in range(begin, plan.last):
        timed = page.word(at - 1) in TIMES or (page.word(at - 2) in TIMES and page.word(at - 1) == "the")
        if at in parts and not timed:
            return parts[at], ""
        pronoun = page.word(at) in PRONOUNS and page.word(at + 1) not in AFTER_PRONOUN and page.word(at + 1) not in BE
        if pronoun and at + 1 not in parts:
            return None, page.word(at)
    return None, ""


def _level(planned: Planned) -> Mention:
    """"Check the level": that of the fluid spoken of last."""
    fluids = planned.page.classes.fluids | {"electrolyte"}
    heard = planned.heard(len(planned.page))
    fluid = next((item for item in heard if not item.fastener and not fluids.isdisjoint(item.words)), None)
    words = tuple(word for word in fluid.words if word != "level") if fluid else ("fluid",)
    return Mention(0, 0, (*words, "level"), (), "part", fluid.system if fluid else "", False)
