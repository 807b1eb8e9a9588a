"""Words of one's own that mean something else already, and names that no file knows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from saidspec.extract.lexicon import Phrase, phrase_of
from saidspec.patterns import RuleFile, RuleSet, listed
from saidspec.rule_formats import Trouble
from saidspec.words.meanings import Meaning, meanings, told

COMPONENT = {"part", "fastener", "short"}
TRADE = COMPONENT | {"system", "action", "finding", "material", "fluid", "position", "shield"}
SEVERAL = {"modifier", "head", "role", "currency"}  # words that may be of several entries
STANDING = {"cue", "correction", "plan"}
ONE_VALUED = {"finding": ("severity",), "position": ("axis",), "unit": ("unit", "dimension"), "cue": ("category",),
              "correction": ("kind",), "plan": ("kind",), "fluid": ("code", "component"), "role": ("kind",)}


def clashes(own: Sequence[RuleFile], package: Sequence[RuleFile]) -> Iterator[Trouble]:
    """The forms of own files that stand for something else in the package, or elsewhere in own files."""
    known: dict[Phrase, list[Meaning]] = {}
    for meaning in meanings(package):
        for phrase in meaning.phrases:
            known.setdefault(phrase, []).append(meaning)
    for meaning in meanings(own):
        wrong = _everyday(meaning)
        for phrase in meaning.phrases:
            there = known.get(phrase, [])
            other = next((other for other in there if _clash(meaning, other)), None)
            if other and not any((same.what, same.id) == (meaning.what, meaning.id) for same in there):
                wrong = (f"{meaning.form!r} is {told(meaning)} here and {told(other)} in {other.file.name}.toml; "
                         f"{_remedy(meaning, other)}")
            known.setdefault(phrase, []).append(meaning)
        if wrong:
            yield Trouble(meaning.file.path, 0, wrong, meaning.place)


def _clash(one: Meaning, other: Meaning) -> bool:
    if one.what == "mishearing":
        return one.sure and other.what in TRADE - {"system"}
    if other.what == "mishearing" and one.what in TRADE:
        return True
    both = {one.what, other.what}
    if both <= COMPONENT:
        return one.id != other.id
    if one.what in SEVERAL or not (both <= TRADE or both <= STANDING or len(both) == 1):
        return False
    return (one.what, one.id) != (other.what, other.id)


def _remedy(meaning: Meaning, other: Meaning) -> str:
    if meaning.what == "mishearing":
        return "tell by `before`, `after` or `near` among which words it is misheard, or leave it out"
    if meaning.what == other.what and meaning.id != other.id:
        return f'write it under {other.id!r} if that is meant, or leave it out'
    return "say it in more words, or leave it out"


def _everyday(meaning: Meaning) -> str:
    """What is wrong with a form that is a word of everyday English, which would be read wherever it is said."""
    from spacy.lang.en.stop_words import STOP_WORDS

    if meaning.what in TRADE - {"position", "shield"} and len(meaning.phrases) == 1 and len(meaning.phrases[0]) == 1:
        word = meaning.form.lower()
        if word in STOP_WORDS or word.isdigit():
            return f"{meaning.form!r} is said in every note and cannot be {told(meaning)}; write more words"
    return ""


def unlike(own: Iterable[RuleFile], package: RuleSet) -> Iterator[Trouble]:
    """Own entries with the id of a package's entry and yet another severity or unit; ids that are there twice."""
    seen: dict[tuple[str, str, str], str] = {}
    for file in own:
        for table, keys in file.data.items():
            if not isinstance(keys, list):
                continue
            for at, entry in enumerate(keys):
                yield from _unlike(file, table, at, entry, package)
                here = (file.name, table, str(entry.get("id")))
                if entry.get("id") and here in seen:
                    yield Trouble(file.path, 0, f"there are two [[{table}]] {entry['id']!r}; write all in one, or give "
                                  "one of them another id", (table, at))
                seen[here] = table


def _unlike(file: RuleFile, table: str, at: int, entry: dict[str, Any], package: RuleSet) -> Iterator[Trouble]:
    for theirs in package.entries(file.name, table):
        if theirs.get("id") != entry.get("id"):
            continue
        for key in ONE_VALUED.get(table, ()):
            if key in entry and key in theirs and entry[key] != theirs[key]:
                yield Trouble(file.path, 0, f"{table} {entry['id']!r} has {key} {theirs[key]!r} in the package; "
                              f'write {key} = "{theirs[key]}", or another id', (table, at, key))


def unknown_names(own: Iterable[RuleFile], terms: Iterable[Phrase]) -> Iterator[Trouble]:
    """Short names that stand for words that no file knows, and measured parts that are none."""
    known = set(terms)
    for file in own:
        for short, meant in file.data.get("short", {}).items():
            if isinstance(meant, str) and (strange := _strange(phrase_of(meant), known)):
                yield Trouble(file.path, 0, f"{short!r} is short for {meant!r}, of which {strange!r} is no known part; "
                              f'add "{strange}" = "" below [parts]', ("short", short))
        for role, parts in file.data.get("measures", {}).items():
            for part in listed(parts):
                if phrase_of(part) not in known:
                    yield Trouble(file.path, 0, f"{role} is measured on {part!r}, which is no known part; "
                                  f'add "{part}" = "" below [parts]', ("measures", role))


def _strange(words: Phrase, known: set[Phrase]) -> str:
    """The first word of a phrase that begins no known one; empty where all of it is known."""
    at = 0
    while at < len(words):
        size = next((size for size in range(len(words) - at, 0, -1) if words[at : at + size] in known), 0)
        if not size:
            return words[at]
        at += size
    return ""
