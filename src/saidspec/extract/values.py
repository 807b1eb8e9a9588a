"""Facts that carry a value: the quantities and codes of a passage, each with its kind, role and component."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from saidspec.discourse.attach import Neighbours, Target
from saidspec.discourse.attention import NOUNS_OF_MEASURE, Attention
from saidspec.discourse.corrections import between
from saidspec.extract.bare import bare_sort
from saidspec.extract.draft import Draft
from saidspec.extract.kinds import part_role, sort_of
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage
from saidspec.extract.place import Memory, Place
from saidspec.extract.quantities import Quantity
from saidspec.extract.roles import Hint, RoleTable
from saidspec.extract.sorts import Sort
from saidspec.model import Kind

CODE_KINDS: dict[str, tuple[Kind, str | None]] = {
    "thread": ("size", "thread"), "bit": ("size", "tool"), "tyre": ("size", "tyre"), "pattern": ("size", "part"),
    "chain": ("size", "part"), "bulb": ("size", "part"),
    "viscosity": ("fluid", None), "class": ("fluid", None), "trouble": ("trouble_code", None),
    "part": ("part_number", "installed"),
}  # fmt: skip
UNNAMED = {"compression": "cylinder", "speed": "engine"}  # what is measured where no part is named
NAMES_OF_ROLE = {
    "pressure": ("pressure",),
    "voltage": ("voltage",),
    "temperature": ("temperature", "temp"),
    "resistance": ("resistance",),
    "clearance": ("clearance",),
    "gap": ("gap",),
    "thickness": ("thickness",),
    "play": ("play",),
    "deflection": ("deflection",),
    "slack": ("slack",),
    "travel": ("travel",),
}
NUMBERED = {"compression", "resistance", "gap", "clearance", "voltage", "current", "pressure", "play"}
LISTING = {
    "/",
    "and",
    ",",
    "for",
    "the",
    "on",
    "at",
    "then",
    "a",
    "of",
    "one",
    "is",
    "'s",
    "are",
    "&",
    "to",
    "in",
    "got",
    "rear",
    "both",
    "each",
    "side",
    "was",
}


@dataclass(slots=True)
class ValueReader:
    """Reads the values of one passage from its start; attention and the memory of units move along."""

    page: Passage
    lexicon: Lexicon
    roles: RoleTable
    attention: Attention
    neighbours: Neighbours
    memory: Memory
    claimed: set[int]
    ends: list[int]  # ends of the values read so far
    quantities: dict[int, Quantity] = field(default_factory=dict)  # those of the passage by their number's token
    said_units: frozenset[str] = frozenset()
    labels: set[int] = field(default_factory=set)  # numbers that name a cylinder
    hot: bool = False

    # -- components
    def target(self, start: int, end: int, length: bool, bare: bool = False) -> Target:
        """The component that stands beside tokens start..end; `length` allows "10 mm bolts"."""
        near, attention = self.neighbours, self.attention
        prior = [other for other in near.before(start) if other.words not in NOUNS_OF_MEASURE]
        item = near.modified(start, end) if length else None
        if item and item.words in NOUNS_OF_MEASURE:
            item = None
        if item and not (bare and not item.fastener and not item.plural):
            return Target(attention.completed(item), "modifier", 0.95)
        item = near.named_after(end)
        if item:
            return Target(attention.completed(item), "copula", 0.95)
        item = near.placed_after(start, end)
        if item:
            return Target(attention.completed(item), "place", 0.9)
        item = near.governed(end)
        if item:
            full = attention.completed(item)
            if item.kind == "position" and prior and not full.words:
                full = prior[0]
            asking = (
                bool(prior)
                and {*self.page.words(prior[0].end, start)}
                & {"takes", "wants", "needs", "take", "need", "want", "uses"}
                and item.kind == "part"
                and not item.fastener
            )
            if not asking and not (
                prior
                and prior[0].fastener
                and not item.fastener
                and item.kind == "part"
                and self._beside(prior[0], start)
            ):
                return Target(full, "for", 0.95)
            return Target(prior[0], "topic", 0.9)
        if {"one", "pair", "set", "unit"} & {*self.page.words(start - 4, start)} and "new" in self.page.words(
            start - 6, start
        ):
            replaced = next((other for other in attention.recent(15) if other.is_old and other.words), None)
            if replaced is not None and not any(other.start >= start - 4 and not other.general for other in prior):
                return Target(replaced, "focus", 0.75)  # "new pair is RS-4471", after "the old shocks"
        plain = [other for other in prior if not other.oblique]
        if prior and prior[0].oblique:
            if plain:
                return Target(plain[0], "topic", 0.8)
            earlier = next((other for other in self.attention.recent(4) if not other.oblique and other.words), None)
            if (
                earlier
                and start - prior[0].end > 2
                and self.page.sentence[start] - self.page.sentence[earlier.start] <= 1
            ):
                return Target(earlier, "focus", 0.7)
        if prior:
            return Target(prior[0], "topic", 0.9 if start - prior[0].end < 8 else 0.8)
        main = attention.main(start)
        if main is not None:
            return Target(main, "focus", 0.55)
        if attention.history:
            last = attention.history[-1]
            gap = self.page.sentence[start] - self.page.sentence[last.start]
            return Target(last, "focus", 0.8 if gap <= 1 else 0.6)
        return Target(None, "none", 0.5)

    def _beside(self, mention: Mention, start: int) -> bool:
        return start - mention.end <= 3 and not {"and", ",", ";"} & {*self.page.words(mention.end, start)}

    def fitting(self, kind: Kind, role: str | None, target: Target, start: int) -> Target:
        """The component that fits the kind: a torque goes to a fastener, a volume to a fluid, a thickness to a
        lining.
        """
        pool = self.neighbours.before(start) if target.manner in ("topic", "focus") else []
        if kind in ("torque", "size") and role in (None, "tool", "thread"):
            return self._fastened(target, pool, kind, start)
        if kind in ("volume", "fluid"):
            return self._fluid(target, start)
        if kind == "measurement" and role:
            words = {*self.page.words(start - 8, start + 6)}
            if role == "temperature" and words & {"refractometer", "freezing", "freeze", "frost", "antifreeze"}:
                return self._fluid(target, start)
            return self._measured(role, target, pool, start)
        if kind in ("part_number", "cost"):
            return self._bought(target, pool, start)
        return target

    def _fastened(self, target: Target, pool: list[Mention], kind: Kind, start: int) -> Target:
        if target.mention is None or target.mention.fastener or target.manner in ("modifier", "for", "copula", "place"):
            return target
        if target.manner == "topic" and start - target.mention.end <= 2 and not target.mention.general:
            return target
        last = self.memory.last
        if (
            kind == "torque"
            and last is not None
            and last.kind == "torque"
            and last.mention is not None
            and self.page.same_sentence(last.anchor, start)
            and (not any(item.fastener and item.start >= last.start for item in pool))
        ):
            return Target(last.mention, "topic", 0.8)
        near = next((item for item in pool if item.fastener), None)
        if near:
            return Target(near, "topic", 0.85)
        if target.manner == "topic" and target.mention.head not in ("washer", "gasket", "seal", "ring", "oil", "fluid"):
            return target
        listed = bool(self.page.note.utterances) and self.page.note.utterances[self.page.utterance[start]].item
        recent = next(
            (
                item
                for item in self.attention.recent(6)
                if (item.fastener or "plug" in item.words)
                and (not listed or self.page.utterance[item.start] == self.page.utterance[start])
            ),
            None,
        )
        if recent and self.page.sentence[target.mention.start] - self.page.sentence[recent.start] <= 3:
            return Target(recent, "focus", 0.65)
        return target

    def _fluid(self, target: Target, at: int) -> Target:
        """The fluid: said beside the value, else of the part's system, else by its grade, else spoken of last."""
        mention = target.mention
        if mention is not None and self._is_fluid(mention):
            return target
        named = next((found for i in range(at, at + 6) for found in (self.page.starting("fluid", i),) if found), None)
        if named and self.page.same_sentence(at, named.start) and "of" in self.page.words(at, named.start):
            return Target(
                Mention(named.start, named.end, tuple(self.page.norm[named.start : named.end]), (), "part", "", False),
                "for",
                0.8,
            )
        beside = next((self.neighbours.by_start[i] for i in range(at, at + 6) if i in self.neighbours.by_start), None)
        if beside and self._is_fluid(beside) and self.page.same_sentence(at, beside.start):
            return Target(self.attention.completed(beside), "for", 0.9)
        here = [item for item in self.neighbours.before(at) if self._is_fluid(item) and item.head != "grease"]
        if here:
            return Target(here[0], "topic", 0.85)
        own = mention.system if mention is not None and target.manner != "focus" else ""
        name = self._fluid_of(own) or self._by_grade(at)
        recent = next(
            (item for item in self.attention.recent(8) if item.head in ("oil", "fluid", "coolant", "antifreeze")), None
        )
        if (
            name is None
            and recent is not None
            and (mention is None or recent.system == mention.system or at - recent.end < 60)
        ):
            return Target(recent, "focus", 0.75)
        name = (
            name
            or self._fluid_of(self.attention.leading_system())
            or self._fluid_of(self.attention.system)
            or self._fluid_of(self.attention.job)
        )
        if name:
            base = mention or Mention(0, 0, (), (), "part", own, False)
            return Target(replace(base, words=tuple(name.split()), positions=(), kind="part"), "focus", 0.7)
        earlier = next(
            (item for item in self.attention.recent() if item.head in ("oil", "fluid", "coolant", "antifreeze")), None
        )
        return Target(earlier, "focus", 0.6) if earlier else target

    def _fluid_of(self, system: str) -> str | None:
        found = self.lexicon.systems.get(system)
        return found.fluid if found and found.fluid else None

    def _by_grade(self, at: int) -> str | None:
        """An engine oil or a gear oil by its viscosity grade nearby (SAE J300, J306); forks and hydraulics have
        their own.
        """
        if self.attention.system in ("motorcycle", "hydraulics", "suspension", "transmission"):
            return None
        for i in range(max(0, at - 10), min(len(self.page), at + 10)):
            lex = self.page.lexemes[i]
            if lex.kind == "code" and lex.form == "viscosity" and "W-" in lex.text and self.page.same_sentence(at, i):
                return "engine oil" if int(float(lex.text.split("W")[0])) <= 20 else "gear oil"
        return None

    def _is_fluid(self, mention: Mention) -> bool:
        return mention.head in (
            "oil",
            "fluid",
            "coolant",
            "antifreeze",
            "water",
            "concentrate",
            "grease",
            "fuel",
            "petrol",
            "diesel",
            "refrigerant",
        )

    def _measured(self, role: str, target: Target, pool: list[Mention], start: int) -> Target:
        mention = target.mention
        if role == "compression" and mention is not None and not self._has_role(mention, role):
            said = self.neighbours.by_start.get(mention.start)
            places = (
                said.positions
                if said is not None and said.kind == "position"
                else tuple(pair for pair in mention.positions if pair[0] == "cylinder")
            )
            return Target(Mention(0, 0, ("cylinder",), places, "part", "engine", False), target.manner, 0.75)
        if (mention is None and role in UNNAMED) or (
            target.manner == "focus" and role in UNNAMED and not self._has_role(mention, role)
        ):
            return Target(Mention(0, 0, (UNNAMED[role],), (), "part", "engine", False), "focus", 0.6)
        if mention is None or target.manner in ("modifier", "for", "copula") or self._has_role(mention, role):
            return target
        said = self.neighbours.by_start.get(mention.start)
        named = (
            target.manner == "topic"
            and said is not None
            and said.kind == "fastener"
            and not any(not item.fastener and item.words for item in pool)
        )
        if mention.fastener and role not in ("resistance", "voltage", "temperature") and not named:
            return self._unfastened(target, role, pool)
        if target.manner == "place":
            return target
        subject = next((item for item in pool if self.page.word(item.end) in NAMES_OF_ROLE.get(role, ())), None)
        if subject is not None:
            return Target(subject, "topic", 0.85)  # "relief valve pressure next, gauge on the port, it made 175 bar"
        near = next((item for item in pool if self._has_role(item, role)), None)
        if near and not (
            target.manner == "topic" and start - mention.end <= 3 and part_role(mention, self.lexicon, None)
        ):
            return Target(near, "topic", 0.85)
        if target.manner == "focus":
            recent = next((item for item in self.attention.recent(8) if self._has_role(item, role)), None)
            if recent and not (role == "pressure" and self._in_system(recent)):
                return Target(recent, "focus", 0.7)
            if role == "pressure" and self._in_system(mention):
                name = self.lexicon.systems[self.attention.system].name
                words = tuple(name.split()) if name.endswith("system") else (*name.split(), "system")
                return Target(Mention(0, 0, words, (), "part", self.attention.system, False), "focus", 0.65)
        return target

    def _unfastened(self, target: Target, role: str, pool: list[Mention]) -> Target:
        """A length or a play is no bolt's: the part spoken of before it, at the place that was named."""
        mention = target.mention
        assert mention is not None
        items = [item for item in [*pool, *self.attention.recent(10)] if item.words and not item.fastener]
        best = next((item for item in items if self._has_role(item, role)), None) or next(
            (item for item in items if self.page.sentence[mention.start] - self.page.sentence[item.start] <= 2), None
        )
        if best is None or (mention.head in ("pin", "plug", "cap", "clip") and not self._has_role(best, role)):
            return target
        positions = dict(best.positions) | (dict(mention.positions) if self._placed(mention) else {})
        return Target(replace(best, positions=tuple(positions.items())), target.manner, 0.7)

    def _in_system(self, mention: Mention) -> bool:
        """A pressure that belongs to a system of fluid and not to a tyre."""
        system = self.lexicon.systems.get(self.attention.system)
        return (
            system is not None
            and bool(system.fluid)
            and not {"tyre", "wheel"} & {*mention.words}
            and mention.system == self.attention.system
        )

    def _has_role(self, mention: Mention | None, role: str) -> bool:
        if mention is None:
            return False
        parts = self.lexicon.roles.get(role, set())
        for first in range(len(mention.words)):
            name = " ".join(mention.words[first:])
            if name in parts or self.lexicon.canonical.get(name, name) in parts:
                return True
        return False

    def _bought(self, target: Target, pool: list[Mention], start: int) -> Target:
        mention = target.mention
        number = next((draft for draft in reversed(self.memory.recent[-3:]) if draft.kind == "part_number"), None)
        if (
            number is not None
            and number.mention is not None
            and self.page.same_sentence(number.anchor, start)
            and (
                {"that", "kit", "set"} & {*self.page.words(number.end, start)} or number.mention.head in ("kit", "set")
            )
            and (target.manner in ("topic", "focus"))
        ):
            return Target(number.mention, "topic", 0.85)
        if (
            target.manner in ("topic", "focus")
            and {*self.page.words(start - 4, start + 5)} & {"jug", "bottle", "drum", "can", "tin", "litre", "quart"}
            and not any(start - item.end <= 4 for item in pool)
        ):
            return self._fluid(target, start)
        topic = self.attention.topic_at(start)
        if (
            topic is not None
            and target.manner in ("topic", "focus")
            and not topic.fastener
            and mention is not None
            and not mention.is_new
        ):
            return Target(topic, "topic", 0.85)
        if (
            number is not None
            and number.mention is not None
            and target.manner in ("topic", "focus")
            and start - number.end <= 14
            and not any(item.start >= number.end for item in pool)
        ):
            return Target(number.mention, "topic", 0.85)
        if (
            mention is None
            or not mention.fastener
            or mention.head in ("plug", "cap")
            or target.manner in ("modifier", "for")
        ):
            return target
        near = next((item for item in pool if not item.fastener), None)
        return Target(near, "topic", 0.8) if near else target

    # -- values
    def hints(self, item: Quantity, next_start: int) -> list[Hint]:
        """The role words in the clause of a value: back to the value before, on to the value after."""
        page = self.page
        first = max(page.sentence_start(item.start), item.start - 12, self.ends[-1] if self.ends else 0)
        last = min(page.sentence_end(item.start), item.end + 6, next_start)
        found = self.roles.hints(page, first, last, item.start, item.end)
        start = page.sentence_start(item.start)
        if (
            start
            and page.word(start) in ("it", "that", "they", "left", "right", "front", "rear", "now")
            and not any(hint.kind in ("measurement", "size", "torque") for hint in found)
        ):
            before = self.roles.hints(page, page.sentence_start(start - 1), start, item.start, item.end)
            found += [
                replace(hint, distance=3) for hint in before if hint.kind == "measurement"
            ]  # "Ride height. It was 13 inches"
        return found

    def read(self, item: Quantity, next_start: int) -> Draft | None:
        """The fact of a quantity, or None where it is none or nobody knows."""
        hints = self.hints(item, next_start)
        moved = self._adjusted(item) or self._same_again(item)
        if moved:
            return moved
        length = item.dimension in ("length", "mil", "", "volume", "current", "power", "gauge", "charge")
        length = length and item.high is None
        target = self.target(item.start, item.end, length, bare=not item.dimension and item.form != "fraction")
        if not item.dimension or (item.angle is not None and not item.unit):
            length = length and item.high is None
        if item.unit or (item.dimension and item.angle is None):
            sort = sort_of(
                self.page,
                item,
                target.mention,
                hints,
                self.lexicon,
                self.hot or self.memory.since("torque", item.start) > 24,
            )
        else:
            said = self.neighbours.by_start.get(target.mention.start) if target.mention is not None else None
            loose = (said is not None and said.kind == "position") or self._label(item.start) is not None
            place = Place(self.page, item, target.mention, target.manner, hints, self.lexicon, self.memory, loose)
            found = bare_sort(place) or self._ahead(item, target)
            if found is None:
                return None
            sort = found
            if sort.rule == "cylinder.label":
                self.labels.add(item.number)
        if (
            sort.role == "pressure"
            and "compression" in self.page.words(item.start - 24, item.start)
            and not (target.mention is not None and {"tyre"} & {*target.mention.words})
        ):
            sort = replace(sort, role="compression")
        if (
            sort.role == "pressure"
            and self.memory.last is not None
            and self.memory.last.role == "compression"
            and item.start - self.memory.last.end < 40
        ):
            sort = replace(sort, role="compression")
        sort = self._scaled(item, self._like_last(item, sort, hints))
        if self._turned_further(item, sort):
            self.claimed.update(range(item.start, item.end))
            return None
        if sort.no_fact:
            self.claimed.update(range(item.start, item.end))
        if sort.kind is None:
            return None
        return self._draft(
            item,
            sort,
            self.fitting("volume" if sort.rule == "count.containers" else sort.kind, sort.role, target, item.start),
        )

    def _like_last(self, item: Quantity, sort: Sort, hints: list[Hint]) -> Sort:
        """A length right behind a size, or behind a correction of one, is a size too: "18 mm; at the rack it is
        16 mm".
        """
        last, page = self.memory.last, self.page
        if (
            last is None
            or last.kind != "size"
            or sort.kind != "measurement"
            or sort.unit != last.unit
            or not item.unit
            or item.start - last.end > 16
        ):
            return sort
        if (
            any(hint.kind == "measurement" and hint.distance <= 5 for hint in hints)
            or (item.value != item.value.to_integral_value() and item.form != "fraction")
            or item.value > 60
        ):
            return sort
        corrected = between(page, last.end, item.start) is not None
        return (
            replace(sort, kind="size", role=last.role, rule="size.like-last")
            if corrected or page.same_sentence(last.anchor, item.start)
            else sort
        )

    def _scaled(self, item: Quantity, sort: Sort) -> Sort:
        """Degrees without a scale are Fahrenheit where that scale was said, or US measures are and the figure is
        high.
        """
        if sort.rule != "measurement.degrees" or "degC" in self.said_units:
            return sort
        american = {"qt", "floz", "gal"} & self.said_units and not {"L", "mL"} & self.said_units
        return replace(sort, unit="degF") if "degF" in self.said_units or (american and item.value >= 100) else sort

    def _turned_further(self, item: Quantity, sort: Sort) -> bool:
        """ "180 newton metres with a helper on the brake, and then another 90 degrees": the angle of the torque
        before it.
        """
        last = self.memory.last
        if (
            sort.rule != "torque.angle"
            or last is None
            or last.kind != "torque"
            or last.angle is not None
            or not last.value
        ):
            return False
        if not self.page.same_sentence(last.anchor, item.start) or item.start - last.end > 16:
            return False
        last.angle, last.end = item.value, item.end
        return True

    def _adjusted(self, item: Quantity) -> Draft | None:
        """ "Moved it over, now 11 mm": the value after an adjustment is of what was measured before."""
        page = self.page
        if (
            page.word(item.start - 1) not in ("now",)
            and "now" not in page.words(item.end, item.end + 2)
            and page.words(item.start - 3, item.start)
            not in (["now", "it", "is"], ["now", "it", "'s"], ["it", "is", "now"])
        ):
            return None
        for early in reversed(self.memory.recent):
            if item.start - early.end > 60:
                return None
            if early.kind == "count" and not item.unit:
                return None
            if (
                early.kind == "measurement"
                and early.unit
                and early.value
                and (not item.unit or item.unit == early.unit or (item.dimension == "mil" and early.unit == "mm"))
                and (early.value / 20 <= item.value <= early.value * 20)
            ):
                named = [
                    mention
                    for mention in self.neighbours.before(item.start, 4)
                    if mention.end > early.end and mention.words
                ]
                if named and not named[0].general:
                    return None
                sort = Sort("measurement", early.role, early.unit, "measurement.adjusted")
                return self._draft(item, sort, Target(early.mention, "focus", 0.85))
        return None

    def _draft(self, item: Quantity, sort: Sort, target: Target) -> Draft:
        assert sort.kind is not None
        made = Draft(
            sort.kind,
            item.start,
            item.end,
            item.number,
            target.mention,
            item.value,
            item.high,
            sort.unit or None,
            angle=item.angle,
            role=sort.role,
            approximate=item.approximate,
            rule=sort.rule,
            manner=target.manner,
            bare=not item.unit,
            assertion=sort.assertion,
            cue=sort.rule if sort.assertion != "stated" else None,
        )
        label = self._label(item.start) if sort.kind == "measurement" and sort.role in NUMBERED else None
        if label and made.mention is not None:
            made.mention = replace(
                made.mention, positions=tuple((dict(made.mention.positions) | {"cylinder": label}).items())
            )
        end = self._end_said(item.end)
        if made.mention is not None and end:
            made.mention = replace(made.mention, positions=tuple((dict(made.mention.positions) | {"end": end}).items()))
        if (
            made.mention is not None
            and target.manner in ("focus", "topic")
            and (not self._placed(made.mention) or made.mention.start < self.page.sentence_start(item.start))
            and self._for_all(item)
        ):
            made.mention = replace(
                made.mention, positions=tuple(pair for pair in made.mention.positions if pair[0] not in ("side", "end"))
            )
        made.confidence = min(0.97, target.confidence) - (0.15 if made.bare else 0) - (0 if item.sure else 0.1)
        if sort.rule == "torque.angle":
            made.value, made.unit, made.angle = None, None, item.value * (360 if item.dimension == "turn" else 1)
        if made.kind in ("odometer", "interval", "duration") and made.kind != "interval":
            made.mention = None
        if made.unit in ("degC", "degF") and item.dimension == "temperature":
            self.hot = True
        self.memory.keep(made)
        self.ends.append(item.end)
        return made

    def _ahead(self, item: Quantity, target: Target) -> Sort | None:
        """ "Thirty for the lower and forty five newton metres for the upper": the unit comes with the value
        after it.
        """
        page, place, following = self.page, item.end, None
        while place < len(page) and place - item.end < 9 and page.same_sentence(item.number, place):
            if place in self.quantities:
                following = self.quantities[place]
                if following.unit or following.angle is not None:
                    break
                place = following.end
                continue
            if (
                page.word(place) not in LISTING
                and not page.inside("correction", place)
                and page.word(place) not in ("...", "…", "..")
                and not any(page.inside(name, place) for name in ("part", "fastener", "position", "head", "modifier"))
            ):
                return None
            place += 1
        if (
            following is None
            or not following.unit
            or following.dimension not in ("torque", "pressure", "length", "voltage", "temperature", "mil")
            or (item.form == "plural" or page.lexemes[item.end].kind == "number" if item.end < len(page) else True)
        ):
            return None
        if (
            item.value <= 0
            or not following.value / 8 <= item.value <= following.value * 8
            or page.word(item.start - 1) in ("a", "an")
        ):
            return None
        if (
            following.dimension == "length"
            and item.value == item.value.to_integral_value()
            and page.word(item.end) not in ("and", ",", "for", "on", "to")
            and not target.mention
        ):
            return None
        if (
            item.end in self.neighbours.by_start
            and self.neighbours.by_start[item.end].plural
            and following.dimension in ("length", "torque")
        ):
            return None  # "two pads and 3 mm"
        if (
            following.dimension == "torque"
            and not (target.mention and target.mention.fastener)
            and "," not in page.words(item.end, following.start)
        ):
            return None
        hints = self.hints(following, following.end + 6)
        sort = sort_of(page, following, target.mention, hints, self.lexicon, self.hot)
        return (
            None
            if sort.kind is None or (sort.kind == "size" and not target.mention)
            else Sort(sort.kind, sort.role, sort.unit, f"{sort.kind}.ahead")
        )

    def _same_again(self, item: Quantity) -> Draft | None:
        """ "It's 12.2 there", "that is six now": a pronoun and a value of the kind said last is of the same part."""
        page, last = self.page, self.memory.last
        words = page.words(item.start - 2, item.start)
        if (
            last is None
            or last.kind != "measurement"
            or not last.unit
            or last.value is None
            or not last.value
            or len(words) < 2
        ):
            return None
        if (
            (words[0] == "that" and item.start - last.end > 8)
            or words[0] not in ("it", "that", "they")
            or words[1] not in ("is", "'s", "was", "are", "were", "'re", "reads", "read", "went")
        ):
            return None
        if (
            item.start - last.end > 20
            or (item.unit and item.unit != last.unit)
            or not last.value / 6 <= item.value <= last.value * 6
        ):
            return None
        if (
            self.neighbours.placed_after(item.start, item.end)
            or self.neighbours.governed(item.end)
            or any(mention.start >= last.end for mention in self.neighbours.before(item.start))
        ):
            return None
        return self._draft(
            item, Sort("measurement", last.role, last.unit, "measurement.pronoun"), Target(last.mention, "focus", 0.85)
        )

    def _label(self, start: int) -> str | None:
        """The cylinder that a value belongs to: "no. 3 0.8 ohm", "two is 95"."""
        page, at = self.page, start - 1
        while (
            at > 0
            and page.word(at) in ("is", "'s", "was", ":", "at", "about", "had", "has", "reads", "a", ">")
            and start - at < 4
        ):
            at -= 1
        if at < 0:
            return None
        if page.word(at) == "one" and page.word(at - 1) not in (
            "the",
            "this",
            "that",
            "left",
            "right",
            "new",
            "old",
            "other",
            "rear",
            "front",
        ):
            return "1"
        value = page.lexemes[at].value
        return str(value) if at in self.labels and value is not None else None

    def _end_said(self, end: int) -> str | None:
        """ "2.5 bar in front and 2.9 behind": the end, told by an adverb right behind the value."""
        words = self.page.words(end, end + 2)
        if words in (["in", "front"], ["up", "front"], ["at", "front"]):
            return None if self.page.word(end + 2) == "of" else "front"
        return (
            "rear"
            if words in (["in", "back"], ["at", "back"], ["out", "back"])
            or (words[:1] == ["behind"] and self.page.word(end + 1) in (".", ",", "", "and", ";"))
            else None
        )

    def _for_all(self, item: Quantity) -> bool:
        """ "All four", "both", "all round": the value holds for each of them, wherever it sits."""
        if self.attention.corner:
            return False  # both of one corner
        around = self.page.words(
            max(self.page.sentence_start(item.start), item.start - 6), item.start
        ) + self.page.words(item.end, item.end + 3)
        return any(
            word in ("both", "all") and around[i + 1 : i + 2] not in (["the"], ["side"], ["good"], ["fine"], ["ok"])
            for i, word in enumerate(around)
        )

    def _placed(self, mention: Mention) -> bool:
        """Whether the phrase itself names its side or end."""
        said = self.neighbours.by_start.get(mention.start)
        return said is not None and any(axis in ("side", "end") for axis, _ in said.positions)

    # -- codes
    def code(self, at: int) -> Draft | None:
        """The fact of a code lexeme."""
        lex = self.page.lexemes[at]
        if lex.form not in CODE_KINDS:
            return None
        kind, role = CODE_KINDS[lex.form]
        target = self.target(at, at + 1, kind == "size" or kind == "part_number")
        if not lex.text.startswith("NLGI"):  # a grease is told by the part that it is in
            target = self.fitting(kind, role, target, at)
        made = Draft(
            kind,
            at,
            at + 1,
            at,
            target.mention,
            code=lex.text,
            role=role,
            rule=f"{kind}.{lex.form}",
            manner=target.manner,
        )
        made.confidence = target.confidence - (0 if lex.sure else 0.1)
        if lex.text.startswith("NLGI"):
            made.mention = self._grease(at)
        if kind == "trouble_code":
            made.mention, made.confidence = None, 0.95
        if lex.form == "tyre":
            made.mention = self._tyre(target)
        if kind == "part_number":
            made.role = self._part_role(at, target.mention)
            self.memory.recent.append(made)
        self.ends.append(at + 1)
        return made

    def _grease(self, at: int) -> Mention:
        """The consistency number of a grease (NLGI) is that of the grease named beside it."""
        words = tuple(
            self.page.norm[i]
            for i in range(max(0, at - 4), min(at + 4, len(self.page)))
            if self.page.inside("material", i) or self.page.inside("qualifier", i)
        )
        return Mention(0, 0, words or ("grease",), (), "part", "", False)

    def _tyre(self, target: Target) -> Mention | None:
        mention = target.mention
        if mention and {"tyre", "wheel", "spare"} & {*mention.words}:
            return mention
        return Mention(0, 0, ("tyre",), (), "part", "wheels", False)

    def _part_role(self, at: int, mention: Mention | None) -> str:
        words = {*self.page.words(max(self.page.sentence_start(at), at - 10), at)}
        if (words & {"old", "removed", "off"} and not words & {"new"}) or (mention is not None and mention.is_old):
            return "removed"
        if words & {"order", "ordered", "bought", "buy", "counter", "picked", "get"}:
            return "bought"
        return "installed"
