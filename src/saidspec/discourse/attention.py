"""What is being talked about: each component phrase completed from those before it.

A short phrase ("the nut", "outer", "cap") refers to an earlier one with the same last word, or belongs to the part that
was named last.  A side or an end once named holds for the parts of that corner until another one is named.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from saidspec.discourse.completion import (
    fluid_of,
    full_name,
    heads,
    of_the_cylinder,
    one_of_it,
    other_place,
    same_place,
)
from saidspec.discourse.whereabouts import (
    SIDED_ALONG,
    chocked,
    compared,
    goes_on_in_list,
    in_another_entry,
    leaves_side,
    opens_corner,
    says_corner,
    source_of_values,
    tells_of_another,
)
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.passage import Passage

REACH = 40  # mentions looked back
VALVES_OF_ONE = 4  # mentions looked back for the cylinder that a valve belongs to
ONES = frozenset({"one", "ones"})
MAIN = 3  # mentions that make a part the one most spoken of
NOUNS_OF_MEASURE = (("bore",), ("thread",), ("screw", "thread"), ("pitch",))
NO_SIDE = ("other side", "both sides", "corner", "this side", "that side")


@dataclass(slots=True)
class Attention:
    """The state of attention while a passage is read from its start."""

    lexicon: Lexicon
    page: Passage
    history: list[Mention] = field(default_factory=list)  # completed mentions, latest last
    side: str | None = None
    corner: bool = False  # the side was set by a wheel, a hub or "side": it holds for all that is done there
    sided_by: Mention | None = None  # the phrase that named the side, with its system
    end: tuple[str, str] | None = None  # (system, end)
    system: str = ""
    tally: dict[tuple[str, ...], int] = field(default_factory=dict)  # how often each part was named
    counts: dict[str, int] = field(default_factory=dict)  # how often parts of each system were named
    topic: Mention | None = None
    topic_utterance: int = -1
    removed: Mention | None = None  # the part that came off last
    heard: int = 0  # utterances that were begun
    job: str = ""  # the first system named, that of the note's title

    def hear(self, mention: Mention) -> Mention:
        """The mention completed, and attention turned to it."""
        self._leave_at_headings(mention)
        full = self.completed(mention)
        if not full.words and not full.positions:  # "both sides", "the other one" of no side
            self._turn_to_side(mention, full)
            return full
        if mention.words in NOUNS_OF_MEASURE or source_of_values(self.page, mention) or (
                chocked(self.page, mention)):
            return full
        first = self.page.sentence_start(mention.start)
        if self.page.word(mention.end) == ":" and mention.words and mention.end - first <= 6:
            self.topic, self.topic_utterance = full, self.page.utterance[mention.start]
        self._turn_to_side(mention, full)
        self._turn_to_system(mention, full)
        self.history.append(full)
        if len(self.history) > 4 * REACH:
            del self.history[: 2 * REACH]
        return full

    def _leave_at_headings(self, mention: Mention) -> None:
        """A side does not hold past a heading, except that of a heading for what is below it."""
        said, number = self.page.note.utterances, self.page.utterance[mention.start]
        for place in range(self.heard, min(number + 1, len(said))):
            if said[place].heading and self.sided_by is not None:
                by = said[self.page.utterance[self.sided_by.start]].heading
                if not by or said[place].heading <= by:
                    self.side, self.corner = None, False
        self.heard = max(self.heard, number + 1)

    def _turn_to_side(self, said: Mention, full: Mention) -> None:
        if self.page.words(said.start, said.end) == ["other", "one"]:
            return  # told of one value: the work stays where it is
        if said.axis("side") and tells_of_another(
                self.page, self.history[-1] if self.history else None, said):
            self.side, self.corner = None, False
            return
        if said.axis("side") in ("both sides", "corner"):
            self.side, self.corner = None, False
        if said.axis("side") == "other side" and compared(self.page, said):
            return
        side = full.axis("side") if said.axis("side") else None
        opens = opens_corner(self.page, said)
        if side and (opens or not self.corner):
            self.side, self.sided_by = side, replace(said, system=full.system)
            self.corner = self.corner or says_corner(self.page, said) or (opens and not said.words)
        elif not side and said.plural and said.head in self.page.classes.rolling_parts and not said.fastener:
            self.side, self.corner = None, False

    def _turn_to_system(self, said: Mention, full: Mention) -> None:
        if not full.system or full.system == "general":
            return
        if self.side and not self.corner and not said.axis("side") and leaves_side(self.page, self.lexicon, full):
            self.side, self.corner = None, False
        end = said.axis("end")
        if end in ("front", "rear"):
            both = tells_of_another(self.page, self.history[-1] if self.history else None, said, "end")
            self.end = None if both else (full.system, end)
        self.tally[full.words] = self.tally.get(full.words, 0) + 1
        self.counts[full.system] = self.counts.get(full.system, 0) + 1
        self.name_system(full.system)

    def name_system(self, system: str) -> None:
        """A system named as such ("oil service", "front brakes") turns attention to it."""
        self.system = system
        self.job = self.job or system

    def leading_system(self) -> str:
        """The system most spoken of, of that in focus and that of the job."""
        return max((self.system, self.job), key=lambda name: self.counts.get(name, 0))

    def main(self, at: int) -> Mention | None:
        """In an entry of a list that names no part: the part most spoken of so far, if that is clear."""
        note, utterance = self.page.note, self.page.utterance
        if not note.utterances or not note.utterances[utterance[at]].item:
            return None
        if not self.tally or (self.history and "\n" not in note.text[
                self.page.origin(self.history[-1].start, self.history[-1].end)[0] : self.page.origin(at, at + 1)[0]]):
            return None
        headed = next((item for item in self.recent(8) if note.utterances[utterance[item.start]].heading), None)
        if headed is not None and headed.words and utterance[at] - utterance[headed.start] <= REACH and (
                not any(note.utterances[place].heading for place in range(utterance[headed.start] + 1, utterance[at]))):
            return headed  # "### Plugs", and an entry that names no part
        words = max(self.tally, key=lambda words: self.tally[words])
        if self.tally[words] < MAIN:
            return None
        return next((item for item in reversed(self.history) if item.words == words), None)

    def topic_at(self, at: int) -> Mention | None:
        """The topic of a list entry, "idler pulley: ...", as long as the entry lasts."""
        return self.topic if self.topic is not None and self.page.utterance[at] == self.topic_utterance else None

    def recent(self, reach: int = REACH) -> list[Mention]:
        """The completed mentions, latest first."""
        return self.history[-1 : -reach - 1 : -1]

    def completed(self, mention: Mention) -> Mention:
        """The mention with the words and positions that it leaves unsaid."""
        mention = self._this_side(mention)
        if mention.kind == "position":
            if mention.pair and not mention.positions:
                return self._at_both(mention)
            if not mention.positions:
                return mention
            same = same_place(self.page, self.recent(), mention)
            if same is not None and mention.plural:
                return same  # "the rears": of both sides
            return self._sided(same) if same else other_place(self.page, self.recent(), mention)
        if mention.kind == "part" and self.page.word(mention.end) in ONES:
            return self._sided(one_of_it(self.history[-1] if self.history else None, mention))
        if mention.general and mention.head in self.page.classes.fluids:
            return fluid_of(self.lexicon, self.system, self.recent(), mention)
        if mention.general:
            mention = full_name(self.page, self.recent(), self.topic_at(mention.start), mention)
            mention = self._of_the_system(mention)
        return of_the_cylinder(self.recent(VALVES_OF_ONE), self._sided(mention))

    def _of_the_system(self, mention: Mention) -> Mention:
        """"Sump plug 35. Filter OF-22": the only filter of the system that is spoken of."""
        if len(mention.words) != 1 or mention.head not in self.page.classes.named_by_system:
            return mention
        names = self.lexicon.by_head.get((self.system, mention.head), ())
        return replace(mention, words=tuple(names[0].split()), system=self.system, general=False) if (
            len(names) == 1) else mention

    def _at_both(self, mention: Mention) -> Mention:
        """"28 for the upper and lower": the part that comes so, and no one of the two."""
        axis = mention.pair[0][0]
        full = other_place(self.page, self.recent(), placed(mention, dict(mention.pair[:1])))
        return placed(full, {name: place for name, place in full.positions if name != axis})

    def _this_side(self, mention: Mention) -> Mention:
        """"The other side" is the opposite of the side that attention is on; "both sides" is no side."""
        said = mention.axis("side")
        if said not in NO_SIDE:
            return mention
        side = OPPOSITE.get(self.side or "") if said == "other side" else None
        positions = {axis: place for axis, place in mention.positions if axis != "side"}
        return placed(mention, positions | {"side": side} if side else positions)

    def _sided(self, mention: Mention) -> Mention:
        """The mention at the side and the end that attention is on, where its system has sides."""
        system = self.lexicon.systems.get(mention.system)
        positions = dict(mention.positions)
        if self.lexicon.is_central(mention.words):
            return mention
        sided = system is not None and system.sided
        entered = self._entered(mention)
        all_round = mention.plural and not self.page.classes.rolling_parts.isdisjoint(mention.words)
        if self.side and "side" not in positions and not all_round and not self._elsewhere(mention) and (
                sided or (not entered and self._at_corner(mention))) and (not entered or goes_on_in_list(
                    self.page, self.sided_by, mention)):
            positions["side"] = self.side
        named = not {"front", "rear"}.isdisjoint(mention.words)  # "front sprocket nut": the place is in its name
        if any(axis == "end" for axis, _ in mention.pair):
            named = True  # "front and rear pads"
        if self.end and "end" not in positions and not named and self.end[0] == mention.system and sided:
            positions["end"] = self.end[1]
        return placed(mention, positions) if positions != dict(mention.positions) else mention

    def _entered(self, mention: Mention) -> bool:
        """The side was named in another entry of a list, which told more than where the work is."""
        by, page = self.sided_by, self.page
        if by is None or not in_another_entry(page, by, mention.start):
            return False
        return not heads(page, by) or (by.words != () and by.head not in page.classes.corner_parts)

    def _elsewhere(self, mention: Mention) -> bool:
        """"Front left pad 4 mm. Rear axle nut 98": the phrase says another end of the vehicle, so the side is open."""
        end, before = mention.axis("end"), self.history[-1] if self.history else None
        if self.corner or before is None or end not in ("front", "rear") or before.axis("side") is None:
            return False
        return before.axis("end") not in (None, end) and not self.page.same_sentence(before.start, mention.start)

    def _at_corner(self, mention: Mention) -> bool:
        """A part of a system without sides, where the work is at one corner."""
        here = self.lexicon.systems.get(self.leading_system())
        if not self.corner or (here is not None and not here.sided):
            return False
        return mention.general or mention.system in SIDED_ALONG or (
            mention.fastener and self.counts.get(mention.system, 0) < 2)
