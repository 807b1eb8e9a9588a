"""Reads a passage from its start to its end: everything that was found, in the order it was said."""

from __future__ import annotations

from dataclasses import dataclass, field

from saidspec.discourse.attach import Neighbours
from saidspec.discourse.attention import Attention
from saidspec.discourse.carryover import carried
from saidspec.extract.components import mentions
from saidspec.extract.cues import others
from saidspec.extract.dates import date_facts, dates, past_ends
from saidspec.extract.days import Day
from saidspec.extract.distractors import known_numbers, no_code
from saidspec.extract.draft import Draft
from saidspec.extract.events import (
    CodeSaid,
    Event,
    GradeNamed,
    NumberSaid,
    PartNamed,
    SameSaid,
    StatementMade,
    SystemNamed,
    events,
)
from saidspec.extract.filled import filled
from saidspec.extract.fluids import fluid
from saidspec.extract.fraction_units import with_parts
from saidspec.extract.left_over import claim_left
from saidspec.extract.materials import claim_materials
from saidspec.extract.memory import Memory
from saidspec.extract.mention import Mention
from saidspec.extract.mileage import settle_readings, travel
from saidspec.extract.names import vehicle_names
from saidspec.extract.passage import Passage
from saidspec.extract.prices import Prices, prices
from saidspec.extract.quantities import quantities
from saidspec.extract.quantity import Quantity, said_units
from saidspec.extract.rules import Rules
from saidspec.extract.scene import Scene
from saidspec.extract.states import renewed, state
from saidspec.extract.surroundings import Surroundings
from saidspec.extract.trouble import settle_codes
from saidspec.extract.values import ValueReader
from saidspec.extract.verbs import split_verbs, verbal

CARRIED_FROM = 240  # drafts in which the value of a back reference is looked for


@dataclass(slots=True)
class Read:
    """All drafts of a passage with what the later stages need to know of it."""

    page: Passage
    drafts: list[Draft]
    days: list[Day]
    phrases: list[Mention]
    completed: dict[int, Mention] = field(default_factory=dict)  # phrases by their first token
    claimed: dict[int, str] = field(default_factory=dict)  # tokens known to be no fact, with the rule that knows


def read_passage(page: Passage, rules: Rules) -> Read:
    """The drafts of a passage: values, codes, statements, dates and money, each with its component."""
    claim_materials(page)
    claim_left(page)
    phrases = mentions(page)
    days = dates(page, page.note.date)
    claimed = {at: "component.name" for phrase in phrases for at in range(phrase.start, phrase.end)}
    claimed |= {at: day.rule for day in days for at in range(day.start, day.end)}
    items, parts = with_parts(page, quantities(page, rules.units))
    claimed |= dict.fromkeys(parts, "fraction.parts")
    numbers = {item.number: item for item in items if item.number not in claimed}
    memory = Memory(travel=travel(page, numbers, rules.units.single["distance"], past_ends(days, page.note.date)),
                    said=said_units(numbers.values()))
    claimed |= known_numbers(page, numbers, rules.distractors, vehicle_names(page, numbers, rules.no_names))
    read = Read(page, [], days, phrases, claimed=claimed)
    reader = _reader(read, rules, memory, numbers)
    around = Surroundings(page, rules.lexicon, reader.values.attention, reader.values.neighbours)
    reader.particles.update(place for verb, place in split_verbs(around) if verbal(around, verb))
    for event in events(around, numbers):
        draft = reader.hear(event)
        if draft:
            filled(reader.values.scene, draft, read.drafts)
            read.drafts.append(draft)
    read.drafts += date_facts(days, page.note.date)
    settle_readings(page, read.drafts, memory.travel)
    settle_codes(page, read.drafts)
    return read


def _reader(read: Read, rules: Rules, memory: Memory, numbers: dict[int, Quantity]) -> Reader:
    """The readers of a passage at its start; what is claimed later is claimed in `read` too."""
    attention = Attention(rules.lexicon, read.page)
    near = Neighbours(read.page, read.phrases, attention)
    scene = Scene(read.page, rules.lexicon, attention, near, memory, rules.lexicon.classes)
    values = ValueReader(scene, rules.roles.said(read.page), numbers, read.claimed)
    money = prices(values, rules.money, {at: item for at, item in numbers.items() if at not in read.claimed})
    return Reader(read, rules, values, money, others(read.page))


@dataclass(slots=True)
class Reader:
    """Takes in the events of a passage one by one and answers the fact that each makes, if any."""

    read: Read
    rules: Rules
    values: ValueReader
    prices: Prices
    foreign: set[int]  # tokens in what is said of other vehicles
    particles: set[int] = field(default_factory=set)  # tokens that belong to a verb before its object
    number_end: int = -1  # numbers before this token belong to a value that was read already

    def hear(self, event: Event) -> Draft | None:
        """The fact of an event; call in the order of the note."""
        match event:
            case PartNamed(_, mention):
                return self._part(mention)
            case SystemNamed(_, system):
                self.values.attention.name_system(system)
                return None
            case NumberSaid():
                return self._number(event)
            case CodeSaid(at):
                return self._code(at)
            case GradeNamed(_, found):
                return fluid(self.values, found)
            case SameSaid(at):
                near, attention = self.values.neighbours, self.values.attention
                told = [draft for draft in self.read.drafts[-CARRIED_FROM:] if draft.anchor not in self.foreign]
                return carried(self.read.page, at, told, attention, near.by_start)
            case StatementMade(_, statement):
                return self._stated(statement())

    def _part(self, mention: Mention) -> Draft | None:
        """Turn attention to a part, unless it is another vehicle's; and what its state tells was done."""
        attention, page = self.values.attention, self.read.page
        full = attention.completed(mention) if mention.start in self.foreign else attention.hear(mention)
        self.read.completed[mention.start] = full
        made = state(page, mention, full)
        if made and made.action == "remove" and full.words:
            attention.removed = full
        if made and made.anchor in self.particles:
            made = None  # of the verb before the part: "blew the hub out"
        return made or renewed(page, mention, full)

    def _stated(self, draft: Draft | None) -> Draft | None:
        """A statement, unless it goes on from a number that is known to be none: "my dog is 7 years old"."""
        foreign = draft is not None and draft.kind == "observation" and (
            self.read.claimed.get(draft.start, "").startswith("distractor."))
        return None if foreign else draft

    def _number(self, event: NumberSaid) -> Draft | None:
        item = event.item
        if event.at < self.number_end or item.number in self.read.claimed:
            return None
        draft = self.prices.read(item, self.read.drafts) or self.values.read(item, event.following)
        if draft:
            self.number_end = max(self.number_end, draft.end)
        return draft

    def _code(self, at: int) -> Draft | None:
        known = no_code(self.read.page, at, self.rules.distractors)
        if known:
            self.read.claimed[at] = known.id
            return None
        return self.values.code(at)
