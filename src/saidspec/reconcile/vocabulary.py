"""The words that component phrases are compared with, from patterns/components and patterns/reconcile.

A `Vocabulary` is a value: matching takes it as an argument, so that tests can bring their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise
from typing import Any

from saidspec.patterns import listed, paired, rule_set, user_folder

SPELLINGS = {
    "tire": "tyre", "calliper": "caliper", "disk": "disc", "gray": "grey", "metre": "meter", "centre": "center",
    "litre": "liter", "plow": "plough", "aluminum": "aluminium", "color": "colour", "mold": "mould",
}  # fmt: skip
WORD = re.compile(r"[A-Za-z0-9]+(?:[.'’][A-Za-z0-9]+)*")
LETTERS = re.compile(r"\b[A-Za-z](?: [A-Za-z])+\b(?!['’])")
INVARIABLE = frozenset({"chassis", "lens", "gas", "abs", "bus", "plus", "minus", "brass", "glass", "series", "pass"})


@dataclass(frozen=True)
class Vocabulary:
    """Everything that matching knows about words.  Phrases are tuples of folded words."""

    same: Mapping[tuple[str, ...], tuple[str, ...]] = field(default_factory=dict)  # words that stand for one another
    synonyms: Mapping[tuple[str, ...], tuple[str, ...]] = field(default_factory=dict)  # names of parts
    short: Mapping[tuple[str, ...], tuple[str, ...]] = field(default_factory=dict)  # said alone for a part
    positions: Mapping[tuple[str, ...], tuple[str, str]] = field(default_factory=dict)  # words -> (axis, position)
    quantities: Mapping[tuple[str, ...], str] = field(default_factory=dict)
    systems: Mapping[tuple[str, ...], str] = field(default_factory=dict)
    skip: frozenset[str] = frozenset()
    links: frozenset[str] = frozenset()
    bundle: frozenset[str] = frozenset()
    modifiers: frozenset[str] = frozenset()
    fasteners: frozenset[str] = frozenset()
    generic: frozenset[str] = frozenset()
    system_says: frozenset[str] = frozenset()
    named_for: frozenset[str] = frozenset()  # "cleaner": a stuff or tool that is named for a system
    every_system: frozenset[str] = frozenset()  # parts that every oil system has
    heads: Mapping[str, frozenset[str]] = field(default_factory=dict)  # system -> last words of its parts' names
    danger: frozenset[str] = frozenset()  # systems
    other_oils: frozenset[str] = frozenset()  # systems
    number_words: frozenset[str] = frozenset()
    units: Mapping[str, frozenset[tuple[str, ...]]] = field(default_factory=dict)  # unit -> the words it is said in
    sizes: Mapping[str, str] = field(default_factory=dict)  # "sixteen" -> "16"
    plain_positions: frozenset[str] = frozenset()  # words that are a position wherever they stand
    known: frozenset[str] = frozenset()  # every word of the components' phrases
    read: dict[tuple[str, bool], object] = field(default_factory=dict, compare=False, repr=False)  # phrases taken apart
    compounds: frozenset[tuple[str, str]] = frozenset()  # neighbouring words of the components' phrases


def fold(word: str) -> str:
    """A word in lower case, singular, in one spelling."""
    text = word.lower().removesuffix("'s").removesuffix("’s").strip("'’")
    if len(text) > 3 and text not in INVARIABLE and not text.endswith(("ss", "us", "is")):
        if re.search(r"(ch|sh|x|ss)es$", text):
            text = text[:-2]
        elif text.endswith("ies") and len(text) > 4:
            text = text[:-3] + "y"
        elif text.endswith("s"):
            text = text[:-1]
    return SPELLINGS.get(text, text)


def folded(phrase: str) -> tuple[str, ...]:
    """The folded words of a phrase; hyphens part words, and letters in a row are one: "p t o shaft"."""
    return tuple(fold(word) for word in WORD.findall(LETTERS.sub(joined_letters, phrase.replace("-", " "))))


def joined_letters(row: re.Match[str]) -> str:
    """Letters said one by one as one word."""
    return re.sub(r"\s", "", row[0])


def only_meanings(pairs: Iterable[tuple[str, str]]) -> dict[tuple[str, ...], tuple[str, ...]]:
    """Said -> meant, folded.  What two files give to different parts decides nothing and is left out, and so is what
    only leaves words of the meant phrase out: that is for the context of the note to supply."""
    found: dict[tuple[str, ...], set[tuple[str, ...]]] = {}
    for said, meant in pairs:
        found.setdefault(folded(said), set()).add(folded(meant))
    single = {said: next(iter(meant)) for said, meant in found.items() if len(meant) == 1}
    return {said: meant for said, meant in single.items() if said and not set(said) <= set(meant)}


def gather_synonyms(files: Iterable[Mapping[str, Any]]) -> dict[tuple[str, ...], tuple[str, ...]]:
    """Synonym -> canonical name of the part."""
    return only_meanings((other, canonical) for data in files for table in ("parts", "fasteners")
                         for canonical, others in data.get(table, {}).items() for other in listed(others))


def gather_systems(own: Mapping[str, str]) -> dict[tuple[str, ...], str]:
    """Part or word of a system -> its id; what two systems claim is left out."""
    found: dict[tuple[str, ...], set[str]] = {}
    for system, words in own.items():
        for phrase in listed(words):
            found.setdefault(folded(phrase), set()).add(system)
    return {phrase: next(iter(systems)) for phrase, systems in found.items() if len(systems) == 1}


def gather_heads(phrases: Iterable[tuple[str, ...]], systems: Mapping[tuple[str, ...], str]
                 ) -> dict[str, frozenset[str]]:
    """System -> the last words of its parts' names: what a short phrase may mean where that system is spoken of."""
    found: dict[str, set[str]] = {}
    for phrase in phrases:
        spots = {systems[phrase[at:end]] for at in range(len(phrase)) for end in range(at + 1, len(phrase) + 1)
                 if phrase[at:end] in systems}
        for system in spots:
            found.setdefault(system, set()).add(phrase[-1])
    return {system: frozenset(heads) for system, heads in found.items()}


def gather_positions(own: Mapping[str, Mapping[str, str]], entries: Iterable[Mapping[str, str]]
                     ) -> dict[tuple[str, ...], tuple[str, str]]:
    """Words of a position -> (axis, position)."""
    found = {folded(said): (axis, name) for axis, names in own.items() for name, words in names.items()
             for said in listed(words)}
    for entry in entries:
        for said in listed(entry.get("said", "")):
            found.setdefault(folded(said), (entry["axis"], entry["id"]))
    return found


def gather_units(entries: Iterable[Mapping[str, Any]]) -> dict[str, frozenset[tuple[str, ...]]]:
    """Unit -> the forms of it that are words, folded."""
    found: dict[str, set[tuple[str, ...]]] = {}
    for entry in entries:
        found.setdefault(entry["unit"], set()).update(folded(form) for form in listed(entry["said"]))
    return {unit: frozenset(form for form in forms if form) for unit, forms in found.items()}


@cache
def load_vocabulary() -> Vocabulary:
    """The project's vocabulary from its pattern files."""
    rules = rule_set(user_folder())
    own = rules.named("reconcile/words")[0].data
    files = [file.data for file in rules.under("components")]
    same, synonyms = only_meanings(own["same"].items()), gather_synonyms(files)
    phrases = [*same, *same.values(), *synonyms, *synonyms.values()]
    for data in files:
        for table in ("parts", "fasteners"):
            phrases += [folded(name) for name in data.get(table, {})]
    systems = gather_systems(own["systems"])
    phrases += systems

    def words(table: str) -> frozenset[str]:
        return frozenset(fold(word) for word in listed(own[table]["words"]))

    return Vocabulary(
        same=same, synonyms=synonyms,
        short=only_meanings((said, meant) for data in files for said, meant in data.get("short", {}).items()),
        positions=gather_positions(own["positions"], rules.entries("positions", "position")),
        systems=systems,
        quantities={folded(said): name for name, forms in own["quantities"].items() for said in listed(forms)},
        skip=words("skip"), links=words("links"), bundle=words("bundle"), modifiers=words("modifiers"),
        fasteners=words("fasteners"),
        generic=words("generic"), system_says=words("system-says"),
        heads=gather_heads(phrases, systems),
        named_for=words("named-for"),
        every_system=words("every-system"), danger=frozenset(listed(own["danger"]["systems"])),
        other_oils=frozenset(listed(own["other-oils"]["systems"])),
        number_words=frozenset(listed(own["number-words"]["words"])),
        units=gather_units(rules.entries("units", "unit")),
        sizes=paired(own["sizes"]["words"]),
        plain_positions=words("plain-positions"),
        known=frozenset(word for phrase in phrases for word in phrase) | words("generic"),
        compounds=frozenset(pair for phrase in phrases for pair in pairwise(phrase)),
    )  # fmt: skip
