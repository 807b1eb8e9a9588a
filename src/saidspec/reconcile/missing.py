"""`missing`: the work was done, but something that it needs was never said.

Only where the note shows the work on that very fastener or fluid, and the sheet has a value for it or the note worked
on the part by name: a check that asks too often is soon ignored.
"""

from __future__ import annotations

import re

from saidspec.model import Fact, Flag, Specification
from saidspec.reconcile.case import Case, Outcome, in_speech, reference_of, severity, told_spec
from saidspec.reconcile.compare import compare_numbers
from saidspec.reconcile.cues import cue
from saidspec.reconcile.fluids import family
from saidspec.reconcile.jobs import Job, Need, names, shown_jobs
from saidspec.reconcile.phrase import read_phrase, words_of
from saidspec.reconcile.put_back import check_put_back
from saidspec.reconcile.spoken import said_as
from saidspec.reference.units import dimension

# Said at all, be it that it is still to do; "50 like the book says" is read as quoted and was done all the same.
DEALT_WITH = frozenset({"stated", "planned", "possible", "negated", "quoted"})
BEHIND = 30  # characters behind a part's name in which its number is looked for
NEVER_SAID: dict[str, str] = {
    "torque": "that the {part} was tightened",
    "volume": "how much {part} went in",
    "fluid": "which {part} went in",
    "odometer": "what the odometer read",
    "measurement": "what was measured on the {part}",
    "part_number": "the number of the {part}",
}


def counts_use(spec: Specification) -> bool:
    """Whether an interval has a distance or running hours, so that it is counted from a reading."""
    return any(dimension(unit) == "distance" or unit == "hour" for unit in (spec.unit, spec.or_unit))


def spec_for(case: Case, need: Need) -> Specification | None:
    """The sheet's specification of what is needed."""
    for what in filter(None, (need.what, need.or_what)):
        for spec in case.holding("interval" if need.kind == "odometer" else need.kind):
            phrase = read_phrase(spec.component, "torque", case.context.vocabulary)
            if names(case, phrase, what) and spec.role in (None, "capacity") and (
                    need.kind != "odometer" or counts_use(spec)):
                return spec
    return None


def part_words(case: Case, need: Need, spec: Specification | None) -> frozenset[str]:
    """All words by which the part may be called."""
    told = [need.what, need.or_what or "", spec.component if spec else ""]
    return frozenset().union(*(read_phrase(text, "torque", case.context.vocabulary).words for text in told))


def about_part(case: Case, fact: Fact, words: frozenset[str]) -> bool:
    """Whether a fact may be about the part: its component has no word that the part has not, fasteners' nouns aside, or
    ends in two of its words and was not matched with another part for certain."""
    said = case.phrase(fact)
    if said.core <= words | case.context.vocabulary.fasteners:
        return True
    found = case.match(fact)
    return len(said.words & words) >= 2 and said.head in words and found.certainty != "sure"


def named_beside(case: Case, need: Need, fact: Fact) -> bool:
    """Whether the part's own words are said right before a fact, whatever it was taken for: "new washer on the drain
    plug and tightened it"."""
    wanted = read_phrase(need.what, "torque", case.context.vocabulary).order[-2:]
    said = [word for _, word in words_of(case.near_text(fact, 60, 0), case.context.vocabulary)]
    return all(word in said for word in wanted)


def of_no_known_part(case: Case, fact: Fact, need: Need) -> bool:
    """Whether a torque is of something that ends like the part's name and is no part that is known otherwise: "front
    plate plug" may be a drain plug, a spark plug may not.
    """
    said, head = case.phrase(fact), read_phrase(need.what, "torque", case.context.vocabulary).head
    others = {(word, head) for word in said.core if word != head}
    return head is not None and said.head == head and case.match(fact).certainty == "none" and not (
        others & case.context.vocabulary.compounds)


def poured_as_needed(case: Case, fact: Fact, spec: Specification | None) -> bool:
    """Whether a volume, whatever it was taken for, is said to be filled in or is what the sheet wants."""
    if cue("filled").search(case.near_text(fact, 25, 0)[:-len(fact.provenance.quote)]):
        return True
    verdict = compare_numbers(fact, spec) if spec and fact.role == "added" else None
    return verdict is not None and verdict.agrees


def said_beside(case: Case, need: Need, spec: Specification | None) -> bool:
    """Whether the sheet's own number stands right behind the part's name, or its own grade anywhere, even where no fact
    came of it."""
    if spec is not None and spec.code and need.kind in ("fluid", "part_number"):
        text = case.reading.note.text.lower()
        return bool(re.search(rf"(?<![\w-]){re.escape(spec.code.lower())}(?![\w-])", text))
    if spec is None or spec.value is None:
        return False
    wanted = read_phrase(need.what, "torque", case.context.vocabulary).core
    text = case.reading.note.text.lower()
    for form in said_as(spec.value):
        for found in re.finditer(rf"(?<![\w.]){re.escape(form)}(?![\w]|[.,]\d)", text):
            if not in_speech(case, found.start()):
                continue
            before = {word for _, word in words_of(text[max(0, found.start() - BEHIND):found.start()],
                                                   case.context.vocabulary)}
            if len(wanted & before) >= min(2, len(wanted)):
                return True
    return False


def of_today(case: Case, fact: Fact) -> bool:
    """Whether an earlier reading may be that of the day: it is not said to be that of the last time."""
    before = case.around(fact)[0][-40:]
    return fact.assertion == "historical" and not cue("last-service").search(before) and not re.search(
        r"\b(?:ago|since|before)\b", before)


def dealt_with(case: Case, need: Need, spec: Specification | None) -> bool:
    """Whether the note says what is needed, or that it was not or is still to be done."""
    words = part_words(case, need, spec)
    text = case.reading.note.text.lower()
    if any(way in text for way in need.unless) or said_beside(case, need, spec):
        return True
    for fact in case.reading.facts:
        if fact.assertion not in DEALT_WITH and not (fact.kind == need.kind == "odometer" and of_today(case, fact)):
            continue
        if need.kind == "odometer":
            if fact.kind == "odometer":
                return True
            continue
        if fact.kind == need.kind and (need.kind != "volume" or fact.role != "drained") and (
                about_part(case, fact, words)
                or any(one.spec is spec for one in case.match(fact).candidates)):
            return True
        if need.kind == fact.kind == "fluid" and spec and family(fact.code or "") in {family(spec.code or "")} - {None}:
            return True
        if need.kind == fact.kind == "torque" and of_no_known_part(case, fact, need):
            return True
        if need.kind == "volume" and fact.kind == "volume" and poured_as_needed(case, fact, spec):
            return True
        if need.kind == "torque" and fact.kind in ("operation", "follow_up") and fact.action == "tighten" and (
                about_part(case, fact, words) or named_beside(case, need, fact)):
            return True
    return False


def mentioned(case: Case, need: Need, spec: Specification | None) -> bool:
    """Whether the note works on the part by name: a tool's size, a removal, a new washer on it."""
    for fact in case.reading.facts:
        if fact.assertion != "stated" or fact.kind not in ("operation", "size", "material"):
            continue
        said = case.phrase(fact)
        for text in filter(None, (need.what, need.or_what, spec.component if spec else None)):
            wanted = read_phrase(text, "torque", case.context.vocabulary)
            if said.core and said.core <= wanted.core and said.head == wanted.head and (
                    not wanted.fasteners or said.fasteners):
                return True
    return False


def flag_missing(case: Case, job: Job, shown: Fact, need: Need, spec: Specification | None) -> Flag:
    """The flag on something that was never said; its fact is the one that shows the work."""
    name = spec.component if spec else need.what
    reference = f" The sheet has {told_spec(spec)} ({spec.source})." if spec and need.kind != "odometer" else ""
    lacking = NEVER_SAID[need.kind].format(part=name)
    message = f"{name}: the note never says {lacking} (job: {job.name}): {need.why}.{reference}"
    grave = severity(case, spec) if spec and need.kind == "torque" else "look"
    return Flag("missing", grave, message, name, need.kind, shown.id,
                reference=reference_of(spec) if spec and need.kind != "odometer" else None)


def check_missing(case: Case) -> list[Outcome]:
    """`missing`: what the jobs of the note need and the note never says."""
    found: dict[tuple[str, str], Outcome] = {}
    for job, shown in shown_jobs(case):
        for need in job.needs:
            spec = spec_for(case, need)
            named = mentioned(case, need, spec)
            if not (spec is not None or (need.ask == "mentioned" and named)) or not (need.implied or named):
                continue
            if not dealt_with(case, need, spec):
                flag = flag_missing(case, job, shown, need, spec)
                found.setdefault((flag.component or "", flag.kind), flag)
    for flag in check_put_back(case):
        found.setdefault((flag.component or "", flag.kind), flag)
    return list(found.values())
