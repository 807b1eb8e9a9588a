"""What a speaker takes back: the old reading becomes retracted and points to the new one.  Nothing is deleted."""

from __future__ import annotations

from itertools import pairwise

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import BE
from saidspec.extract.mention import same_places
from saidspec.extract.passage import Found, Passage

# Tokens between the old value and the correction, and between the correction and the new value.
STRONG_BEFORE, STRONG_AFTER = 12, 9
WEAK_BEFORE, WEAK_AFTER = 3, 4
BESIDE_BEFORE, BESIDE_AFTER = 3, 4  # within these a value is put right by the value beside it
FAR_AFTER = 14  # tokens to a new value that is told by "it's a"
REACH = 24
IT_IS = (("it", "'s"), ("it", "is"), ("it", "was"), ("they", "'re"), ("they", "are"))
TURNS_OFF = frozenset({"no", "nah", "nope", "correction", "sorry", "wait", "oops"})
TELLING = frozenset({"of", "the", "in", "on", "went", "back", "fresh", "new", "for"})
LATER = ("recall", "again", "swap")  # these put right what was said sentences before
CORRECTABLE = frozenset({"torque", "volume", "size", "measurement", "odometer", "cost", "count", "part_number", "fluid",
                         "interval", "duration", "date", "trouble_code"})
AFTER_NO = frozenset({",", ".", "...", "…", "it", "that", "this", "the", "they", "make", "a", "an", "-", "–", "not",
                      "wait", "sorry"})
EXCUSES = (["sorry"], ["wait"], ["pardon"], ["hang", "on"], ["hold", "on"])
AFTER_EXCUSE = frozenset({"about", "for", "if", "to", "until", "till", "on", "i", "ten", "let", "while", "time"})
AFTER_NUMBERED = frozenset({"mm", "mil", "nm", "n", "ft", "psi", "bar", "litre", "l", ","})
BEFORE_NUMBERED = frozenset({"the", "on", "of", "for", ",", ":", "*", "\n"})


def between(page: Passage, first: int, last: int) -> Found | None:
    """The correction that stands in tokens first..last, the strong one first."""
    weak = None
    corrections = page.at.get("correction", {})
    for at in range(first, last) if corrections else ():
        found = corrections.get(at)
        if found and found.end <= last and found.term.detail != "swap" and takes_back_at(page, found):
            if found.term.detail == "retract":
                return found
            weak = weak or found
    return weak


def takes_back_at(page: Passage, found: Found) -> bool:
    """"No" takes back before a mark, a value or "it's"; not in "no leaks" or "sorry about the noise"."""
    after, said = page.word(found.end), page.norm[found.start : found.end]
    if said == ["no"]:
        return not numbered(page, found.start) and not _called_by_number(page, found.start) and (after in AFTER_NO or (
            found.end < len(page) and page.lexemes[found.end].kind in ("number", "code")))
    if (said == ["rather"] and after == "than") or page.word(found.start - 1) in ("unless", "if"):
        return False
    if said == ["well"]:  # "12, well, 13"; not "22 as well"
        behind = {lex.kind for lex in page.lexemes[max(0, found.start - 2) : found.start]}
        return page.word(found.start - 1) != "as" and not {"number", "mark"}.isdisjoint(behind)
    if said in EXCUSES:
        return after not in AFTER_EXCUSE
    if said == ["not", "that"]:  # "25, not that, 30"; but "so it's not that", "not that tight"
        return page.word(found.start - 1) not in BE and (after in AFTER_NO or after in ("", "\n") or (
            page.lexemes[found.end].kind in ("number", "code")))
    if said in (["actually"], ["in", "fact"]):
        return page.same_sentence(found.start - 1, found.start) if found.start else False
    return True


def numbered(page: Passage, at: int) -> bool:
    """"No. 3": the full stop touches the "no" and a small whole number without a unit follows."""
    if page.words(at, at + 2) != ["no", "."] or at + 2 >= len(page) or (
            page.lexemes[at].end != page.lexemes[at + 1].start):
        return False
    lex = page.lexemes[at + 2]
    return lex.kind == "number" and lex.value is not None and lex.value == int(lex.value) and 1 <= lex.value <= 12 and (
        page.word(at + 3) not in AFTER_NUMBERED or page.word(at - 1) in BEFORE_NUMBERED)


def _called_by_number(page: Passage, at: int) -> bool:
    """"No 2 was 104", at the start of what is said: number two of a row, and nothing is taken back."""
    lex = page.lexemes[at + 1] if at + 1 < len(page) else None
    return lex is not None and lex.kind == "number" and lex.value is not None and 1 <= lex.value <= 12 and (
        page.word(at - 1) in ("", "\n")) and page.word(at + 2) in BE | {"had", "has", "got", "opened", "reads"}


def narrows(page: Passage, first: int, last: int) -> bool:
    """"No, the two at the back are eights": a subject of its own that is a part of what stood before."""
    words = page.words(first, last)
    return any(word in ("the", "these", "those") and (
        words[at + 1] in page.classes.narrowing or (words[at + 1].isdigit() and at + 2 < len(words))) and any(
            verb in BE or verb in ("take", "takes", "need") for verb in words[at + 2 :])
        for at, word in enumerate(words[:-1]))


def takes_back(page: Passage, old: Draft, new: Draft) -> Found | None:
    """The correction by which `new` replaces `old`, or None."""
    if old.kind not in CORRECTABLE or new.start <= old.end or new.start - old.end > REACH:
        return None
    found = between(page, old.end, new.start)
    if found is None or found.term.detail in LATER or page.sentence[new.start] - page.sentence[old.end - 1] > 2:
        return None
    before, after = _apart(page, old, found.start), new.start - found.end
    strong = found.term.detail == "retract"
    lead = FAR_AFTER if before <= BESIDE_BEFORE and _it_is(page, new) and page.norm[found.start] in TURNS_OFF else 0
    if before > (STRONG_BEFORE if strong else WEAK_BEFORE) or after > max(lead, STRONG_AFTER if strong else WEAK_AFTER):
        return None
    if new.kind != old.kind:
        return None
    if _same_value(old, new):
        return found if _of_the_other_part(page, old, new, after) else None
    if not lead and narrows(page, found.end, new.end):
        return None
    parts = (page.at.get("part", {}), page.at.get("fastener", {}))
    named = any(at in starts for starts in parts for at in range(found.end, new.start))
    if strong and before <= BESIDE_BEFORE and after <= BESIDE_AFTER and not named and new.manner != "copula":
        return found
    return found if _same_thing(old, new, found) and not _of_another(page, old, found, new.start) else None


def _it_is(page: Passage, new: Draft) -> bool:
    """"… no, there's no hex on it, it's a half inch": the new value is told with a verb of its own."""
    lead = page.words(new.start - 4, new.start)
    return any(pair in IT_IS for pair in pairwise(lead)) and "on" not in lead


def _of_the_other_part(page: Passage, old: Draft, new: Draft, after: int) -> bool:
    """"Variator nut is a 19, no, the nineteen's the clutch nut": the value was right, and the part wrong."""
    if old.mention is None or new.mention is None or after > WEAK_AFTER or not {"too", "also", "well"}.isdisjoint(
            page.words(new.end, new.end + 2)):
        return False
    mine, theirs = {*new.mention.words}, {*old.mention.words}
    return new.mention.start >= new.end and not (mine <= theirs or theirs <= mine)


def _of_another(page: Passage, old: Draft, found: Found, last: int) -> bool:
    """"30, no, that's the fill plug, the drain is 45": the part was wrong and not the value."""
    at = found.end
    while page.word(at) in page.classes.correction_links and at < last:
        at += 1
    part = page.starting("part", at) or page.starting("fastener", at)
    return at > found.end and part is not None and part.end < last and old.mention is not None and (
        not {*page.words(part.start, part.end)} <= {*old.mention.words}) and any(
            page.word(place) == "the" and page.word(place + 1) in old.mention.words for place in range(part.end, last))


def _apart(page: Passage, old: Draft, last: int) -> int:
    """Tokens from a value to what takes it back, without the words that tell of what it is and where it went.

    "Four quarts of engine oil in, no, five": the "no" stands right behind.
    """
    of = old.mention
    inside = range(of.start, of.end) if of is not None and of.start >= old.end else range(0)
    return sum(1 for at in range(old.end, last) if at not in inside and page.word(at) not in TELLING)


def _same_value(old: Draft, new: Draft) -> bool:
    return old.value == new.value and old.code == new.code and old.unit == new.unit and old.angle == new.angle


def _same_thing(old: Draft, new: Draft, found: Found) -> bool:
    """Whether the new value is about the thing of the old one: it names no other part of its own."""
    if old.kind == "measurement" and old.role and new.role and old.role != new.role:
        return False
    if new.mention is None or old.mention is None or (
            new.mention.start < found.start and new.manner in ("topic", "focus")):
        return True
    if new.manner == "modifier" and new.mention.general:
        return True
    mine, theirs = {*new.mention.words}, {*old.mention.words}
    return (mine <= theirs or theirs <= mine) and same_places(new.mention, old.mention)


def _heads_next(values: list[Draft], new: Draft) -> bool:
    """"No, make that 25 pad pin 16": the part behind the new value has a value of its own behind it."""
    part = new.mention
    return new.manner == "modifier" and part is not None and part.start >= new.end and any(
        0 <= draft.start - part.end <= 2 and draft.mention is not None and draft.mention.start == part.start
        and draft.kind == new.kind for draft in values if draft is not new)


def retract(page: Passage, drafts: list[Draft]) -> None:
    """Mark the values that are taken back; the value that replaces one takes over what it leaves unsaid."""
    values = [draft for draft in drafts if draft.kind in CORRECTABLE and not draft.back]
    used: set[int] = set()  # tokens of the words that took something back
    for old, new in pairwise(values):
        found = takes_back(page, old, new)
        if found is None:
            continue
        ahead = _heads_next(values, new)
        used.update(range(found.start, found.end))
        old.assertion, old.cue, old.replaced_by = "retracted", f"correction.{found.term.id}", new
        if ahead or (new.manner in ("focus", "topic", "none") and (
                new.mention is None or new.mention.start < found.start)):
            new.mention = old.mention
        elif new.manner in ("for", "modifier") and new.mention is not None and not new.mention.general:
            old.mention = new.mention
        if new.bare and old.unit:
            new.unit = old.unit
        new.role = new.role or old.role
    for draft in drafts:  # "I have read the wrong line": nothing is wrong with the part
        draft.dropped = draft.dropped or (draft.kind == "observation" and draft.anchor in used)
