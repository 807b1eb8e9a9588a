"""What is being talked about: each component phrase completed from those before it.

A short phrase ("the nut", "outer", "cap") refers to an earlier one with the same last word, or belongs to the part that
was named last.  A side or an end once named holds for the parts of that corner until another one is named.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from saidspec.extract.components import AXES, Mention, phrase
from saidspec.extract.lexicon import Lexicon, System
from saidspec.extract.passage import Passage

REACH = 40  # mentions looked back
NOUNS_OF_MEASURE = (("bore",), ("thread",), ("screw", "thread"), ("pitch",))
LOOSE = {
    "bore",
    "mark",
    "intake",
    "exhaust",
    "pilot",
    "concentrate",
    "ground",
    "washer",
    "gasket",
    "seal",
    "ring",
    "o-ring",
    "o",
    "grease",
    "oil",
    "fluid",
    "paste",
    "clip",
    "pin",
    "wire",
    "tool",
    "magnet",
    "kit",
    "coolant",
    "water",
    "side",
    "tray",
    "cable",
    "spring",
}
LOOSELY_NAMED = {
    "mounting",
    "mount",
    "retaining",
    "retainer",
    "fixing",
    "securing",
    "pinch",
    "cover",
    "clamp",
    "top",
    "bottom",
    "long",
    "short",
    "main",
    "hex",
    "flange",
    "castle",
    "lock",
    "locking",
    "copper",
    "big",
    "small",
    "side",
    "centre",
    "end",
    "locating",
    "through",
    "stud",
}
COMPLETED = {"cover", "housing", "cap", "bracket", "lid", "casing", "plate", "race"}
CORNER = {"wheel", "side", "hub", "corner", "tyre", "drum", "leg", "fork"}
FLUIDS = {"oil", "fluid", "coolant", "antifreeze", "water"}
OPPOSITE = {
    "left": "right",
    "right": "left",
    "front": "rear",
    "rear": "front",
    "upper": "lower",
    "lower": "upper",
    "inner": "outer",
    "outer": "inner",
    "top": "bottom",
    "bottom": "top",
    "driver side": "passenger side",
    "passenger side": "driver side",
    "port": "starboard",
    "starboard": "port",
    "drive side": "non-drive side",
    "non-drive side": "drive side",
    "nearside": "offside",
    "offside": "nearside",
}


@dataclass(slots=True)
class Attention:
    """The state of attention while a passage is read from its start."""

    lexicon: Lexicon
    page: Passage
    history: list[Mention] = field(default_factory=list)  # completed mentions, latest last
    side: str | None = None
    corner: bool = False  # the side was set by a wheel, a hub or "side": it holds for all that is done there
    end: tuple[str, str] | None = None  # (system, end)
    system: str = ""
    tally: dict[tuple[str, ...], int] = field(default_factory=dict)  # how often each part was named
    counts: dict[str, int] = field(default_factory=dict)  # how often parts of each system were named
    topic: Mention | None = None
    topic_utterance: int = -1
    job: str = ""  # the first system named, that of the note's title

    def hear(self, mention: Mention) -> Mention:
        """The mention completed, and attention turned to it."""
        full = self.completed(mention)
        if mention.words in NOUNS_OF_MEASURE:
            return full
        if (
            self.page.word(mention.end) == ":"
            and mention.words
            and mention.end - self.page.sentence_start(mention.start) <= 6
        ):
            self.topic, self.topic_utterance = full, self.page.utterance[mention.start]
        self._turn(mention, full)
        self.history.append(full)
        if len(self.history) > 4 * REACH:
            del self.history[: 2 * REACH]
        return full

    def _turn(self, said: Mention, full: Mention) -> None:
        side = full.axis("side") if said.axis("side") else None
        if said.axis("side") in ("both sides", "corner"):
            self.side, self.corner = None, False
        if side and self.corner and not self._opens_corner(said):
            pass  # "new strut for the left is this, right one's that": said of a part and not of where the work is
        elif side:
            self.side = side
            self.corner = (
                bool({*said.words} & CORNER)
                or "side" in self.page.words(said.start, said.end + 1)
                or (not said.words)
                or self.corner
            )
        elif said.plural and said.head in ("wheel", "tyre", "lug") and not said.fastener:
            self.side, self.corner = None, False
        if full.system and full.system != "general":
            end = said.axis("end")
            if end in ("front", "rear"):
                self.end = (full.system, end)
            self.tally[full.words] = self.tally.get(full.words, 0) + 1
            self.counts[full.system] = self.counts.get(full.system, 0) + 1
            self.system = full.system
            self.job = self.job or full.system

    def main(self, at: int) -> Mention | None:
        """In an entry of a list that names no part: the part most spoken of so far, if that is clear."""
        note = self.page.note
        if not note.utterances or not note.utterances[self.page.utterance[at]].item:
            return None
        if (self.history and self.page.utterance[self.history[-1].start] == self.page.utterance[at]) or not self.tally:
            return None
        words = max(self.tally, key=lambda words: self.tally[words])
        if self.tally[words] < 3:
            return None
        return next((item for item in reversed(self.history) if item.words == words), None)

    def leading_system(self) -> str:
        """The system most spoken of, of that in focus and that of the job."""
        return max((self.system, self.job), key=lambda name: self.counts.get(name, 0))

    def name_system(self, system: str) -> None:
        """A system named as such ("oil service", "front brakes") turns attention to it."""
        self.system = system
        self.job = self.job or system

    # -- completing
    def completed(self, mention: Mention) -> Mention:
        """The mention with the words and positions that it leaves unsaid."""
        mention = self._this_side(mention)
        if mention.kind == "position":
            return self._placed(mention) if mention.positions else mention
        if mention.words and mention.words[-1] in FLUIDS and mention.general:
            return self._fluid(mention)
        if mention.general:
            mention = self._generic(mention)
        return self._sided(mention)

    def _this_side(self, mention: Mention) -> Mention:
        """ "The other side" is the opposite of the side that attention is on; "both sides" is no side."""
        said = mention.axis("side")
        if said not in ("other side", "both sides", "corner", "this side", "that side"):
            return mention
        side = OPPOSITE.get(self.side or "") if said == "other side" else None
        positions = tuple(pair for pair in mention.positions if pair[0] != "side")
        return replace(mention, positions=(*positions, ("side", side)) if side else positions)

    def _opens_corner(self, said: Mention) -> bool:
        """A wheel, a hub or a "side", or a place that opens a sentence, says at which corner the work goes on."""
        first = self.page.sentence_start(said.start)
        opening = said.start - first <= 2 and self.page.word(said.end) not in ("one", "ones")
        return (
            bool({*said.words} & CORNER)
            or "side" in self.page.words(said.start, said.end + 1)
            or opening
            or not self.page.punctuated
        )

    def topic_at(self, at: int) -> Mention | None:
        """The topic of a list entry, "idler pulley: ...", as long as the entry lasts."""
        return self.topic if self.topic is not None and self.page.utterance[at] == self.topic_utterance else None

    def _leans(self, item: Mention) -> bool:
        """Named only as a place: "hangs on the gearbox", "at the rack"."""
        before = self.page.words(item.start - 2, item.start)
        return len(before) == 2 and before[1] in ("the", "my", "this") and before[0] in ("on", "to", "in", "at", "into")

    def recent(self, reach: int = REACH) -> list[Mention]:
        return self.history[-1 : -reach - 1 : -1]

    def _fluid(self, mention: Mention) -> Mention:
        system = self.lexicon.systems.get(self.system)
        name = system.fluid if system else ""
        if len(mention.words) > 1:
            return mention
        if name and mention.words[-1] in name.split():
            return replace(mention, words=tuple(name.split()), system=self.system, general=False)
        earlier = next((item for item in self.recent() if item.head == mention.head and len(item.words) > 1), None)
        if earlier:
            return replace(mention, words=earlier.words, system=earlier.system, general=False)
        return mention

    def _generic(self, mention: Mention) -> Mention:
        same = next(
            (
                item
                for item in self.recent()
                if item.head == mention.head
                and len(item.words) > len(mention.words)
                and {*mention.words} <= {*item.words}
            ),
            None,
        )
        owner = self._owner(mention)
        if owner and (
            same is None
            or (owner.start > same.start and (mention.fastener or self.page.same_sentence(owner.start, mention.start)))
        ):
            words = (*owner.words, *(word for word in mention.words if word not in owner.words))
            positions = dict(owner.positions) | dict(mention.positions)
            return replace(mention, words=words, positions=tuple(positions.items()), system=owner.system, general=False)
        if same:
            # the side is that of now, and other places are those of the phrase itself; front and rear hold on
            positions = {
                axis: place
                for axis, place in same.positions
                if axis == "end" and place in ("front", "rear") and not mention.plural
            } | dict(mention.positions)
            return replace(
                mention, words=same.words, positions=tuple(positions.items()), system=same.system, general=False
            )
        return mention

    def _owner(self, mention: Mention) -> Mention | None:
        """The part named just before, in this sentence or the one before it, that a short phrase belongs to."""
        if (not mention.fastener and mention.head not in COMPLETED) or (
            len(mention.words) > 1 and mention.words[0] not in LOOSELY_NAMED
        ):
            return None
        topic = self.topic_at(mention.start)
        if topic is not None and topic.head != mention.head and not topic.fastener and topic.head not in LOOSE:
            return topic
        pool = self.recent(4)
        plain = [
            item
            for item in pool
            if not item.oblique and not self._leans(item) and item.start >= self.page.sentence_start(mention.start)
        ]
        for item in plain or pool:
            if self.page.sentence[mention.start] - self.page.sentence[item.start] > 1 or mention.start - item.end > 25:
                return None
            if item.kind == "part" and item.words and item.head not in LOOSE and item.head != mention.head:
                return item
        return None

    def _placed(self, mention: Mention) -> Mention:
        """A mere position: the part spoken of last that comes in that axis, at that place."""
        axes = [axis for axis, _ in mention.positions]
        exact = next(
            (item for item in self.recent(12) if item.words and {*mention.positions} <= {*item.positions}), None
        )
        if (
            exact
            and self.page.word(mention.end) not in ("one", "ones")
            and not any(
                item.words
                and self.page.same_sentence(item.start, mention.start)
                and any(item.axis(axis) for axis in axes)
                for item in self.recent(3)
            )
        ):
            positions = {axis: place for axis, place in exact.positions if axis != "side"} | dict(mention.positions)
            return self._sided(
                replace(
                    mention,
                    words=exact.words,
                    positions=tuple(positions.items()),
                    system=exact.system,
                    general=exact.general,
                    kind="fastener" if exact.fastener else "part",
                )
            )
        pool = [item for item in self.recent() if item.words]
        base = next((item for item in pool if any(item.axis(axis) for axis in axes)), None)
        near = pool[0] if pool else None
        if (
            near
            and near is not base
            and (
                base is None
                or (
                    self.page.same_sentence(near.start, mention.start)
                    and not self.page.same_sentence(base.start, mention.start)
                )
                or self.page.sentence[mention.start] - self.page.sentence[base.start] > 1
                or mention.start - base.end > 40
            )
        ):
            base = near
        if base is None:
            return mention
        positions = dict(base.positions) | dict(mention.positions)
        if mention.axis("end") == "middle" and base.axis("end"):
            positions["end"] = base.axis("end") or ""
        return replace(
            mention,
            words=base.words,
            positions=tuple(positions.items()),
            system=base.system,
            general=base.general,
            kind="fastener" if base.fastener else "part",
        )

    def _at_the_side(self, mention: Mention, system: System | None, here: System | None) -> bool:
        """Whether a part without a side is one of the side that is being worked on."""
        if system is not None and system.sided:
            return True
        if not self.corner or not (here is None or here.sided):
            return False
        few = self.counts.get(mention.system, 0) < 2 and mention.fastener
        return mention.general or few or mention.system in ("driveline", "trailer", "general")

    def _sided(self, mention: Mention) -> Mention:
        system = self.lexicon.systems.get(mention.system)
        positions = dict(mention.positions)
        here = self.lexicon.systems.get(self.leading_system())
        every = mention.plural and {*mention.words} & {"wheel", "lug", "tyre"}  # "the wheel nuts": of all corners
        if self.side and "side" not in positions and not every and self._at_the_side(mention, system, here):
            positions["side"] = self.side
        if (
            self.end
            and "end" not in positions
            and self.end[0] == mention.system
            and system is not None
            and system.sided
        ):
            positions["end"] = self.end[1]
        return replace(mention, positions=tuple(positions.items())) if positions != dict(mention.positions) else mention


def opposite(mention: Mention, axis: str = "side") -> Mention | None:
    """The same part on the other side; None where no side is known."""
    said = mention.axis(axis)
    if said is None or said not in OPPOSITE:
        return None
    positions = dict(mention.positions) | {axis: OPPOSITE[said]}
    return replace(mention, positions=tuple(positions.items()))


def named(mention: Mention | None) -> str | None:
    """The component of a completed mention as text; None for a mere position without a part."""
    if mention is None or not mention.words:
        return None
    return phrase(
        mention.words, tuple(sorted(mention.positions, key=lambda item: AXES.index(item[0]) if item[0] in AXES else 9))
    )
