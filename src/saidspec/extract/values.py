"""Facts that carry a value: the quantities and codes of a passage, each with its kind, role and component."""

from __future__ import annotations

from dataclasses import dataclass, field

from saidspec.discourse.attach import Neighbours, Target
from saidspec.discourse.attention import Attention
from saidspec.discourse.corrections import between
from saidspec.extract.adjusted import (
    gone_on,
    like_compression,
    like_last,
    like_measured,
    scaled,
    turned_further,
)
from saidspec.extract.ahead import unit_ahead
from saidspec.extract.bare import bare_sort
from saidspec.extract.bare_counts import counted_before
from saidspec.extract.bare_pieces import sized_fastener
from saidspec.extract.codes import code_fact
from saidspec.extract.draft import Draft
from saidspec.extract.fitting import fitting
from saidspec.extract.kinds import sort_of
from saidspec.extract.left_over import contents
from saidspec.extract.passage import Passage
from saidspec.extract.place import Place
from saidspec.extract.placing import cylinder, placed
from saidspec.extract.quantity import Quantity
from saidspec.extract.reach import next_service
from saidspec.extract.roles import Hint, RolesSaid
from saidspec.extract.scene import Scene
from saidspec.extract.sorts import Sort
from saidspec.extract.target import beside
from saidspec.model import Kind

NUMBERED = frozenset({"compression", "resistance", "gap", "clearance", "voltage", "current", "pressure", "play"})
# A value of these may say which part it stands before: "10 mm bolts", "30 amp fuse".
BEFORE_ITS_PART = frozenset({"length", "mil", "", "volume", "current", "power", "gauge", "charge", "degree", "pressure",
                             "temperature"})
# The first words of a sentence that goes on about what the one before it measured: "Ride height. It was 13 inches".
FOUND_WITH = frozenset({"has", "have", "had", "got", "no", "some", "any"})  # "has play", "no slack"
GOING_ON = frozenset({"it", "that", "they", "left", "right", "front", "rear", "now"})


@dataclass(slots=True)
class ValueReader:
    """Reads the values of one passage from its start; attention and memory move along."""

    scene: Scene
    roles: RolesSaid
    quantities: dict[int, Quantity]  # those of the passage by their number's token
    claimed: dict[int, str]  # tokens that are known to be no fact, with the rule that knows
    ends: list[int] = field(default_factory=list)  # ends of the values read so far
    labels: set[int] = field(default_factory=set)  # numbers that name a cylinder
    hot: bool = False  # temperatures were given

    @property
    def page(self) -> Passage:
        return self.scene.page

    @property
    def attention(self) -> Attention:
        return self.scene.attention

    @property
    def neighbours(self) -> Neighbours:
        return self.scene.near

    def target(self, start: int, end: int, length: bool, bare: bool = False) -> Target:
        """The component that stands beside tokens start..end (see `target.beside`)."""
        return beside(self.scene, start, end, length, bare)

    def fitting(self, kind: Kind, role: str | None, target: Target, start: int) -> Target:
        """The component that fits the kind of a value at token `start` (see `fitting.fitting`)."""
        return fitting(self.scene, kind, role, target, start)

    def hints(self, item: Quantity, next_start: int) -> list[Hint]:
        """The role words in the clause of a value: back to the value before, on to the value after."""
        page = self.page
        start = page.sentence_start(item.start)
        first = max(start, item.start - 12, self.ends[-1] if self.ends else 0)
        last = min(page.sentence_end(item.start), item.end + 6, next_start)
        first = max(first, self._told_before(first, item.start))
        found = [hint for hint in self.roles.hints(first, last, item.start, item.end)
                 if not self._found_before(hint, item.start)]
        if start and page.word(start) in GOING_ON and not any(
                hint.kind in ("measurement", "size", "torque") for hint in found):
            before = self.roles.hints(page.sentence_start(start - 1), start, item.start, item.end)
            found += [hint._replace(distance=3) for hint in before if hint.kind == "measurement"]
        return found

    def _found_before(self, hint: Hint, start: int) -> bool:
        """"The outer one has play jam nut 22 mm": what was found of another part is not what this value measures."""
        page = self.page
        if hint.start >= start or hint.kind != "measurement" or page.word(hint.start - 1) not in FOUND_WITH:
            return False
        return page.inside("finding", hint.start) and hint.end in self.neighbours.by_start

    def _told_before(self, first: int, start: int) -> int:
        """"Run out 0.1 pads at 6 mm": what stands before a figure and another part is said of that figure."""
        page = self.page
        part = next((at for at in range(start - 1, first, -1) if at in self.neighbours.by_start), first)
        return next((at + 1 for at in range(part - 1, first - 1, -1) if page.lexemes[at].kind == "number"), first)

    def read(self, item: Quantity, next_start: int) -> Draft | None:
        """The fact of a quantity, or None where it is none or nobody knows; `next_start`: token of the next number."""
        hints = self.hints(item, next_start)
        moved = gone_on(self.scene, item)
        if moved:
            return self._draft(item, *moved)
        length = item.dimension in BEFORE_ITS_PART and item.high is None
        one = item.value == 1 and item.form == "words"  # "used one drain plug"
        target = self.target(item.start, item.end, length,
                             bare=not item.dimension and item.form != "fraction" and not one)
        if item.unit or (item.dimension and item.angle is None):
            hot = self.hot or self.scene.memory.since("torque", item.start) > 24
            sort = sort_of(self.scene, item, target.mention, hints, hot)
        else:
            bare = self._bare(item, target, hints)
            if bare is None:
                return None
            sort = bare
        sort = like_measured(self.scene, item, like_compression(self.scene, item, sort, target), target)
        sort = scaled(self.scene.memory.said, item, like_last(self.scene, item, sort, hints))
        further = turned_further(self.scene, item, sort)
        if further or sort.no_fact:
            self.claimed.update(dict.fromkeys(range(item.start, item.end), sort.rule))
        if further or sort.kind is None:
            return None
        return self._draft(item, sort, self._held(item, sort) or self.fitting(sort.kind, sort.role, target, item.start))

    def _held(self, item: Quantity, sort: Sort) -> Target | None:
        """What counted packages hold: a consumable, a part or a fluid; and of what things "two left" are."""
        if sort.rule == "count.rest":
            before = counted_before(self.scene, item.start)
            prior = self.neighbours.before(item.start)
            mention = before.mention if before else next((one for one in prior if one.words), None)
            return Target(mention, "topic", 0.9) if mention else None
        sized = sized_fastener(self.page, item.end) if sort.rule == "count.pieces" else None
        if sized is not None and sized in self.neighbours.by_start:  # "cover is three eight mil bolts"
            return Target(self.attention.completed(self.neighbours.by_start[sized]), "modifier", 0.85)
        if sort.rule not in ("count.containers", "count.sets"):
            return None
        held = contents(self.page, item.end)
        if held is None and self.page.word(item.end + 1) == "of":
            named = next((one for at in range(item.end + 2, item.end + 4)
                          if (one := self.neighbours.by_start.get(at)) and one.words), None)  # fmt: skip
            held = self.attention.completed(named) if named else None
            if held is None and item.form == "fraction" and self.page.lexemes[item.end + 2].kind == "word":
                return Target(None, "none", 0.8)
        if held is not None:
            return Target(held, "for", 0.95)
        return self.fitting("volume", sort.role, self.target(item.start, item.end, length=False), item.start)

    def code(self, at: int) -> Draft | None:
        """The fact of the code at a token, or None where the code is none."""
        made = code_fact(self.scene, at)
        if made is not None:
            self.ends.append(at + 1)
        return made

    def _bare(self, item: Quantity, target: Target, hints: list[Hint]) -> Sort | None:
        """The sort of a figure without a unit, by the words around it or by the unit of the value after it."""
        near = self.neighbours
        said = near.by_start.get(target.mention.start) if target.mention is not None else None
        loose = (said is not None and said.kind == "position") or bool(cylinder(self.page, item.start, self.labels))
        sort = bare_sort(Place(self.scene, item, target.mention, target.manner, hints, loose))
        if sort is None:
            return self._ahead(item, target) if self.page.lexemes[item.number].kind != "word" else None
        if sort.rule == "cylinder.label":
            self.labels.add(item.number)
        return sort

    def _ahead(self, item: Quantity, target: Target) -> Sort | None:
        following = unit_ahead(self.scene, item, target.mention, self.quantities)
        taken_back = following is not None and between(self.page, item.end, following.start) is not None
        if following is None:
            return None
        sort = sort_of(self.scene, following, target.mention, self.hints(following, following.end + 6), self.hot)
        if sort.kind is None or (sort.kind == "size" and not target.mention and not taken_back):
            return None
        return Sort(sort.kind, sort.role, sort.unit, f"{sort.kind}.ahead")

    def _draft(self, item: Quantity, sort: Sort, target: Target) -> Draft:
        """The fact of a value, kept in memory; less sure where its unit was not said or its figure is a guess."""
        assert sort.kind is not None
        numbered = sort.kind == "measurement" and sort.role in NUMBERED
        label = cylinder(self.page, item.start, self.labels) if numbered else None
        of_none = sort.kind in ("odometer", "duration") or (sort.kind == "interval" and next_service(self.page, item))
        mention = None if of_none else placed(self.scene, item, target, label)
        made = Draft(sort.kind, item.start, item.end, item.number, mention, item.value, item.high, sort.unit or None,
                     angle=item.angle, role=sort.role, assertion=sort.assertion, approximate=item.approximate,
                     rule=sort.rule, cue=sort.rule if sort.assertion != "stated" else None, manner=target.manner,
                     bare=not item.unit)
        made.confidence = min(0.97, target.confidence) - (0.15 if made.bare else 0) - (0 if item.sure else 0.1)
        if sort.rule == "torque.angle":
            turns = item.dimension == "turn" or item.form == "fraction"
            made.value, made.unit, made.angle = None, None, item.value * (360 if turns else 1)
        if made.unit in ("degC", "degF") and item.dimension == "temperature":
            self.hot = True
        self.scene.memory.keep(made)
        self.ends.append(item.end)
        return made
