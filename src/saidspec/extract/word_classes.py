"""The sets of words that steer the reading, from patterns/word_classes.toml."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import Any

from saidspec.normalise.words import normal_form
from saidspec.patterns import RuleSet, listed

Words = frozenset[str]


@dataclass(frozen=True, slots=True)
class WordClasses:
    """The classes by name, each a set of words in normal form; the file tells what each decides."""

    fastener_heads: Words = frozenset()
    unnaming: Words = frozenset()
    no_name: Words = frozenset()
    vague_heads: Words = frozenset()
    cylinder_words: Words = frozenset()
    numbered_parts: Words = frozenset()
    carried_fluids: Words = frozenset()
    fluids: Words = frozenset()
    fuels: Words = frozenset()
    loose: Words = frozenset()
    loosely_named: Words = frozenset()
    completed_heads: Words = frozenset()
    corner_parts: Words = frozenset()
    rolling_parts: Words = frozenset()
    value_tools: Words = frozenset()
    measured: Words = frozenset()
    value_adjectives: Words = frozenset()
    fluid_qualities: Words = frozenset()
    topic_links: Words = frozenset()
    named_by_system: Words = frozenset()
    finding_links: Words = frozenset()
    finding_copulas: Words = frozenset()
    list_links: Words = frozenset()
    wearing: Words = frozenset()
    instruments: Words = frozenset()
    specification_names: Words = frozenset()
    hand_work: Words = frozenset()
    hedging: Words = frozenset()
    denying: Words = frozenset()
    adjusting: Words = frozenset()
    brought_to: Words = frozenset()
    changed: Words = frozenset()
    left_at_quoted: Words = frozenset()
    states: Words = frozenset()
    pouring: Words = frozenset()
    adjustable: Words = frozenset()
    back_reference: Words = frozenset()
    narrowing: Words = frozenset()
    correction_links: Words = frozenset()
    undone: Words = frozenset()
    switched: Words = frozenset()
    no_state_before: Words = frozenset()
    figures_of: Words = frozenset()
    wanting: Words = frozenset()
    events: Words = frozenset()
    weak_plans: Words = frozenset()
    # around values
    tightening: Words = frozenset()
    doing: Words = frozenset()
    acted: Words = frozenset()
    quoting: Words = frozenset()
    specifying: Words = frozenset()
    tools: Words = frozenset()
    tool_makes: Words = frozenset()
    tubes: Words = frozenset()
    fraction_tubes: Words = frozenset()
    counted_after_article: Words = frozenset()
    told_in_inches: Words = frozenset()
    changes: Words = frozenset()
    plays: Words = frozenset()
    volts_of: Words = frozenset()
    turning: Words = frozenset()
    before_capacity: Words = frozenset()
    before_added: Words = frozenset()
    before_drained: Words = frozenset()
    poured: Words = frozenset()
    vessels: Words = frozenset()
    poured_by: Words = frozenset()
    engines: Words = frozenset()
    containers: Words = frozenset()
    hour_meters: Words = frozenset()
    packages: Words = frozenset()
    sets: Words = frozenset()
    left_over: Words = frozenset()
    kept_in: Words = frozenset()
    shelves: Words = frozenset()
    taking: Words = frozenset()
    using_up: Words = frozenset()
    strokes: Words = frozenset()
    measured_along: Words = frozenset()
    pumping: Words = frozenset()
    some_are: Words = frozenset()
    pointing: Words = frozenset()
    pointed: Words = frozenset()
    waiting: Words = frozenset()
    fluid_names: Words = frozenset()
    filled_fluids: Words = frozenset()
    fluid_containers: Words = frozenset()
    compressed: Words = frozenset()
    frost: Words = frozenset()
    joint_parts: Words = frozenset()
    loose_fasteners: Words = frozenset()
    bears_pounds: Words = frozenset()
    battery_states: Words = frozenset()
    hand_tightened: Words = frozenset()
    came_off: Words = frozenset()
    put_on: Words = frozenset()
    exchanged: Words = frozenset()
    in_place_of: Words = frozenset()
    was_there: Words = frozenset()
    on_order: Words = frozenset()
    getting: Words = frozenset()
    given_back: Words = frozenset()
    same_kind: dict[str, str] = field(default_factory=dict)  # word → kind of the value it asks for


def word_classes(rules: RuleSet) -> WordClasses:
    """The classes of the rule files; a class that no file has is empty.

    ValueError tells a word that is not in its normal form: a note is compared in normal forms, so it would never match.
    """
    says = {entry["id"].replace("-", "_"): frozenset([*_words(entry), *entry.get("marks", "").split()])
            for entry in rules.entries("word_classes", "class")}
    kinds = {word: kind for file in rules.named("word_classes")
             for kind, words in file.data.get("same_kind", {}).items() for word in listed(words)}
    known = {field.name for field in fields(WordClasses)}
    return WordClasses(**{name: words for name, words in says.items() if name in known}, same_kind=kinds)


def _words(entry: dict[str, Any]) -> list[str]:
    """The words of a class, each in its normal form."""
    words = listed(entry["says"])
    for word in words:
        normal = " ".join(normal_form(part) for part in word.replace("-", " ").replace("'s", " 's").split())
        if word != normal:
            raise ValueError(f"word_classes.toml: {entry['id']}: {word!r} never matches, write {normal!r}")
    return words
