"""The rules of spoken numbers, spelled codes and mishearings, gathered for the normalising stage."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from itertools import pairwise
from typing import Any

from saidspec.extract.units import UnitTable
from saidspec.normalise.fillers import Fillers
from saidspec.normalise.lexemes import NumberRules
from saidspec.normalise.mishearings import mishearings
from saidspec.normalise.number_words import NumberWords
from saidspec.normalise.spelling import spelling_words
from saidspec.patterns import RuleSet, listed, paired

NO_UNITS = {"of", "os", "ofs"}  # first words of "of mercury": not a unit wherever they stand
# First words of units in forms that normalise to another word: normalising comes after this.
OTHER_FORMS = {"inches", "feet", "meter", "meters", "millimeter", "millimeters", "liter", "liters", "kilometers",
               "kilometer", "milliliters", "milliliter", "centimeters"}


def number_rules(found: RuleSet, units: UnitTable, parts: Iterable[tuple[str, ...]]) -> NumberRules:
    """Number words, spelling, fillers and mishearings of the rule files; the words of `units` tell where a number ends,
    and `parts` are the names of parts, word by word."""
    classes = {entry["id"]: paired(entry["values"]) for entry in found.entries("numbers", "word")}
    glyphs = {word: _fraction(value) for word, value in classes.pop("glyphs").items()}
    whole = {name: {word: int(value) for word, value in words.items()} for name, words in classes.items()}
    spelling: dict[str, Any] = found.named("spelled")[0].data
    spelled = spelling_words(spelling, whole["ones"], found.entries("currencies", "currency"),
                             found.entries("part_numbers", "shape"))
    first_words = {form for word in units.first_words()
                   for form in ((word, f"{word}s", f"{word}es") if len(word) > 1 else (word,))}
    joined = {"".join(words) for options in units.forms.values() for words, _ in options}
    heard = mishearings(found.entries("mishearings", "mishearing"))
    return NumberRules(_number_words(found, whole, glyphs), spelled, heard,
                       _fillers(found, parts), frozenset((first_words - NO_UNITS) | OTHER_FORMS),
                       frozenset(joined | {f"{form}s" for form in joined if len(form) > 2}))


def _number_words(found: RuleSet, whole: dict[str, dict[str, int]], glyphs: dict[str, Decimal]) -> NumberWords:
    extra = found.named("numbers")[0].data
    article, thousands = extra["article"], extra["thousands"]
    money = frozenset(form for entry in found.entries("currencies", "currency") for form in listed(entry.get("said")))
    return NumberWords(whole["ones"], whole["teens"], whole["tens"], whole["scales"], whole["parts"], glyphs,
                       whole["plurals"], with_article=frozenset(listed(article["units"])),
                       before_article=frozenset(listed(article["before"])),
                       after_article=frozenset(listed(article["after"])) | frozenset(listed(article["containers"])),
                       containers=frozenset(listed(article["containers"])), money=money,
                       before_pronoun_one=frozenset(listed(extra["before_pronoun_one"])),
                       ordinals=frozenset(listed(extra["ordinals"])),
                       distances=frozenset(listed(thousands["distances"])),
                       resistances=frozenset(listed(thousands["resistances"])))


def _fillers(found: RuleSet, parts: Iterable[tuple[str, ...]]) -> Fillers:
    data = found.named("numbers")[0].data["fillers"]
    heads = next(entry for entry in found.entries("word_classes", "class") if entry["id"] == "fastener-heads")
    names = list(parts)
    said = [tuple(form.split()) for form in listed(data["said"])]
    return Fillers(
        said=frozenset(form[0] for form in said if len(form) == 1),
        phrases=frozenset((form[0], form[1]) for form in said if len(form) == 2),
        takes_back=frozenset(listed(data["kept_beside"])), before_phrase=frozenset(listed(data["no_filler_after"])),
        after_phrase=frozenset(listed(data["no_filler_before"])),
        ends=frozenset(name[-1] for name in names), begins=frozenset(name[0] for name in names),
        pairs=frozenset(pair for name in names for pair in pairwise(name)), heads=frozenset(listed(heads["says"])))


def _fraction(text: str) -> Decimal:
    top, bottom = text.split("/")
    return Decimal(top) / Decimal(bottom)
