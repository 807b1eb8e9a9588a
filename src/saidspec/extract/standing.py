"""The standing of every draft: values as the cues around them say, statements by the cues of their own clause only.

A condition that was found is never planned; what was done ("pumped", "topped") is planned only behind "get", "be",
"need".  What was paid, what is read off a meter and what comes due are settled by what they are.
"""

from __future__ import annotations

from saidspec.extract.assertion import SOURCES, standing
from saidspec.extract.cues_said import Cue, Cues
from saidspec.extract.draft import Draft
from saidspec.extract.grammar import LOOKING, OWN_NO
from saidspec.extract.mileage import off_the_meter
from saidspec.extract.passage import Passage

CLAUSE = 14  # tokens that a clause may be long
JOINING = frozenset({"or", "nor", "and", ",", "/"})  # "no cracks or leaks"
TURNS = frozenset({"and", "but", "so", "then", "because", "while", "also"})
PRESENT = frozenset({"is", "'s", "are", "'re", "looks", "has"})
PASSIVE = frozenset({"be", "get", "gets", "getting", "need", "needs", "want", "wants", "have", "having", "been",
                     "being", "to", "is", "are"})
NO_FINDING = ("planned", "condition")
SHOULD = frozenset({"should", "ought", "supposed", "meant"})  # a price that is expected
TOLD = ("source-says", "hearsay")  # of a finding that another one told
LOOKS = "looks-like"  # "looks like a crack" is what was found
OLD_PART = (["the", "old", "one", "was"], ["the", "old", "one", "were"])  # what came off today was so today
NONE = frozenset({"none", "any", "one"})  # of a cue that tells what was not found
KNOWN_NOW = ("cost.paid", "odometer.now")  # rules of values that are known whatever is said around them


def settle(cues: Cues, draft: Draft) -> None:
    """Give a draft its standing; what is said of another vehicle is dropped."""
    if draft.assertion == "stated" and not draft.back:
        draft.assertion, draft.cue = _standing(cues, draft)
    if _known(cues, draft) or (draft.assertion in ("quoted", "historical") and off_the_meter(cues.page, draft)):
        draft.assertion, draft.cue = "stated", None
    if draft.kind == "material" and draft.cue == "quoted-backward":
        draft.assertion, draft.cue = "stated", None  # "grease from the sachet, ninety grams it says on it"
    if draft.kind == "odometer" and draft.assertion == "quoted" and draft.cue not in SOURCES:
        draft.assertion, draft.cue = "stated", None  # "it says 145,600": the meter does
    if draft.kind == "part_number" and draft.assertion == "planned" and draft.role == "installed":
        draft.role = "bought"
    if draft.kind == "volume" and draft.assertion == "quoted":
        draft.role = _quoted_role(cues, draft)
    if draft.kind == "interval" and draft.assertion == "stated" and draft.role in ("every", "until"):
        draft.assertion = "planned"  # what is to be done after it
    if draft.assertion == "other":
        draft.dropped = True


def _quoted_role(cues: Cues, draft: Draft) -> str | None:
    """What a book says of a volume is the capacity, unless it says to pour or to drain it."""
    cue = next((cue for cue in cues.by_token.get(draft.anchor, ()) if cue.category == "quoted"), None)
    if cue is None or draft.role == "bought":
        return draft.role
    first = cue.end if not cue.backward else cues.page.sentence_start(draft.start)
    said = cues.page.words(first, draft.start) + cues.page.words(draft.end, draft.end + 3)
    return draft.role if cues.page.classes.pouring & {*said} else "capacity"


def _known(cues: Cues, draft: Draft) -> bool:
    """What was paid or is read now is known; a price is no specification."""
    if draft.kind == "cost" and draft.cue in ("quoted-forward", "quoted-backward"):
        return SHOULD.isdisjoint(cues.page.words(draft.start - 6, draft.start))
    return draft.rule in KNOWN_NOW and draft.assertion in ("possible", "planned", "historical") and (
        not (draft.cue or "").startswith("cost."))


def _standing(cues: Cues, draft: Draft) -> tuple[str, str | None]:
    """(assertion, id of the cue) of a draft: as for a value, but statements listen to their own clause."""
    if draft.kind == "observation":
        return _finding(cues, draft)
    assertion, cue = standing(cues, draft)
    if draft.kind == "operation":
        if assertion == "stated" and cues.page.word(draft.anchor - 1) in ("never", "not", "didn't"):
            return "negated", "negated-forward"
        if assertion == "planned" and draft.manner == "past" and not _passive(cues, draft):
            return "stated", None
        if assertion == "negated" and draft.action in LOOKING and _none_found(cues, draft):
            return "stated", None
    return assertion, cue


def _none_found(cues: Cues, draft: Draft) -> bool:
    """"Checked the hose for leaks, found none": what was looked for is not there, but it was looked for."""
    negating = [cue for cue in cues.by_token.get(draft.anchor, ()) if cue.category == "negated"]
    return all(cue.backward and not NONE.isdisjoint(cues.page.words(cue.start, cue.end)) for cue in negating)


def _finding(cues: Cues, draft: Draft) -> tuple[str, str | None]:
    """The standing of a finding: what is planned or supposed is none, and a cue of another clause is not about it."""
    page = cues.page
    if draft.anchor and page.lexemes[draft.anchor - 1].value == 0:
        return "negated", "zero"
    first = _clause_start(page, draft.anchor)
    present = not PRESENT.isdisjoint(page.words(max(first, draft.anchor - 4), draft.anchor))
    best: dict[str, Cue] = {}
    for cue in cues.by_token.get(draft.anchor, ()):
        if cue.category in NO_FINDING or cue.id == LOOKS or (
                cue.category == "historical" and (present or page.words(cue.start, cue.end) in OLD_PART)) or (
                cue.category == "quoted" and (cue.backward or cue.id not in TOLD)):
            continue
        if cue.category not in ("negated", "other") and not cue.backward and cue.start < first:
            continue
        if cue.category == "negated" and not cue.backward and _another_between(page, cue.end, draft.anchor):
            continue
        best[cue.category] = cue
    if "other" in best:
        return standing(cues, draft)
    for category in ("negated", "historical", "possible", "quoted"):
        if category in best:
            return category, best[category].id
    return "stated", None


def _another_between(page: Passage, first: int, last: int) -> bool:
    """"Doesn't smell burnt gray paste on it": a finding of its own stands between, and nothing joins the two."""
    at = next((at for at in range(first, last) if page.starting("finding", at)), None)
    return at is not None and JOINING.isdisjoint(page.words(at + 1, last))


def _clause_start(page: Passage, anchor: int) -> int:
    """The first token of the clause a finding stands in: behind the last mark or turning word."""
    at, first = anchor, max(page.sentence_start(anchor), anchor - CLAUSE)
    while at > first and page.lexemes[at - 1].kind != "mark" and page.word(at - 1) not in TURNS:
        at -= 1
    return at


def _passive(cues: Cues, draft: Draft) -> bool:
    """A verb in the past stands behind "get", "be" or "need" of the plan: "get the hose changed"."""
    starts = [cue.start for cue in cues.by_token.get(draft.anchor, ())
              if cue.category == "planned" and not cue.backward]
    if not starts:
        return True
    first = max((at + 1 for at in range(max(starts), draft.anchor) if cues.page.lexemes[at].kind == "number"),
                default=max(starts))  # "should be five adjusted two turns": behind the figure the deed is told
    return not PASSIVE.isdisjoint(cues.page.words(first, draft.anchor))


def graded(draft: Draft) -> str | None:
    """The role of an observation with its standing: what is not so is fine, unless it should be so.

    "Doesn't hold pressure" is a finding to watch; "no leaks" names its own "no" and is fine.
    """
    if draft.assertion != "negated":
        return draft.role
    own = (draft.finding or "").split(" ")[0] in OWN_NO
    return "watch" if draft.role == "ok" and not own else "ok"
