"""All rules of the understanding, loaded from the rule files once and handed down as a value."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from pathlib import Path
from typing import Any

from saidspec.extract.costs import MoneyWords, money_words
from saidspec.extract.distractors import DistractorTable, distractors
from saidspec.extract.lexicon import Lexicon, lexicon
from saidspec.extract.names import no_names
from saidspec.extract.quantities import UnitTable, unit_table
from saidspec.extract.roles import RoleTable, role_table
from saidspec.extract.terms import TermMatcher, term_matcher
from saidspec.model import Problem
from saidspec.normalise.lexemes import NumberRules
from saidspec.normalise.mishearings import mishearings
from saidspec.normalise.numbers import NumberWords
from saidspec.normalise.spelling import spelling_words
from saidspec.normalise.words import normal_form
from saidspec.patterns import RuleSet, listed, paired, rule_set, user_folder
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
    words = lexicon(found)
    units = unit_table(found.entries("units", "unit"))
    enders = {normal_form(word) for file in found.named("cues") for word in listed(file.data.get("ends"))}
    names = no_names(
        [
            *units.first_words(),
            *(normal_form(word) for file in found.named("distractors") for word in listed(file.data.get("no_names"))),
        ]
    )
    return Rules(
        number_rules(found, units),
        units,
        words,
        role_table(found.entries("roles", "role")),
        money_words(found.entries("currencies", "currency"), found.entries("currencies", "money_words")),
        distractors(found.entries("distractors", "distractor")),
        names,
        frozenset(enders),
        term_matcher(words),
        found.problems,
    )


def number_rules(found: RuleSet, units: UnitTable) -> NumberRules:
    """Number words, spelling and mishearings of the rule files."""
    classes = {entry["id"]: paired(entry["values"]) for entry in found.entries("numbers", "word")}
    whole = {
        name: {word: int(value) for word, value in words.items()} for name, words in classes.items() if name != "glyphs"
    }
    glyphs = {word: _fraction(value) for word, value in classes["glyphs"].items()}
    spelling: dict[str, Any] = found.named("spelled")[0].data
    first_words = {
        form for word in units.first_words() for form in ((word, word + "s", word + "es") if len(word) > 1 else (word,))
    }
    unit_forms = {"".join(words) for options in units.forms.values() for words, _ in options}
    extra = found.named("numbers")[0].data
    spelled = spelling_words(
        spelling, whole["ones"], found.entries("currencies", "currency"), found.entries("part_numbers", "shape")
    )
    return NumberRules(
        NumberWords(
            whole["ones"],
            whole["teens"],
            whole["tens"],
            whole["scales"],
            whole["parts"],
            glyphs,
            whole["plurals"],
            with_article=frozenset(listed(extra["article"]["units"])),
            before_article=frozenset(listed(extra["article"]["before"])),
            after_article=frozenset(listed(extra["article"]["after"])),
            distances=frozenset(listed(extra["thousands"]["distances"])),
            resistances=frozenset(listed(extra["thousands"]["resistances"])),
        ),
        spelled,
        mishearings(found.entries("mishearings", "mishearing")),
        frozenset(
            first_words - {"of", "os", "ofs"}
            | {
                "inches",
                "feet",
                "meter",
                "meters",
                "millimeter",
                "millimeters",
                "liter",
                "liters",
                "kilometers",
                "kilometer",
                "milliliters",
                "milliliter",
                "centimeters",
            }
        ),
        frozenset(unit_forms | {form + "s" for form in unit_forms if len(form) > 2}),
    )


def _fraction(text: str) -> Decimal:
    top, bottom = text.split("/")
    return Decimal(top) / Decimal(bottom)
