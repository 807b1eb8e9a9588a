"""What each surface form of the rule files means, and where it is written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from saidspec.extract.inflection import inflected
from saidspec.extract.lexicon import Phrase, phrase_of, spellings
from saidspec.patterns import RuleFile, listed
from saidspec.rule_formats import format_of
from saidspec.toml_lines import Place

TABLES = {"parts": "part", "fasteners": "fastener", "short": "short", "modifiers": "modifier", "heads": "head"}
CONTEXT = ("before", "after", "near", "before_unit", "before_number", "after_number")


@dataclass(frozen=True, slots=True)
class Meaning:
    """A surface form and what it stands for: a part, an action, a unit ..., by the id of its entry.

    `place` is where in the file it is written; `sure` is false for a form that holds only among certain other words.
    """

    form: str
    what: str
    id: str
    file: RuleFile
    place: Place
    sure: bool = True

    @property
    def phrases(self) -> tuple[Phrase, ...]:
        """The normal forms of the words that say it, in each of its spellings."""
        return tuple(phrase for phrase in spellings(self.form) if phrase)


def meanings(files: Iterable[RuleFile]) -> Iterator[Meaning]:
    """All surface forms of rule files, in order; files of no known format have none."""
    for file in files:
        told = format_of(file.name)
        if told is None:
            continue
        for key, kind in told.keys.items():
            if kind.startswith("forms") and isinstance(file.data.get(key), str):
                yield from _top(file, key)
        for name in TABLES.keys() & file.data.keys() & told.tables.keys():
            yield from _table(file, name)
        for name, keys in told.entries.items():
            for at, entry in enumerate(file.data.get(name, ())):
                yield from _entry(file, name, at, entry, keys)


def _top(file: RuleFile, key: str) -> Iterator[Meaning]:
    for form in listed(file.data[key]):
        what, name = ("system", file.data.get("system", "")) if key == "says" else (key, form)
        yield Meaning(form, what, name, file, (key,))


def _table(file: RuleFile, name: str) -> Iterator[Meaning]:
    what = TABLES[name]
    for key, value in file.data[name].items():
        place = (name, key)
        if what == "short":
            yield Meaning(key, what, value, file, place)
        elif what in ("part", "fastener"):
            for form in (key, *listed(value)):
                yield Meaning(form, what, key, file, place)
        else:
            for form in listed(value):
                yield Meaning(form, what, form, file, place)


def _entry(file: RuleFile, name: str, at: int, entry: dict[str, Any], keys: Mapping[str, str]) -> Iterator[Meaning]:
    sure = not any(entry.get(key) for key in CONTEXT)
    for key, kind in keys.items():
        if not kind.startswith(("forms", "verbs")):
            continue
        for form in listed(entry.get(key)):
            said = [each for each, _ in inflected(form)] if kind.startswith("verbs") else [form]
            for each in said:
                yield Meaning(each, name, entry.get("id", ""), file, (name, at, key), sure)


def told(meaning: Meaning) -> str:
    """A meaning in words: "the part caliper", "short for wheel nut", "the action drain"."""
    if meaning.what == "short":
        return f"short for {meaning.id}"
    if meaning.what in ("shield", "doubtful", "standing", "socketed"):
        return {"shield": "a tool and no part", "doubtful": "a part only after 'the' or beside another",
                "standing": "a part after 'the', 'new' or 'old'",
                "socketed": "a part that a socket turns"}[meaning.what]
    if meaning.what in ("modifier", "head"):
        return f"a word of component names ({meaning.what})"
    return f"the {meaning.what} {meaning.id}"


def said_by(word: str, found: Iterable[Meaning]) -> tuple[list[Meaning], list[Meaning]]:
    """The meanings of a word or phrase, and those of longer phrases that hold it."""
    phrase = phrase_of(word)
    whole, longer = [], []
    for meaning in found:
        if phrase in meaning.phrases:
            whole.append(meaning)
        elif any(phrase == held[at : at + len(phrase)] for held in meaning.phrases for at in range(len(held))):
            longer.append(meaning)
    return whole, longer
