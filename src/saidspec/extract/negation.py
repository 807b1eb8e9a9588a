"""The standing of statements in words: a finding, an action or a material is governed by cues of its own clause only.

A condition that was found is never planned; what was done ("pumped", "topped") is planned only behind "get", "be",
"need".
"""

from __future__ import annotations

from saidspec.extract.assertion import Cue, Cues, standing
from saidspec.extract.draft import Draft
from saidspec.extract.observations import OWN_NO
from saidspec.extract.passage import Passage

CLAUSE = 14  # tokens that a clause may be long
TURNS = {"and", "but", "so", "then", "because", "while", "also"}
PRESENT = {"is", "'s", "are", "'re", "looks", "has"}
PASSIVE = {
    "be",
    "get",
    "gets",
    "getting",
    "need",
    "needs",
    "want",
    "wants",
    "have",
    "having",
    "been",
    "being",
    "to",
    "is",
    "are",
}
NO_FINDING = {"planned", "condition"}


def stand(cues: Cues, draft: Draft) -> tuple[str, str | None]:
    """(assertion, id of the cue) of a draft: as for a value, but statements listen to their own clause."""
    if draft.kind == "observation":
        return _finding(cues, draft)
    assertion, cue = standing(cues, draft)
    if (
        assertion == "stated"
        and draft.kind == "operation"
        and cues.page.word(draft.anchor - 1) in ("never", "not", "didn't")
    ):
        return "negated", "negated-forward"
    if draft.kind == "operation" and assertion == "planned" and draft.manner == "past" and not _passive(cues, draft):
        return "stated", None
    return assertion, cue


def graded(draft: Draft) -> str | None:
    """The role of an observation with its standing: what is not so is fine, unless it should be ("doesn't hold
    pressure").
    """
    if draft.assertion != "negated":
        return draft.role
    own = (draft.finding or "").split(" ")[0] in OWN_NO
    return "watch" if draft.role == "ok" and not own else "ok"


def _finding(cues: Cues, draft: Draft) -> tuple[str, str | None]:
    page = cues.page
    if draft.anchor and page.lexemes[draft.anchor - 1].value == 0:
        return "negated", "zero"
    first = _clause_start(page, draft.anchor)
    present = bool({*page.words(max(first, draft.anchor - 4), draft.anchor)} & PRESENT)
    best: dict[str, Cue] = {}
    for cue in cues.by_token.get(draft.anchor, ()):
        if cue.category in NO_FINDING or (cue.category == "historical" and present):
            continue
        if cue.category not in ("negated", "other") and not cue.backward and cue.start < first:
            continue
        best[cue.category] = cue
    if "other" in best:
        return standing(cues, draft)
    for category in ("negated", "historical", "possible", "quoted"):
        if category in best:
            return category, best[category].id
    return "stated", None


def _clause_start(page: Passage, anchor: int) -> int:
    """The first token of the clause a finding stands in: behind the last mark or turning word."""
    at, first = anchor, max(page.sentence_start(anchor), anchor - CLAUSE)
    while at > first and page.lexemes[at - 1].kind != "mark" and page.word(at - 1) not in TURNS:
        at -= 1
    return at


def _passive(cues: Cues, draft: Draft) -> bool:
    page = cues.page
    start = max(
        (cue.start for cue in cues.by_token.get(draft.anchor, ()) if cue.category == "planned" and not cue.backward),
        default=None,
    )
    return start is None or bool({*page.words(start, draft.anchor)} & PASSIVE)
