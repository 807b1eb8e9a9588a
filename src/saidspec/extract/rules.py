"""All rules of the understanding, loaded from the rule files once and handed down as a value."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from saidspec.extract.costs import MoneyWords, money_words
from saidspec.extract.distractor_rules import DistractorTable, distractors
from saidspec.extract.lexicon import Lexicon, lexicon
from saidspec.extract.names import no_names
from saidspec.extract.number_rules import number_rules
from saidspec.extract.roles import RoleTable, role_table
from saidspec.extract.terms import TermMatcher, term_matcher
from saidspec.extract.units import UnitTable, unit_table
from saidspec.model import Problem
from saidspec.normalise.lexemes import NumberRules
from saidspec.normalise.words import normal_form
from saidspec.patterns import RuleSet, listed, rule_set, user_folder
from saidspec.rule_formats import usable


@dataclass(frozen=True, slots=True)
class Rules:
    """What the stages need: number rules, units, the lexicon with its matcher, roles, cues, money, distractors."""

    numbers: NumberRules
    units: UnitTable
    lexicon: Lexicon
    roles: RoleTable
    money: MoneyWords
    distractors: DistractorTable
    no_names: frozenset[str]
    enders: frozenset[str]
    terms: TermMatcher
    problems: tuple[Problem, ...] = ()


def load_rules(own: Path | None = None) -> Rules:
    """The package's rules with those of the folder `own` (default: the user's folder of words)."""
    return _rules(own or user_folder())


@lru_cache(maxsize=4)
def _rules(own: Path | None) -> Rules:
    found = usable(rule_set(own))
    lexical = lexicon(found)
    units = unit_table(found.entries("units", "unit"), lexical.classes)
    return Rules(
        number_rules(found, units, _part_names(lexical)), units, lexical, role_table(found.entries("roles", "role")),
        money_words(found.entries("currencies", "currency"), found.entries("currencies", "money_words")),
        distractors(found.entries("distractors", "distractor")),
        no_names([*units.first_words(), *_forms(found, "distractors", "no_names"), *_money(found)]),
        frozenset(_forms(found, "cues", "ends")), term_matcher(lexical), found.problems)  # fmt: skip


def _part_names(lexical: Lexicon) -> list[tuple[str, ...]]:
    """The names of parts and fasteners, word by word."""
    return [phrase for phrase, terms in lexical.terms.items()
            if any(term.category in ("part", "fastener", "head") for term in terms)]


def _money(found: RuleSet) -> list[str]:
    """The normal forms of the names of money."""
    return [normal_form(word) for entry in found.entries("currencies", "currency") for key in ("said", "only_money")
            for word in listed(entry.get(key))]


def _forms(found: RuleSet, name: str, key: str) -> list[str]:
    """The normal forms of the words that all files of a name list under a key."""
    return [normal_form(word) for file in found.named(name) for word in listed(file.data.get(key))]
