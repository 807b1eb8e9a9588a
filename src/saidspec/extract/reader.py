"""Reads a passage from its start to its end: everything that was found, in the order it was said."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from saidspec.discourse.attach import Neighbours
from saidspec.discourse.attention import Attention
from saidspec.discourse.carryover import SAME, carried
from saidspec.extract.assertion import others
from saidspec.extract.components import mentions
from saidspec.extract.dates import date_facts, dates, past_ends
from saidspec.extract.days import Day
from saidspec.extract.distractors import known_numbers, no_code
from saidspec.extract.draft import Draft
from saidspec.extract.fluids import fluid, named_fluids
from saidspec.extract.materials import claim_materials
from saidspec.extract.mention import Mention
from saidspec.extract.mileage import settle_readings, travel
from saidspec.extract.names import vehicle_names
from saidspec.extract.passage import Passage
from saidspec.extract.place import Memory
from saidspec.extract.prices import Prices
from saidspec.extract.quantities import Quantity, quantities
from saidspec.extract.rules import Rules
from saidspec.extract.statements import statements
from saidspec.extract.states import renewed, state
from saidspec.extract.surroundings import Surroundings
from saidspec.extract.trouble import settle_codes
from saidspec.extract.values import ValueReader


@dataclass(slots=True)
class Read:
    """All drafts of a passage with what the later stages need to know of it."""

    page: Passage
    drafts: list[Draft]
    days: list[Day]
    phrases: list[Mention]
    completed: dict[int, Mention]
    focus_at: dict[int, Mention | None] = field(default_factory=dict)
    claimed: set[int] = field(default_factory=set)  # tokens of numbers that are known to be no fact


def read_passage(page: Passage, rules: Rules) -> Read:
    """The drafts of a passage: values, codes, statements, dates and money, each with its component."""
    claim_materials(page)
    phrases = mentions(page)
    attention = Attention(rules.lexicon, page)
    near = Neighbours(page, phrases, attention)
    days = dates(page, page.note.date)
    claimed = {at for phrase in phrases for at in range(phrase.start, phrase.end)}
    claimed |= {at for day in days for at in range(day.start, day.end)}
    numbers = {item.number: item for item in quantities(page, rules.units) if item.number not in claimed}
    memory = Memory(travel=travel(page, numbers, rules.units.single("distance"), past_ends(days, page.note.date)))
    values = ValueReader(
        page,
        rules.lexicon,
        rules.roles,
        attention,
        near,
        memory,
        claimed,
        [],
        numbers,
        frozenset(item.unit for item in numbers.values()),
    )
    claimed |= known_numbers(page, numbers, rules.distractors, vehicle_names(page, numbers, rules.no_names))
    prices = Prices(values, rules.money, {at: item for at, item in numbers.items() if at not in claimed})
    read = Read(page, [], days, phrases, {}, claimed=claimed)
    events = _events(page, phrases, numbers, Surroundings(page, rules.lexicon, attention, near))
    order = sorted(numbers)
    following = {number: order[i + 1] if i + 1 < len(order) else len(page) for i, number in enumerate(order)}
    skip_until = -1
    foreign = others(page)
    for at, what, item in events:
        if what == "mention":
            full = attention.completed(item) if item.start in foreign else attention.hear(item)
            read.completed[item.start] = full
            read.drafts += [draft for draft in (state(page, item, full) or renewed(page, item, full),) if draft]
        elif what == "system":
            attention.name_system(item.term.system)
        elif what == "number":
            if at < skip_until:
                continue
            draft = _number(item, values, prices, following[item.number], read)
            if draft:
                read.drafts.append(draft)
                skip_until = max(skip_until, draft.end)
        elif what == "code":
            if no_code(page, at, rules.distractors):
                read.claimed.add(at)
                continue
            read.drafts += [draft for draft in (values.code(at),) if draft]
        elif what == "fluid":
            read.drafts.append(fluid(values, item))
        elif what == "same":
            draft = carried(page, at, read.drafts, attention, near.by_start)
            read.drafts += [draft] if draft else []
        else:
            read.drafts += [draft for draft in (item(),) if draft]
        read.focus_at[at] = attention.history[-1] if attention.history else None
    read.drafts += date_facts(days, page.note.date)
    settle_readings(page, read.drafts, memory.travel)
    settle_codes(page, read.drafts)
    return read


def _events(
    page: Passage, phrases: list[Mention], numbers: dict[int, Quantity], around: Surroundings
) -> list[tuple[int, str, Any]]:
    """What was found, in the order of the note: a part is heard before what is said of it in the same place."""
    events: list[tuple[int, int, str, Any]] = [(phrase.start, 0, "mention", phrase) for phrase in phrases]
    inside = {at for phrase in phrases for at in range(phrase.start, phrase.end)}
    events += [(found.start, 0, "system", found) for found in page.found.get("system", ())]
    events += [(item.start, 1, "number", item) for item in numbers.values()]
    events += [(at, 1, "code", None) for at, lex in enumerate(page.lexemes) if lex.kind == "code" and at not in inside]
    events += [(found.start, 1, "fluid", found) for found in named_fluids(page, phrases)]
    events += [(at, 2, "same", None) for at, word in enumerate(page.norm) if word in SAME]
    events += [(at, 3, "statement", statement) for at, statement in statements(around)]
    events.sort(key=lambda event: (event[0], event[1]))
    return [(at, what, item) for at, _, what, item in events]


def _number(item: Quantity, values: ValueReader, prices: Prices, following: int, read: Read) -> Draft | None:
    if item.number in read.claimed:
        return None
    return prices.read(item, read.drafts) or values.read(item, following)
