"""What is still to do: planned statements with their action, their part and their due date."""

from __future__ import annotations

from saidspec.extract.assertion import Cue, Cues
from saidspec.extract.components import Mention
from saidspec.extract.days import Day
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage

WEAK = {"will", "'ll", "must", "should", "due", "has to", "going to", "gonna", "buy", "order", "later", "to do", "next time"}
WATCHING = {"keep an eye on", "keep an eye", "watch for", "recheck", "re check", "retorque", "re torque"}


def follow_ups(page: Passage, cues: Cues, drafts: list[Draft], days: list[Day], completed: dict[int, Mention],
               attention_at: dict[int, Mention | None]) -> list[Draft]:
    """One follow-up for each planned statement; planned operations in its scope become part of it."""
    made: list[Draft] = []
    operations = sorted((draft for draft in drafts if draft.kind == "operation"), key=lambda draft: draft.start)
    done_until = -1
    for cue in sorted((cue for cue in cues.cues if cue.category == "planned"), key=lambda cue: (cue.start, -cue.end)):
        first, last = (cue.scope_start, cue.end) if cue.backward else (cue.start, cue.scope_end)
        last = _clause_end(page, cue, last)
        inside = [draft for draft in operations if first <= draft.start < last and not draft.dropped]
        if cue.start <= done_until and not [draft for draft in inside if draft.start > done_until]:
            continue
        item = _one(page, cue, first, last, [draft for draft in inside if draft.start > done_until or draft.anchor >= cue.start], days,
                    completed, attention_at)
        if item is None:
            continue
        for draft in inside:
            draft.dropped = True
        made.append(item)
        done_until = max(item.end, last) - 1
    return made + _ordered(page, operations, days, done_until, made)


def _clause_end(page: Passage, cue: Cue, last: int) -> int:
    """A plan ends where the next one begins: at a second "and", a semicolon, a dash."""
    for at in range(cue.end + 1, last):
        if page.word(at) in (";", "–", "—", "\n"):
            return at
    return last


def _one(page: Passage, cue: Cue, first: int, last: int, inside: list[Draft], days: list[Day],
         completed: dict[int, Mention], attention_at: dict[int, Mention | None]) -> Draft | None:
    said = " ".join(page.words(cue.start, cue.end))
    named = [completed[at] for at in range(first, min(last, len(page))) if at in completed and completed[at].words]
    due = next((day for day in days if first <= day.start < last + 2), None)
    action = inside[0].action if inside else None
    mention = inside[0].mention if inside and (inside[0].manner != "focus" or not named) else named[0] if named else None
    if action is None and said in WATCHING:
        action = "tighten" if "torque" in said else "inspect"
    if mention is None:
        mention = attention_at.get(cue.start)
    if not inside and not named and not (said in WATCHING or due and "next" in said or "need" in said or "due" in said):
        return None
    if not inside and said in WEAK and not due and not named:
        return None
    end = max([cue.end, *(draft.end for draft in inside), *(item.end for item in named[:1] if item.end <= last)])
    if due:
        end = max(end, due.end)
    start = min([cue.start, *(draft.start for draft in inside)]) if not cue.backward else (inside[0].start if inside else named[0].start if named else cue.start)
    start = max(first, min(start, cue.start))
    return Draft("follow_up", start, min(end, last + 2 if due else max(last, cue.end)), cue.start, mention, action=action,
                 code=due.code if due else None, assertion="planned", cue=cue.id, rule="follow-up." + cue.id, confidence=0.8)


def _ordered(page: Passage, operations: list[Draft], days: list[Day], done: int, made: list[Draft]) -> list[Draft]:
    """An order to oneself with a day that is still to come: "check the level on Monday"."""
    found = []
    taken = {at for item in made for at in range(item.start, item.end)}
    today = page.note.date.isoformat() if page.note.date else None
    for draft in operations:
        if draft.dropped or draft.manner != "base" or draft.start in taken:
            continue
        day = next((day for day in days if draft.end <= day.start <= draft.end + 5 and page.same_sentence(draft.start, day.start)), None)
        if day and day.relative and today and day.code > today:
            draft.dropped = True
            found.append(Draft("follow_up", draft.start, day.end, draft.start, draft.mention, action=draft.action, code=day.code,
                               assertion="planned", rule="follow-up.dated", confidence=0.8))
    return found

