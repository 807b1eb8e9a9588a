"""What was found: a condition and the part it is about."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import OWN_NO, PLACES
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.surroundings import Surroundings

# A finding that begins so tells where its part stands against what it names: "under the mark".
LEVELS = frozenset({"under", "below", "above", "over", "past", "off", "down"})
REACH = 14  # tokens from a part to the finding behind it
HAVING = frozenset({"had", "has", "have"})
PRONOUNS = frozenset({"one", "ones", "it", "they", "that", "those", "these"})
SEVERITIES = ("ok", "watch", "act")


def observation(around: Surroundings, found: Found) -> Draft:
    """A finding and its part: "leaks around the piston", "plug is tan", "green fuzz on the plus"."""
    page = around.page
    mention, manner = _found_on(around, found)
    severity = found.term.detail if found.term.detail in SEVERITIES else "watch"
    words = " ".join(page.lower(i) for i in range(found.start, found.end))
    draft = Draft("observation", found.start, found.end, found.start, mention, finding=words,
                  role=_role(around, found, mention, severity), rule=f"finding.{found.term.id}",
                  confidence=0.85 if manner != "focus" else 0.6, manner=manner)
    if severity == "ok" and page.word(found.start) in OWN_NO and (
            page.word(found.start + 1) not in ("bad", "too", "so", "half")):
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
    """The part of a finding, and how it was found: what it names, modifies or governs, else its subject or focus."""
    page = around.page
    inner = _own_part(around, found)
    if inner:
        return around.attention.completed(inner), "modifier"
    prior = [item for item in around.near.before(found.start, REACH) if item.end <= found.start]
    linked = bool(prior) and _linked(page, found, prior[0])
    if not ((linked and _predicate(page, found, prior[0])) or (prior and _of_pronoun(page, found))):
        item = around.near.by_start.get(found.end)
        left = page.word(found.end - 1) == "left" or _had(page, found)  # "plenty left caliper bolts 30"
        if item and item.words and not left and not (linked and _behind_word(page, found)):
            return around.attention.completed(item), "modifier"
        # "nothing wrong with", "paste on": the preposition is a word of the finding
        trailing = page.word(found.end - 1) in PLACES and found.end - found.start > 1
        item = around.governed(found.end - 1 if trailing else found.end, PLACES)
        if item and (item.words or not linked):
            return around.attention.completed(item), "for"
    if prior:
        return _subject(page, prior), "topic"
    copular = page.word(found.start - 1) in page.classes.finding_copulas
    meant = around.meant(found.start, "it" if copular else "")
    return meant, "focus" if meant else "none"


def _of_pronoun(page: Passage, found: Found) -> bool:
    """"The old one was full of leaves": said of what the pronoun stands for, and not of the part named behind."""
    return page.word(found.start - 1) in page.classes.finding_copulas and page.word(found.start - 2) in PRONOUNS and (
        page.word(found.end - 1) not in PLACES and page.word(found.end) not in PLACES)


def _linked(page: Passage, found: Found, prior: Mention) -> bool:
    """Nothing stands between a part and a finding but words and marks that link them, and other findings."""
    return all(page.norm[at] in page.classes.finding_links or page.inside("finding", at)
               or page.lexemes[at].kind == "mark" for at in range(prior.end, found.start))


def _had(page: Passage, found: Found) -> bool:
    """"The old one had cracks tensioner bolt is a 15": what a part had is not said of the next one."""
    return page.word(found.start - 1) in HAVING and page.lower(found.end - 1).endswith(("s", "ing"))


def _behind_word(page: Passage, found: Found) -> bool:
    """The finding goes on from the words before it: no mark and no article stands between."""
    return page.lexemes[found.start - 1].kind != "mark" and page.word(found.start - 1) not in ("a", "the", "some")


def _subject(page: Passage, prior: list[Mention]) -> Mention:
    """The subject of a finding: "the oil on the stick is milky" is about the oil."""
    if len(prior) > 1 and prior[0].words and prior[1].words:
        between = page.words(prior[1].end, prior[0].start)
        if between[:1] in (["on"], ["in"], ["inside"]) and len(between) <= 2:
            return prior[1]
    return prior[0]


def _own_part(around: Surroundings, found: Found) -> Mention | None:
    """The part that a finding names itself: "pedal goes to the floor", not "spoonful of oil in it" or "under the mark".
    """
    by_start, word = around.near.by_start, around.page.word
    if word(found.start) in LEVELS:
        return None
    inner = [by_start[at] for at in range(found.start, found.end) if at in by_start and by_start[at].words]
    end = word(found.end - 1)
    if not inner or end in PLACES or end in ("it", "them"):
        return None
    last = inner[-1]
    return last if last.start == found.start or (last.end == found.end and word(last.start - 1) != "of") else None


def _predicate(page: Passage, found: Found, prior: Mention) -> bool:
    """The finding is said of the part before it: "hose is soft near the clamp".

    "Bottom one is fine, no leaks around" is not: the leaks begin anew.
    """
    said = page.words(prior.end, found.start)
    if not said:
        return page.word(found.end) not in ("on", "in", "around", "from") or (
            page.word(found.start).endswith(("ed", "en", "y")))
    if page.word(found.start - 1) in ("no", "any", ",", "some", "and") or "there" in said or "there's" in said:
        return False
    return not page.classes.finding_copulas.isdisjoint(said) and (
        not any(page.inside("finding", at) for at in range(prior.end, found.start)))
