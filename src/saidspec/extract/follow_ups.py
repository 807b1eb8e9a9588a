"""What is still to do, as facts: of each plan its part, its action and its due date."""

from __future__ import annotations

from saidspec.extract.cues_said import Cues
from saidspec.extract.days import Day
from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES
from saidspec.extract.left_to_do import left_to_do
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.plan import Plan, denied
from saidspec.extract.planned import Planned, part_of, verb_of
from saidspec.extract.plans import FRESH, after_driving, not_yet, of_cues, of_verbs, orders, told
from saidspec.extract.recurring import recurring
from saidspec.extract.to_do_lists import items

BETWEEN_PARTS = ARTICLES | {"new", "some", "and"}  # "a ground strap and some new wiper blades"
AFTER_PART = frozenset({"", ",", ".", "and", "\n", ";", "too", "as", "by", "on", "before"})
NEAR_PLANS, SAME_PLAN = 4, 16  # follow-ups and tokens back in which one is the same thing to do
DUE_REACH = 4  # tokens behind the clause in which its day may stand


def follow_ups(page: Passage, cues: Cues, drafts: list[Draft], days: list[Day],
               completed: dict[int, Mention]) -> list[Draft]:
    """One follow-up for each planned thing; the operations that it tells become part of it."""
    parts = {start: item for start, item in completed.items() if item.words}
    operations = [draft for draft in drafts if draft.kind == "operation" and not draft.dropped]
    planned = Planned(page, days, parts, sorted(parts), operations, {draft.anchor for draft in operations})
    made: list[Draft] = []
    for plan in _plans(planned, cues):
        last = max(plan.end + (not plan.action and not plan.item), plan.start + 1)
        if not planned.taken.isdisjoint(range(plan.start, last)):
            continue
        item = _follow_up(planned, plan)
        if item is not None and not _told_before(page, made, item):
            made += [item, *_further(planned, plan, item)]
    for draft in planned.operations:
        draft.dropped = draft.dropped or draft.anchor in planned.taken
    return made


def _told_before(page: Passage, made: list[Draft], item: Draft) -> bool:
    """"Need to replace the belt next time" is one thing to do: its time is no plan of its own, but gives the date."""
    for other in reversed(made[-NEAR_PLANS:]):
        if other.mention is None or item.mention is None or item.action not in (None, other.action) or (
                abs(other.start - item.start) > SAME_PLAN or not page.same_sentence(other.start, item.start)):
            continue
        if (other.mention.words, other.mention.positions) == (item.mention.words, item.mention.positions):
            other.code = other.code or item.code
            return True
    return False


def _before_part(page: Passage, plan: Plan, mention: Mention | None) -> list[str]:
    """The two words before the part of a plan, where it is named in the plan's clause."""
    if mention is None or not plan.first <= mention.start < plan.last:
        return []
    return page.words(max(plan.first, mention.start - 2), mention.start)


def _plans(planned: Planned, cues: Cues) -> list[Plan]:
    """All plans, of those that overlap the most telling first."""
    page, days, parts = planned.page, planned.days, planned.parts
    found = [*items(page, parts), *told(page), *of_verbs(page, days, planned.verbs), *recurring(page, days, parts),
             *orders(page, parts, days), *of_cues(page, cues), *after_driving(page, days, planned.verbs),
             *left_to_do(page, parts, days)]
    return [*not_yet(page, planned.operations),
            *(plan for plan in found if not denied(page, plan) and not _heads(page, plan))]


def _heads(page: Passage, plan: Plan) -> bool:
    """A heading that says no more than that things are to do: "## Still to do"."""
    number = page.utterance[plan.start]
    said = page.note.utterances[number] if number < len(page.note.utterances) else None
    if said is None or not said.heading:
        return False
    return not any(page.inside(name, at) for name in ("part", "fastener", "short", "action")
                   for at in range(plan.first, plan.last) if page.utterance[at] == number)


def _follow_up(planned: Planned, plan: Plan) -> Draft | None:
    """The fact of a plan, and its tokens taken; None where neither an action nor a part is told."""
    page, verb = planned.page, verb_of(planned, plan)
    mention, start, end = part_of(planned, plan, verb)
    before = _before_part(page, plan, mention)
    new = mention is not None and mention.start >= plan.first and (mention.is_new or "new" in before)
    action = verb.term.id if verb else plan.action or ("replace" if new else None)  # "a new belt next time"
    told = mention is not None and (plan.strong or "do" in before)
    if (action is None and not plan.alone and not told) or _tool(page, plan, verb):
        return None
    due = _due(planned, plan)
    first, last = plan.first, plan.last
    if not plan.item:
        first = min(plan.start, verb.start if verb else plan.start, start if start >= plan.first else plan.start)
        last = max(plan.end, verb.end if verb else 0, end if end <= plan.last else 0,
                   due.end if due and due.start >= plan.start else 0, first + 1)
    while last - 1 > first and page.lexemes[last - 1].kind == "mark":
        last -= 1
    planned.taken.update(range(first, last))
    if verb:
        planned.taken.update(range(verb.start, verb.end))
    return Draft("follow_up", first, last, plan.start, mention, action=action, code=due.code if due else None,
                 assertion="planned", cue=plan.id, rule=f"follow-up.{plan.id}",
                 confidence=0.8 if verb or plan.action else 0.7)


def _further(planned: Planned, plan: Plan, item: Draft) -> list[Draft]:
    """Further parts of a list: "a ground strap and new wiper blades"."""
    page, parts = planned.page, planned.parts
    made: list[Draft] = []
    if item.mention is None or item.mention.start not in parts or item.mention.start < plan.start:
        return []
    at, limit = item.mention.end, page.sentence_end(min(item.mention.start, len(page) - 1))
    while at < limit and page.word(at) in ("and", ",", "plus"):
        place = at + 1
        while page.word(place) in BETWEEN_PARTS and place not in parts and place - at < 4:
            place += 1
        other = parts.get(place)
        if other is None or (page.word(other.end) not in AFTER_PART and other.end < limit):
            break
        made.append(Draft("follow_up", at + 1, other.end, place, other, action=item.action, code=item.code,
                          assertion="planned", cue=item.cue, rule=item.rule, confidence=item.confidence))
        planned.taken.update(range(at + 1, other.end))
        at = other.end
    return made


def _tool(page: Passage, plan: Plan, verb: Found | None) -> bool:
    """"Needs a 32 mm socket": what is needed is a tool."""
    if plan.item:
        return False
    words = range(plan.end, min(plan.end + 5, plan.last, verb.start if verb else plan.last))
    return any(page.inside("shield", at) and not page.inside("material", at) for at in words) or (
        "socket" in page.words(plan.end, plan.end + 5))


def _due(planned: Planned, plan: Plan) -> Day | None:
    """The first day to come of a plan: in its clause, or right behind the comma that ends it."""
    page = planned.page
    today = page.note.date.isoformat() if page.note.date else ""
    then = "then" in page.words(plan.start, plan.last)
    first = page.sentence_start(plan.start) if then else plan.first
    last = min(plan.last + DUE_REACH, page.sentence_end(min(plan.start, len(page) - 1)))
    fresh = page.word(plan.last) in FRESH
    return next((day for day in planned.days if first <= day.start < last and day.code > today[: len(day.code)]
                 and not (fresh and day.start > plan.last)), None)
