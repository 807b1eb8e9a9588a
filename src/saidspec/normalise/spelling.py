"""The words in which codes are spelled: letters, separators, families of grades.  The data is patterns/spelled.toml."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from saidspec.patterns import listed, paired


@dataclass(frozen=True, slots=True)
class Grade:
    """A family of grades: how its code is written, and the numbers it has."""

    code: str
    numbers: frozenset[Decimal]
    kind: str


@dataclass(frozen=True, slots=True)
class SpellingWords:
    """The words of patterns/spelled.toml: separators, repeats and letters by word, cues and grades by their words."""

    separators: dict[str, str]
    repeats: dict[str, int]
    letters: dict[str, str]
    not_letters: frozenset[str]
    part_cues: tuple[tuple[str, ...], ...]
    ones: dict[str, int]
    names: dict[str, str] = field(default_factory=dict)  # "pee" → p
    doubtful_names: dict[str, str] = field(default_factory=dict)  # "are" → r, only among other letters
    weak_cues: tuple[tuple[str, ...], ...] = ()
    points: frozenset[str] = frozenset()
    double_u: tuple[tuple[str, ...], ...] = (("w",),)
    grades: dict[tuple[str, ...], Grade] = field(default_factory=dict)
    oils: frozenset[str] = frozenset()
    lamps: frozenset[str] = frozenset()
    currencies: frozenset[str] = frozenset()
    shapes: tuple[re.Pattern[str], ...] = ()
    vowel_names: frozenset[str] = frozenset()  # letters before whose name an article is "an"
    before_article: frozenset[str] = frozenset()  # behind these "a" is the article
    behind_code: frozenset[str] = frozenset()  # before these "a" is none
    no_nouns: frozenset[str] = frozenset()  # words that follow no article: "a WE 7731 filter" has letters
    counted_behind: frozenset[str] = frozenset()  # behind these a number counts the codes that follow
    ribbed: tuple[tuple[str, ...], ...] = ()  # profiles of ribbed belts


def spelling_words(data: dict[str, Any], ones: dict[str, int], currencies: Iterable[dict[str, Any]],
                   shapes: Iterable[dict[str, Any]] = ()) -> SpellingWords:
    """The words of patterns/spelled.toml; `currencies` and `shapes` are the entries of currencies and part_numbers."""
    grades = {tuple(form.replace("-", " ").split()): Grade(entry["code"],
        frozenset(Decimal(n) for n in listed(entry["numbers"])), entry["kind"])
              for entry in data["grade"] for form in listed(entry["said"])}
    money = {form for entry in currencies for key in ("said", "cents", "only_money")
        for form in listed(entry.get(key)) if len(form) > 1 or not form.isalnum()}
    return SpellingWords(
        paired(data["separators"]), {word: int(value) for word, value in paired(data["repeats"]).items()},
            paired(data["letters"]),
        frozenset(listed(data["not_letters"])), _phrases(data["part_cues"]), ones, paired(data["letter_names"]),
            paired(data["doubtful_names"]),
        _phrases(data["weak_cues"]), frozenset(listed(data["points"])), _phrases(data["double_u"].replace("-", " ")),
            grades,
        frozenset(listed(data["oils"])), frozenset(listed(data["lamps"])),
            frozenset(money | {form + "s" for form in money}),
        tuple(shape(entry["pattern"]) for entry in shapes),
        vowel_names=frozenset(listed(data["vowel_names"])), before_article=frozenset(listed(data["before_article"])),
        behind_code=frozenset(listed(data["behind_code"])), no_nouns=frozenset(listed(data["no_nouns"])),
        counted_behind=frozenset(listed(data["counted_behind"])), ribbed=_phrases(data["ribbed"]))


PICTURE = {"A": "[A-Z]", "9": "[0-9]", "X": "[A-Z0-9]", "(": "(?:", ")": ")?"}


def shape(picture: str) -> re.Pattern[str]:
    """The pattern of part numbers that a picture of patterns/part_numbers.toml stands for.

    Its marks need not be said where it has letters; figures alone without them would be telephone numbers and sums.
    """
    often = "?" if any(char.isalpha() for char in picture) else ""
    return re.compile("".join(PICTURE.get(char) or (re.escape(char) + often if char in "-/." else char.upper())
                              for char in picture))


def _phrases(forms: str) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(form.split()) for form in listed(forms))
