"""What was found: a condition and the part it is about."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.surroundings import Surroundings

LINKS = {
    "is",
    "'s",
    "are",
    "was",
    "were",
    "'re",
    "looks",
    "look",
    "looked",
    "feels",
    "felt",
    "seems",
    "seemed",
    "got",
    "has",
    "had",
    "have",
    "a",
    "bit",
    "of",
    "pretty",
    "quite",
    "very",
    "really",
    "kind",
    "kinda",
    "sort",
    "little",
    "all",
    "both",
    "still",
    "also",
    "and",
    "the",
    "now",
    "some",
    "just",
    "too",
    "it",
    "in",
    "on",
    "so",
    "there",
    "there's",
    "come",
    "came",
    "gone",
    "went",
    "getting",
    "starting",
    "to",
    "be",
    "been",
    "only",
    "slightly",
    "rather",
    "well",
    "totally",
    "completely",
    "around",
    "that",
    "which",
    "they",
    "no",
    "not",
    "any",
    "few",
    "couple",
    "lot",
    "lots",
    "signs",
    "out",
    "up",
    "at",
    "back",
    "edge",
    "end",
    "full",
    "covered",
    "nice",
    "good",
    "old",
    "one",
    "ones",
    "sign",
    "fairly",
    "super",
    "more",
    "than",
    "them",
    "those",
    "being",
    "what",
    "looking",
    "isn't",
    "wasn't",
    "aren't",
    "weren't",
    "hasn't",
    "doesn't",
    "never",
    "about",
    "doing",
    "starts",
    "make",
    "makes",
    "making",
    "run",
    "runs",
    "ran",
}
COPULAS = {
    "is",
    "'s",
    "are",
    "was",
    "were",
    "'re",
    "looks",
    "look",
    "looked",
    "feels",
    "felt",
    "seems",
    "seemed",
    "got",
    "has",
    "had",
    "have",
    "isn't",
    "wasn't",
    "aren't",
    "weren't",
    "came",
    "gone",
    "went",
    "been",
    "hasn't",
    "haven't",
    "doesn't",
    "never",
}
PLACES = {
    "on",
    "in",
    "around",
    "from",
    "at",
    "of",
    "round",
    "inside",
    "under",
    "behind",
    "between",
    "near",
    "along",
    "across",
    "through",
    "off",
    "into",
    "with",
    "to",
    "out",
}
OWN_NO = {"no", "not", "zero", "without", "never", "isn't", "nothing"}


def observation(around: Surroundings, found: Found) -> Draft:
    """A finding and its part: "leaks around the piston", "plug is tan", "green fuzz on the plus"."""
    page = around.page
    mention, manner = _found_on(around, found)
    severity = found.term.detail if found.term.detail in ("ok", "watch", "act") else "watch"
    words = " ".join(page.lower(i) for i in range(found.start, found.end))
    draft = Draft(
        "observation",
        found.start,
        found.end,
        found.start,
        mention,
        finding=words,
        role=_role(around, found, mention, severity),
        rule=f"finding.{found.term.id}",
        confidence=0.85 if manner != "focus" else 0.6,
        manner=manner,
    )
    if (
        page.word(found.start) in OWN_NO
        and severity == "ok"
        and page.word(found.start + 1) not in ("bad", "too", "so", "half")
    ):
        draft.assertion, draft.cue = "negated", "negated-forward"
    return draft


def _role(around: Surroundings, found: Found, mention: Mention | None, severity: str) -> str:
    """How grave a finding is, which depends on the part: a dry seal is good, a dry slide pin is not."""
    said = " " + " ".join(mention.words) if mention else ""
    for grave in ("act", "watch"):
        if any(said.endswith(" " + part) for part in around.lexicon.told.get((found.term.id, f"{grave}_on"), ())):
            return grave
    return severity


def _found_on(around: Surroundings, found: Found) -> tuple[Mention | None, str]:
    """The part of a finding, and how it was found."""
    page, near = around.page, around.near
    end = (
        found.end - 1 if page.word(found.end - 1) in PLACES and found.end - found.start > 1 else found.end
    )  # "nothing wrong with", "paste on"
    inner = _own_part(around, found)
    if inner:
        return around.attention.completed(inner), "modifier"
    prior = [item for item in near.before(found.start, 14) if item.end <= found.start]
    said = page.words(prior[0].end, found.start) if prior else []
    linked = bool(prior) and all(
        word in LINKS or page.inside("finding", prior[0].end + i) or page.lexemes[prior[0].end + i].kind == "mark"
        for i, word in enumerate(said)
    )
    predicate = linked and _predicate(page, found, prior[0], said)
    item = near.by_start.get(found.end)
    if (
        item
        and item.words
        and not predicate
        and not (
            linked
            and page.lexemes[found.start - 1].kind != "mark"
            and page.word(found.start - 1) not in ("a", "the", "some")
        )
    ):
        return around.attention.completed(item), "modifier"
    item = None if predicate else around.governed(end, PLACES)
    if item and (item.words or not linked):
        return around.attention.completed(item), "for"
    if prior:
        return _subject(page, prior), "topic"
    meant = around.meant(found.start, "it" if page.word(found.start - 1) in COPULAS else "")
    return meant, "focus" if meant else "none"


def _subject(page: Passage, prior: list[Mention]) -> Mention:
    """The subject of a finding: "the oil on the stick is milky" is about the oil."""
    if len(prior) > 1 and prior[0].words and prior[1].words:
        between = page.words(prior[1].end, prior[0].start)
        if between[:1] in (["on"], ["in"], ["inside"]) and len(between) <= 2:
            return prior[1]
    return prior[0]


def _own_part(around: Surroundings, found: Found) -> Mention | None:
    """The part that a finding names itself: "pedal goes to the floor", "coolant in the oil", not "spoonful of
    oil in it".
    """
    by_start, word = around.near.by_start, around.page.word
    inner = [by_start[at] for at in range(found.start, found.end) if at in by_start and by_start[at].words]
    if not inner or word(found.end - 1) in PLACES | {"it", "them"}:
        return None
    last = inner[-1]
    return last if last.start == found.start or (last.end == found.end and word(last.start - 1) != "of") else None


def _predicate(page: Passage, found: Found, prior: Mention, said: list[str]) -> bool:
    """The finding is said of the part before it: "hose is soft near the clamp"; "bottom one is fine, no leaks
    around" is not.
    """
    if not said:
        return page.word(found.end) not in ("on", "in", "around", "from") or page.word(found.start).endswith(
            ("ed", "en", "y")
        )
    fresh = page.word(found.start - 1) in ("no", "any", ",", "some", "and") or any(
        page.inside("finding", at) for at in range(prior.end, found.start)
    )
    return bool({*said} & COPULAS) and not fresh and "there" not in said and "there's" not in said
