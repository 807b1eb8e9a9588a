"""Part numbers: equal but for separators, superseded, misspelt, or another part's."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import SequenceMatcher

from saidspec.model import Fact, Severity, Specification
from saidspec.reconcile.case import Case, Outcome, agreement
from saidspec.reconcile.causes import bare, causes
from saidspec.reconcile.difference import claim, difference_of, disagreement
from saidspec.reconcile.doubts import doubt
from saidspec.reconcile.phrase import conflicting, read_phrase, words_of
from saidspec.reference.applicability import applies

SHORT_NAME = 2  # the band of phrases that say less than the sheet's, where the note supplies the rest
ALIKE = 0.6  # … from which another number of a part that is named in short may be a slip of the right one
NAMED_WITHIN = 50  # characters before a number in which its part is named
CLOSE = 0.75  # share of characters in common from which two codes are readings of one number


def known_numbers(spec: Specification) -> set[str]:
    """A specification's number and those that it supersedes, without separators."""
    return {bare(code) for code in (spec.code or "", *spec.replaces) if code}


def alike(said: str, numbers: set[str]) -> float:
    """The share of characters that a number has in common with the nearest of some."""
    return max((SequenceMatcher(None, said, number).ratio() for number in numbers), default=0)


def named_right_before(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether the part that was named last before a number in its sentence, of those that the sheet has numbers of, is
    this one, whatever part the number was taken for: "belt kit TB-5115-L, pump WP-3321"."""
    vocabulary, start = case.context.vocabulary, fact.provenance.start
    heads = [read_phrase(other.component, "part_number", vocabulary).head for other in case.holding("part_number")]
    sentence = re.split(r"[.!?]\s|\n", case.reading.note.text[max(0, start - NAMED_WITHIN):start])[-1]
    named = [word for _, word in words_of(sentence, vocabulary) if word in heads]
    head = read_phrase(spec.component, "part_number", vocabulary).head
    return bool(named) and named[-1] == head and heads.count(head) == 1


def by_number(case: Case, fact: Fact) -> list[Specification]:
    """The specifications whose number the fact gives, or nearly gives, and whose part it does not contradict; of
    another place only where the number is the very one and the sheet has no such part at the place that was said.
    """
    said, phrase = bare(fact.code or ""), case.phrase(fact)
    exact, close, elsewhere = [], [], []
    for spec in case.holding("part_number"):
        wanted = read_phrase(spec.component, "part_number", case.context.vocabulary)
        numbers = known_numbers(spec)
        axis = conflicting(phrase, wanted)
        if axis and case.context.position(axis, fact.provenance.end) in wanted.along(axis) and said in numbers:
            exact.append(spec)  # "upper hose UH-71, lower LH-72"
            continue
        if axis:
            elsewhere += [spec] if said == bare(spec.code or "") and phrase.words & wanted.words else []
            continue
        if said in numbers:
            exact.append(spec)
        elif named_right_before(case, fact, spec) and alike(said, numbers) >= CLOSE:
            close.append(spec)
        elif phrase.words and not phrase.words & (wanted.words | wanted.bundle) and not phrase.bundle & wanted.bundle:
            continue
        elif alike(said, numbers) >= CLOSE:
            close.append(spec)
    return exact or close or (elsewhere if case.match(fact).certainty == "none" else [])


def never_named(case: Case, fact: Fact, spec: Specification) -> bool:
    """Whether a number is that of a part which the note never names, while it names another part of the sheet with it:
    the other part's number, and no slip in what it was put with."""
    found = case.match(fact)
    if found.certainty != "sure" or found.spec is spec or found.spec is None or found.candidates[0].band:
        return False
    own = read_phrase(spec.component, "part_number", case.context.vocabulary).words
    others = own - read_phrase(found.spec.component, "part_number", case.context.vocabulary).words
    return bool(others) and all(not case.context.spoken_at.get(word) for word in others)


def spec_of(case: Case, fact: Fact) -> tuple[Specification | None, bool, str]:
    """The specification that a part number is held against, whether that is certain, and why."""
    numbered = by_number(case, fact)
    found = case.match(fact)
    if len(numbered) == 1 and not never_named(case, fact, numbered[0]):
        same = (found.spec is numbered[0] or found.certainty != "sure"
                or named_right_before(case, fact, numbered[0]))
        place = conflicting(case.phrase(fact), read_phrase(numbered[0].component, "part_number",
                                                            case.context.vocabulary))
        aside = "another place was said" if place else found.why
        return numbered[0], same, f"the number is the sheet's or close to it; {aside}"
    if found.certainty == "sure" and found.spec is not None:
        said = bare(fact.code or "")
        near = alike(said, known_numbers(found.spec)) >= ALIKE
        same_name = found.candidates[0].band == 0
        return found.spec, same_name or (found.candidates[0].band <= SHORT_NAME and near), found.why
    if found.candidates:
        return found.spec, False, found.why
    return None, False, found.why


def judge_number(case: Case, fact: Fact) -> Iterator[Outcome]:
    """One part number against the sheet."""
    spec, sure, why = spec_of(case, fact)
    if spec is None or not spec.code or not fact.code:
        return
    if bare(fact.code) == bare(spec.code):
        yield agreement(case, fact, spec, "none: numbers are equal or not, separators aside", why)
        return
    if not sure or applies(spec, case.sheet.vehicle) is None:
        return
    explained = causes(difference_of(case, fact, spec))
    if doubt(case, fact, spec, explained):
        return
    grave: Severity = "look" if explained and explained[0].cause == "old-part" else "wrong"
    yield disagreement(case, fact, spec, claim(fact, fact.code), "another number", "none", grave, explained)


def check_parts(case: Case) -> list[Outcome]:
    """`differs` and agreements on part numbers; the number of a part that came off is never flagged."""
    facts = [fact for fact in case.facts("part_number") if fact.code and fact.role != "removed"]
    return [*(outcome for fact in facts for outcome in judge_number(case, fact)), *ordered(case)]


def ordered(case: Case) -> Iterator[Outcome]:
    """Numbers of parts that are still to be fitted and are the sheet's."""
    for fact in case.facts("part_number", ("planned",)):
        spec, _, why = spec_of(case, fact) if fact.code else (None, False, "")
        if spec and bare(fact.code or "") == bare(spec.code or ""):
            yield agreement(case, fact, spec, "none: numbers are equal or not, separators aside",
                            f"{why}; still to be fitted")
