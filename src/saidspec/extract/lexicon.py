"""The words of the trade from the rule files, as terms by their normal form."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from saidspec.extract.inflection import inflected
from saidspec.extract.unsaid import Usual, usual_units
from saidspec.extract.word_classes import WordClasses, word_classes
from saidspec.normalise.words import normal_form
from saidspec.patterns import RuleSet, listed

Phrase = tuple[str, ...]
VOWELS = "aeiou"
SUFFIX = re.compile(r"(?=(?<=\w)'(?:s|ll|re|ve|d|m)\b)")


@dataclass(frozen=True, slots=True)
class Term:
    """What a surface form means: its category, the id of its entry, and what else is known of it.

    Categories: part, fastener, short, modifier, head, position, system, action, finding, material, qualifier, fluid,
    cue, correction, and not:<category> for phrases in which the words are none.
    """

    category: str
    id: str
    system: str = ""
    detail: str = ""  # action: the form (base, past, ing, noun); finding: severity; position: axis; fluid: code ...
    meant: str = ""  # short: what it stands for; fluid: its component


@dataclass(frozen=True, slots=True)
class System:
    """A system of the vehicle: its fluid, whether its parts come left and right, and what is measured on which part."""

    id: str
    name: str
    fluid: str
    sided: bool


@dataclass(slots=True)
class Lexicon:
    """Terms by phrase; verbs that may be split by their object; systems; what is measured on which part; synonyms."""

    terms: dict[Phrase, tuple[Term, ...]] = field(default_factory=dict)
    split_verbs: dict[str, dict[str, Term]] = field(default_factory=dict)  # verb -> particle -> term
    systems: dict[str, System] = field(default_factory=dict)
    measures: dict[str, str] = field(default_factory=dict)  # canonical part -> role, the first one named
    roles: dict[str, set[str]] = field(default_factory=dict)  # role -> canonical parts
    canonical: dict[str, str] = field(default_factory=dict)  # phrase -> canonical name
    by_head: dict[tuple[str, str], list[str]] = field(default_factory=dict)  # (system, last word) -> two-word names
    central: set[str] = field(default_factory=set)  # canonical parts of sided systems that have no side themselves
    told: dict[tuple[str, str], Phrase] = field(default_factory=dict)  # (entry, key) -> parts: `usual` of an action ...
    classes: WordClasses = field(default_factory=WordClasses)
    usual: dict[str, list[Usual]] = field(default_factory=dict)  # role -> what its figures are counted in

    def add(self, form: str, term: Term) -> None:
        """Add a surface form in all its spellings."""
        for phrase in spellings(form):
            had = self.terms.get(phrase, ())
            if not any(other.category == term.category and other.id == term.id for other in had):
                self.terms[phrase] = (*had, term)


    def is_central(self, words: Phrase) -> bool:
        """Whether a part lies in the middle, by the longest known name in it: "propshaft bolt", no "sway bar link"."""
        for count in range(len(words), 0, -1):
            for first in range(len(words) - count + 1):
                name = " ".join(words[first : first + count])
                if name in self.canonical:
                    return self.canonical[name] in self.central
        return False


def phrase_of(form: str) -> Phrase:
    """The normal forms of a surface form's words; 's, 'll and the like are words of their own, as in the notes."""
    text = form.lower().replace("’", "'").replace("-", " ").replace("/", " / ")
    if "'" in text:
        text = SUFFIX.sub(" ", text)
    return tuple(map(normal_form, text.split()))


def spellings(form: str) -> Iterator[Phrase]:
    """The phrase as it is, and joined where it is written with a hyphen ("o-ring": "o ring" and "oring")."""
    yield phrase_of(form)
    if "-" in form:
        yield phrase_of(form.replace("-", ""))


def lexicon(rules: RuleSet) -> Lexicon:
    """All terms of the rule files."""
    made = Lexicon(classes=word_classes(rules), usual=usual_units(rules.entries("roles", "usual")))
    for file in rules.under("components"):
        _system(made, file.data)
    for entry in rules.entries("positions", "position"):
        _listed(made, entry, "position", entry.get("axis", ""), "said")
    for entry in rules.entries("actions", "action"):
        _action(made, entry)
    for entry in rules.entries("findings", "finding"):
        _listed(made, entry, "finding", entry.get("severity", "watch"), "said", "phrases")
        _told(made, entry, "watch_on", "act_on")
    for entry in rules.entries("materials", "material"):
        _listed(made, entry, "material", "", "said")
        for word in listed(entry.get("qualifiers")):
            made.add(word, Term("qualifier", entry["id"]))
    for entry in rules.entries("fluids", "fluid"):
        for form in listed(entry.get("said")):
            made.add(form, Term("fluid", entry["id"], detail=entry.get("code", ""), meant=entry.get("component", "")))
        _nots(made, entry, "fluid")
    for file in rules.named("tools"):
        for name in ("shield", "doubtful", "standing", "socketed"):
            for form in listed(file.data.get(name)):
                made.add(form, Term(name, form))
    _add_speech(made, rules)
    return made


def _add_speech(made: Lexicon, rules: RuleSet) -> None:
    """What tells the standing of a statement: cues, words of plans, corrections."""
    for entry in rules.entries("cues", "cue"):
        category = "approx" if entry["category"] == "approximate" else "cue"
        direction = entry.get("direction", "forward")
        for form in listed(entry.get("says")):
            made.add(form, Term(category, entry["id"], detail=entry["category"], meant=direction))
    for entry in rules.entries("plans", "plan"):
        for form in listed(entry.get("says")):
            made.add(form, Term("plan", entry["id"], detail=entry["kind"], meant=entry.get("action", "")))
    for entry in rules.entries("corrections", "correction"):
        for form in listed(entry.get("says")):
            made.add(form, Term("correction", entry["id"], detail=entry.get("kind", "retract")))


def _nots(made: Lexicon, entry: dict[str, Any], category: str) -> None:
    for form in listed(entry.get("not")):
        made.add(form, Term(f"not:{category}", entry.get("id", category)))


def _listed(made: Lexicon, entry: dict[str, Any], category: str, detail: str, *keys: str) -> None:
    for key in keys:
        for form in listed(entry.get(key)):
            made.add(form, Term(category, entry["id"], detail=detail))
    _nots(made, entry, category)


def _system(made: Lexicon, data: dict[str, Any]) -> None:
    system = System(data.get("system", ""), data.get("name", ""), data.get("fluid", ""), bool(data.get("sided")))
    made.systems.setdefault(system.id, system)  # a user's file adds to the package's system
    for form in listed(data.get("says")):
        made.add(form, Term("system", system.id, system.id))
    for table, category in (("parts", "part"), ("fasteners", "fastener")):
        for name, synonyms in data.get(table, {}).items():
            if len(name.split()) == 2:
                made.by_head.setdefault((system.id, name.split()[1]), []).append(name)
            for form in (name, *listed(synonyms)):
                made.add(form, Term(category, name, system.id))
                for phrase in spellings(form):
                    made.canonical.setdefault(" ".join(phrase), name)
    for form, meant in data.get("short", {}).items():
        made.add(form, Term("short", meant, system.id, meant=meant))
    for table, category in (("modifiers", "modifier"), ("heads", "head")):
        for form in listed(data.get(table, {}).get("words")):
            made.add(form, Term(category, form, system.id))
    _nots(made, data, "part")
    made.central.update(listed(data.get("central")))
    for role, parts in data.get("measures", {}).items():
        for part in listed(parts):
            made.measures.setdefault(part, role)
            made.roles.setdefault(role, set()).add(part)


def _told(made: Lexicon, entry: dict[str, Any], *keys: str) -> None:
    """The parts under keys: those an action is `usual` on; those on which a finding is grave (`watch_on`, `act_on`)."""
    for key in keys:
        if key in entry:
            made.told[(entry["id"], key)] = tuple(" ".join(phrase_of(form)) for form in listed(entry[key]))


def _action(made: Lexicon, entry: dict[str, Any]) -> None:
    _told(made, entry, "usual")
    verbs: list[tuple[str, str]] = [form for verb in listed(entry.get("verbs")) for form in inflected(verb)]
    verbs += [(form, "past") for form in listed(entry.get("irregular"))]
    verbs += [(form, "base") for form in listed(entry.get("irregular_base"))]
    for form, tense in verbs:
        term = Term("action", entry["id"], detail=tense)
        made.add(form, term)
        words = phrase_of(form)
        if len(words) == 2 and words[1] in PARTICLES:
            made.split_verbs.setdefault(words[0], {}).setdefault(words[1], term)
    for form in listed(entry.get("split")):
        verb, particle = phrase_of(form)
        made.split_verbs.setdefault(verb, {})[particle] = Term("action", entry["id"], detail="past")
    for form in listed(entry.get("nouns")):
        made.add(form, Term("action", entry["id"], detail="noun"))
    _nots(made, entry, "action")


PARTICLES = {"off", "out", "on", "in", "up", "down", "back", "away", "over", "apart", "through", "loose", "together",
             "free", "home", "clean", "straight", "tight", "open"}
