"""The trade's words around values (patterns/value_words.toml), each set under the name of its field."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields
from typing import Any

from saidspec.normalise.words import normal_form
from saidspec.patterns import listed

Words = frozenset[str]


@dataclass(frozen=True, slots=True)
class ValueWords:
    """Sets of words and short phrases in their normal form; what each is for stands in the rule file.

    The entry of a field has its name with hyphens: `loose_fasteners` is "loose-fasteners".
    """

    tightening: Words
    doing: Words
    acted: Words
    quoting: Words
    specifying: Words
    tools: Words
    tool_makes: Words
    tubes: Words
    fraction_tubes: Words
    counted_after_article: Words
    told_in_inches: Words
    changes: Words
    plays: Words
    before_capacity: Words
    before_added: Words
    before_drained: Words
    poured: Words
    engines: Words
    containers: Words
    hour_meters: Words
    packages: Words
    strokes: Words
    pumping: Words
    some_are: Words
    pointing: Words
    pointed: Words
    waiting: Words
    fluids: Words
    filled_fluids: Words
    fluid_containers: Words
    compressed: Words
    frost: Words
    joint_parts: Words
    loose_fasteners: Words
    bears_pounds: Words
    came_off: Words
    getting: Words


def value_words(entries: Iterable[dict[str, Any]]) -> ValueWords:
    """The sets of the rule files; KeyError names a set that no file has."""
    sets: dict[str, Words] = {}
    for entry in entries:
        forms = frozenset(" ".join(map(normal_form, form.split())) for form in listed(entry["says"]))
        sets[entry["id"]] = sets.get(entry["id"], frozenset()) | forms
    return ValueWords(*(sets[field.name.replace("_", "-")] for field in fields(ValueWords)))
