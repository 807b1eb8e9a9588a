"""Answering a question from the record: facts first, then what the reference sheets say, then passages."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from saidspec.record.asking import Question, SamePart, cues, no_others, read_question
from saidspec.record.attribution import WORD, Names
from saidspec.record.components import components
from saidspec.record.entries import Entry
from saidspec.record.queries import (
    Passage,
    Reference,
    entries_of,
    expression,
    fact_hits,
    passages,
    quoted,
    references,
)
from saidspec.record.vehicles import names

FEW = 4  # words of a question up to which each is left out in turn
PART = "component action finding code"  # columns that say what a fact is about
# how much an answer is worth by its assertion; what was taken back comes last
WORTH = {"stated": 0, "quoted": 1, "historical": 2, "possible": 3, "planned": 3, "negated": 4, "retracted": 5}


@dataclass(frozen=True, slots=True)
class Found:
    """The answers to a question, best first; `vehicle` is the vehicle (id) that was asked about.

    `left_out` is the word of the question that no answer holds: they are near it and do not fit it.
    """

    question: Question
    vehicle: int | None
    answers: tuple[Entry, ...]
    references: tuple[Reference, ...]
    passages: tuple[Passage, ...]
    left_out: str | None = None


def find(
    conn: sqlite3.Connection, text: str, *, vehicle: int | None = None, most: int = 5,
    same_part: SamePart = no_others,
) -> Found:  # fmt: skip
    """Answer a question about one vehicle, about the one that it names, or about all.

    `most` limits the answers and the passages, each.  `same_part` gives other names of the part that words name.
    """
    if vehicle is None:
        vehicle, rest = _named(conn, text)
        told = _found(conn, rest, vehicle, most, same_part)
        if vehicle is not None or (told.answers and told.left_out is None):
            return told
        vehicle, rest = _named(conn, text, by_a_word=True)
        narrow = _found(conn, rest, vehicle, most, same_part) if vehicle is not None else told
        return narrow if narrow.answers or narrow.references else told
    return _found(conn, text, vehicle, most, same_part)


def _found(conn: sqlite3.Connection, text: str, vehicle: int | None, most: int, same_part: SamePart) -> Found:
    question = read_question(text, same_part)
    if not question.anything and vehicle is None:
        return Found(question, vehicle, (), (), ())
    answers, left_out = _answers(conn, question, vehicle, most), None
    if not answers:
        answers, left_out = _near(conn, question, vehicle, most)
    return Found(question, vehicle, tuple(answers), tuple(references(conn, question, vehicle, most)),
                 tuple(_passages(conn, question, vehicle, most)), left_out)  # fmt: skip


def _named(conn: sqlite3.Connection, text: str, *, by_a_word: bool = False) -> tuple[int | None, str]:
    """The vehicle that a question names, and the question without it.

    It is named as in notes, else, `by_a_word`, by a word in whatever case that is in no other's name.
    """
    known = names(conn)
    told = _by_a_word(known, text) if by_a_word else Names(known).in_text(text, heading=True)
    if len(set(told)) != 1:
        return None, text
    for name in sorted((name for name in known if known[name] == told[0]), key=len, reverse=True):
        shorter = re.sub(rf"(?<!\w){re.escape(name)}(?:'s)?(?!\w)", " ", text, flags=re.IGNORECASE)
        if shorter != text:
            return told[0], shorter
    words = {word.casefold() for name in known if known[name] == told[0] for word in name.split()}
    return told[0], " ".join(word for word in text.split() if word.casefold().removesuffix("'s") not in words)


def _by_a_word(known: Mapping[str, int], text: str) -> list[int]:
    """The vehicles of which the question has a word, in whatever case: one that only one vehicle's names have, and that
    is no word of a part ("box") unless it is one for a vehicle ("mower").
    """
    owners: dict[str, set[int]] = {}
    for name, vehicle in known.items():
        for word in re.findall(WORD, name.casefold()):
            owners.setdefault(word, set()).add(vehicle)
    asked = {word.removesuffix("'s") for word in text.casefold().split()} & owners.keys()
    asked -= components().words() - cues().no_names
    return [next(iter(owners[word])) for word in sorted(asked) if len(owners[word]) == 1]


def _answers(conn: sqlite3.Connection, question: Question, vehicle: int | None, most: int) -> list[Entry]:
    """Facts that fit best: of the kind and part asked; of the kind with the words anywhere; of the words alone."""
    groups = question.groups
    tries = [expression(groups, vehicle, question.kind, question.role, PART),
             expression(groups, vehicle, question.kind, None, PART),
             expression(groups, vehicle, question.kind),
             expression([[word] for word in question.words], vehicle),
             expression(groups, vehicle)]  # fmt: skip
    told: dict[int, Entry] = {}
    for match in dict.fromkeys(tries):
        if len(told) >= most or not match:
            break
        fresh = [one for one in fact_hits(conn, match) if one not in told]
        told |= {entry.fact.id: entry for entry in sorted(entries_of(conn, fresh), key=_rank(groups))}
    return list(told.values())[:most]


def _near(
    conn: sqlite3.Connection, question: Question, vehicle: int | None, most: int,
) -> tuple[list[Entry], str | None]:  # fmt: skip
    """Facts that fit but for one word, the first that can be left out, and that word."""
    if not 2 <= len(question.groups) <= FEW:
        return [], None
    for at in range(len(question.groups)):
        rest = (*question.groups[:at], *question.groups[at + 1 :])
        if hits := fact_hits(conn, expression(rest, vehicle, question.kind)):
            return sorted(entries_of(conn, hits), key=_rank(rest))[:most], question.groups[at][0]
    return [], None


def _rank(groups: Sequence[Sequence[str]]) -> Callable[[Entry], tuple[object, ...]]:
    asked = {word for group in groups for word in group[0].split()}

    def rank(entry: Entry) -> tuple[object, ...]:
        worth = 9 if entry.rejected else WORTH[entry.fact.assertion]
        part = set((entry.fact.component or "").casefold().split())
        day = entry.day.toordinal() if entry.day else 0
        return (worth >= WORTH["negated"], part != asked, worth, not entry.reviewed, -day, -entry.fact.id)

    return rank


def _passages(conn: sqlite3.Connection, question: Question, vehicle: int | None, most: int) -> list[Passage]:
    """Utterances with all the words; of the part's words; else with any of them, those with the most first."""
    about = f"vehicle : {quoted([f'vehicle{vehicle}'])} AND " if vehicle is not None else ""
    words = question.words
    if not words:
        return []
    told: dict[tuple[int, int], Passage] = {}
    every = expression([[word] for word in words])
    part = expression(question.groups)
    for match in dict.fromkeys((every, part)):
        if match and len(told) < most:
            found = passages(conn, f"{about}({{text}} : ({match}))", most)
            told |= {(one.note_id, one.start): one for one in found if (one.note_id, one.start) not in told}
    if not told:
        anything = " OR ".join(quoted([word]) for word in words)
        found = passages(conn, f"{about}({{text}} : ({anything}))", 20 * most)
        found.sort(key=lambda one: -len(set(re.findall("\x02(.*?)\x03", one.marked.casefold()))))
        told = {(one.note_id, one.start): one for one in found}
    return list(told.values())[:most]


def history(
    conn: sqlite3.Connection, text: str, *, vehicle: int | None = None, most: int = 1000,
    same_part: SamePart = no_others,
) -> list[Entry]:  # fmt: skip
    """What was done, found and measured on a part, or on a whole vehicle for an empty text, oldest first."""
    if vehicle is None:
        vehicle, text = _named(conn, text)
    question = read_question(text, same_part)
    whole = replace(question, kind=None)
    match = expression(whole.groups or [[word] for word in whole.words], vehicle, columns=PART)
    if not match:
        return []
    found = entries_of(conn, fact_hits(conn, match, most))
    return sorted(found, key=_in_time)


def _in_time(entry: Entry) -> tuple[object, ...]:
    return (entry.day is None, entry.day or 0, entry.vehicle, entry.note_id, entry.fact.provenance.start, entry.fact.id)
