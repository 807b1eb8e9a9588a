"""What is still to do, as facts: of each plan its part, its action and its due date."""

from __future__ import annotations

from dataclasses import dataclass, field

from saidspec.discourse.reference import referent
from saidspec.extract.days import Day
from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES, MANY, ONE
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.plans import FRESH, NOTHING, Plan, plans
from saidspec.extract.scopes import Cues

# cues that alone make no plan of a part that is named beside them
WEAK = frozenset(
    {
        "'ll",
        "'ll be",
        "a",
        "are due",
        "before the next",
        "due",
        "goes on next",
        "going on",
        "going to",
        "gonna",
        "has to",
        "have to",
        "haven't yet",
        "i 'll",
        "is due",
        "later",
        "must",
        "must be",
        "next change",
        "next one",
        "next service",
        "next week",
        "next year",
        "once it 's here",
        "order",
        "should",
        "should do",
        "should get",
        "to do",
        "to go",
        "tomorrow",
        "will",
        "will be",
        "yet to",
    }
)
FLUIDS = {"oil", "fluid", "coolant", "antifreeze", "water", "electrolyte"}
TIMES = {"next", "last", "before", "after", "until", "when", "since", "once", "every"}


@dataclass(slots=True)
class Planned:
    """What the plans of a passage are made of, and the tokens that follow-ups have taken."""

    page: Passage
    days: list[Day]
    parts: dict[int, Mention]
    heard: list[Mention]  # the completed mentions, latest first
    operations: list[Draft]
    verbs: set[int]  # tokens at which an action is told
    taken: set[int] = field(default_factory=set)


def follow_ups(
    page: Passage, cues: Cues, drafts: list[Draft], days: list[Day], completed: dict[int, Mention]
) -> list[Draft]:
    """One follow-up for each planned thing; the operations that it tells become part of it."""
    parts = {start: item for start, item in completed.items() if item.words}
    heard = [completed[start] for start in sorted(completed, reverse=True) if completed[start].words]
    operations = [draft for draft in drafts if draft.kind == "operation" and not draft.dropped]
    verbs = {draft.anchor for draft in operations}
    planned = Planned(page, days, parts, heard, operations, verbs)
    made: list[Draft] = []
    for plan in plans(page, cues, days, parts, verbs, WEAK):
        if planned.taken & {*range(plan.start, max(plan.end + (not plan.action and not plan.item), plan.start + 1))}:
            continue
        item = _follow_up(planned, plan)
        if item is not None:
            made += [item, *_further(planned, plan, item)]
    for draft in planned.operations:
        draft.dropped = draft.dropped or draft.anchor in planned.taken
    return made


def _follow_up(planned: Planned, plan: Plan) -> Draft | None:
    page = planned.page
    verb = _verb(planned, plan)
    action = verb.term.id if verb else plan.action
    mention, start, end = _part(planned, plan, verb)
    if (action is None and (mention is None or not plan.strong)) or _tool(page, plan, verb):
        return None
    due = _due(planned, plan)
    first = (
        plan.first
        if plan.item
        else min(
            [
                plan.start,
                *([verb.start] if verb else []),
                *([start] if start < plan.start and start >= plan.first else []),
            ]
        )
    )
    last = max(
        [
            plan.end,
            *([verb.end] if verb else []),
            *([end] if end <= plan.last else []),
            *([due.end] if due and due.start >= plan.start else []),
        ]
    )
    last = plan.last if plan.item else max(last, first + 1)
    while last - 1 > first and page.lexemes[last - 1].kind == "mark":
        last -= 1
    planned.taken.update(range(first, last))
    if verb:
        planned.taken.update(range(verb.start, verb.end))
    return Draft(
        "follow_up",
        first,
        last,
        plan.start,
        mention,
        action=action,
        code=due.code if due else None,
        assertion="planned",
        cue=plan.id,
        rule=f"follow-up.{plan.id}",
        confidence=0.8 if verb or plan.action else 0.7,
    )


def _verb(planned: Planned, plan: Plan) -> Found | None:
    """The action of a plan: behind what says that it is planned, else before it ("replace it before summer")."""
    page = planned.page
    if plan.id == "plan-watch":
        return None
    actions = [
        found
        for at in range(plan.first, plan.last)
        if (found := page.starting("action", at)) and _meant(planned, plan, found)
    ]
    reach = plan.last if not plan.action else plan.end + 4
    behind = next((found for found in actions if plan.start - 1 <= found.start < reach), None)
    if behind or plan.item:
        return behind or next(iter(actions), None)
    return next(
        (found for found in reversed(actions) if found.term.detail == "base" and found.start not in planned.taken), None
    )


def _meant(planned: Planned, plan: Plan, found: Found) -> bool:
    """Whether a verb tells what is planned: in the past only behind "be" or "get", as a noun only where it is an
    action.
    """
    if planned.page.word(found.start - 1) in NOTHING:
        return False
    if found.term.detail == "past":
        return planned.page.word(found.start - 1) in ("be", "get", "gets", "to", "have") or _behind_get(
            planned.page, plan, found.start
        )
    return (
        found.start in planned.verbs
        or found.start <= plan.end
        or (found.term.detail == "base" and planned.page.word(found.start - 1) in ("to", "[", "]"))
    )


def _behind_get(page: Passage, plan: Plan, at: int) -> bool:
    """ "Get the brake hose changed", "need it replaced"."""
    return bool(
        {*page.words(max(plan.first, at - 6), at)} & {"get", "need", "want", "have", "getting", "needs", "wants"}
    )


def _part(planned: Planned, plan: Plan, verb: Found | None) -> tuple[Mention | None, int, int]:
    """(part, start, end) of a plan: the object of its verb, its subject, else what is talked of."""
    page, parts = planned.page, planned.parts
    start = verb.end if (verb and verb.start >= plan.start - 1) or (verb and plan.item) else plan.end
    if verb:
        inner = next((parts[at] for at in range(verb.start, verb.end) if at in parts), None)
        if inner:
            return inner, inner.start, inner.end
    if verb and "level" in page.words(verb.end, verb.end + 3):
        return _level(planned), verb.start, verb.end
    own = next((parts[at] for at in range(plan.start, plan.end) if at in parts), None)
    if own:
        return own, own.start, own.end
    word = ""
    begin = verb.start if verb and verb.start < plan.start else min(plan.end, start)
    for at in range(begin, plan.last):
        if at in parts and not (
            page.word(at - 1) in TIMES or (page.word(at - 2) in TIMES and page.word(at - 1) == "the")
        ):
            return parts[at], at, parts[at].end
        if page.word(at) in ONE | MANY and page.word(at + 1) not in ("side", "week", "time", "morning", "year"):
            if at + 1 in parts:
                continue
            word = page.word(at)
            break
    if not word:
        subject = next(
            (
                parts[at]
                for at in range(plan.start - 1, plan.first - 1, -1)
                if at in parts and parts[at].end <= plan.start
            ),
            None,
        )
        if subject:
            return subject, subject.start, subject.end
        word = next((page.word(at) for at in range(plan.first, plan.start) if page.word(at) in ONE | MANY), "")
    meant = referent(page, planned.heard, min(plan.start, plan.first + 1) if plan.item else plan.start, word)
    return meant, plan.start, plan.end


def _level(planned: Planned) -> Mention:
    """ "Check the level": that of the fluid spoken of last."""
    fluid = next((item for item in planned.heard if {*item.words} & FLUIDS and not item.fastener), None)
    words = tuple(word for word in fluid.words if word != "level") if fluid else ("fluid",)
    return Mention(0, 0, (*words, "level"), (), "part", fluid.system if fluid else "", False)


def _further(planned: Planned, plan: Plan, item: Draft) -> list[Draft]:
    """Further parts of a list: "a ground strap and new wiper blades"."""
    page, made = planned.page, []
    if item.mention is None or item.mention.start not in planned.parts or item.mention.start < plan.start:
        return []
    at, limit = item.mention.end, page.sentence_end(min(item.mention.start, len(page) - 1))
    while at < limit and page.word(at) in ("and", ",", "plus"):
        place = at + 1
        while page.word(place) in ARTICLES | {"new", "some", "and"} and place not in planned.parts and place - at < 4:
            place += 1
        other = planned.parts.get(place)
        if other is None or (
            page.word(other.end) not in ("", ",", ".", "and", "\n", ";", "too", "as", "by", "on", "before")
            and other.end < limit
        ):
            break
        made.append(
            Draft(
                "follow_up",
                at + 1,
                other.end,
                place,
                other,
                action=item.action,
                code=item.code,
                assertion="planned",
                cue=item.cue,
                rule=item.rule,
                confidence=item.confidence,
            )
        )
        planned.taken.update(range(at + 1, other.end))
        at = other.end
    return made


def _tool(page: Passage, plan: Plan, verb: Found | None) -> bool:
    """ "Needs a 32 mm socket": what is needed is a tool."""
    if plan.item:
        return False
    words = range(plan.end, min(plan.end + 5, plan.last, verb.start if verb else plan.last))
    return any(page.inside("shield", at) and not page.inside("material", at) for at in words) or "socket" in page.words(
        plan.end, plan.end + 5
    )


def _due(planned: Planned, plan: Plan) -> Day | None:
    """The day of a plan: in its clause, or right behind the comma that ends it."""
    today = planned.page.note.date.isoformat() if planned.page.note.date else ""
    sentence = planned.page.sentence_end(min(plan.start, len(planned.page) - 1))
    then = "then" in planned.page.words(plan.start, plan.last)
    first = planned.page.sentence_start(plan.start) if then else plan.first
    near = [
        day
        for day in planned.days
        if first <= day.start < min(plan.last + 4, sentence)
        and not (day.start > plan.last and planned.page.word(plan.last) in FRESH)
        and day.code > today[: len(day.code)]
    ]
    return next(iter(near), None)
