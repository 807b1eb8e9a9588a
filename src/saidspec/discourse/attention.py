"""What is being talked about: each component phrase completed from those before it.

A short phrase ("the nut", "outer", "cap") refers to an earlier one with the same last word, or belongs to the part that
was named last.  A side or an end once named holds for the parts of that corner until another one is named.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from saidspec.discourse.completion import fluid_of, full_name, other_place, same_place
from saidspec.extract.grammar import ARTICLES
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.passage import Passage

REACH = 40  # mentions looked back
MAIN = 3  # mentions that make a part the one most spoken of
CHOCKED = frozenset({"chock", "chocked", "chocks", "chocking"})  # the wheels that nothing is done to
COMPARING = frozenset({"as", "than", "like", "and", "from", "with", "or"})
NOUNS_OF_MEASURE = (("bore",), ("thread",), ("screw", "thread"), ("pitch",))
SAME = frozenset({"same", "ditto", "likewise"})
SAME_REACH = 4  # tokens from "same" to the side it is told of
BOTH_REACH = 8  # tokens between the two sides that are both told of
LEADING_ON = frozenset({"the", "on", "at", "for", "in"})  # between "as" and a place
NO_SIDE = ("other side", "both sides", "corner", "this side", "that side")
SIDED_ALONG = ("driveline", "trailer", "general")  # systems without sides whose parts lie at a corner all the same


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
    removed: Mention | None = None  # the part that came off last
    job: str = ""  # the first system named, that of the note's title

    def hear(self, mention: Mention) -> Mention:
        """The mention completed, and attention turned to it."""
        full = self.completed(mention)
        if not full.words and not full.positions:  # "both sides", "the other one" of no side
            self._turn_to_side(mention, full)
            return full
        if mention.words in NOUNS_OF_MEASURE or _source_of_values(self.page, mention) or _chocked(self.page, mention):
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

    def _turn_to_side(self, said: Mention, full: Mention) -> None:
        if self.page.words(said.start, said.end) == ["other", "one"]:
            return  # told of one value: the work stays where it is
        if not said.words and said.axis("side") and self._tells_of_another(said):
            self.side, self.corner = None, False
            return
        if said.axis("side") in ("both sides", "corner"):
            self.side, self.corner = None, False
        if said.axis("side") == "other side" and self._compared(said):
            return
        side = full.axis("side") if said.axis("side") else None
        if side and (not self.corner or self._opens_corner(said)):
            self.side = side
            self.corner = self.corner or self._says_corner(said) or (not said.words and self._opens_corner(said))
        elif not side and said.plural and said.head in self.page.classes.rolling_parts and not said.fastener:
            self.side, self.corner = None, False

    def _tells_of_another(self, said: Mention) -> bool:
        """"Left 4 mm, right 3 mm", "the same on the other side": both are told of, and the work is at neither."""
        page, side = self.page, said.axis("side")
        if not SAME.isdisjoint(page.words(max(said.start - SAME_REACH, page.sentence_start(said.start)), said.start)):
            return not self._compared(said)
        if page.word(said.end) in ("side", "now", "next") or "side" in page.words(said.start, said.end):
            return False  # "right side now"
        before = self.history[-1] if self.history else None
        return before is not None and before.axis("side") == OPPOSITE.get(side or "") and (
            page.same_sentence(before.start, said.start)) and said.start - before.end <= BOTH_REACH

    def _compared(self, said: Mention) -> bool:
        """"Same as the other side", "and the other side with it": spoken of, and not where the work goes on."""
        before = said.start - 2 if self.page.word(said.start - 1) in ARTICLES else said.start - 1
        return self.page.word(before) in COMPARING and said.start - self.page.sentence_start(said.start) > 3

    def _turn_to_system(self, said: Mention, full: Mention) -> None:
        if not full.system or full.system == "general":
            return
        if self.side and not said.axis("side") and self._leaves_side(full):
            self.side, self.corner = None, False
        end = said.axis("end")
        if end in ("front", "rear"):
            self.end = (full.system, end)
        self.tally[full.words] = self.tally.get(full.words, 0) + 1
        self.counts[full.system] = self.counts.get(full.system, 0) + 1
        self.name_system(full.system)

    def _leaves_side(self, full: Mention) -> bool:
        """"Left pads 3 mm ... battery 12.6 volts": another system, whose parts lie at no side, is now spoken of."""
        here = self.lexicon.systems.get(full.system)
        return here is not None and not here.sided and full.kind == "part" and not (
            full.oblique or self.corner or full.system in SIDED_ALONG or full.head in self.page.classes.switched)

    def _says_corner(self, said: Mention) -> bool:
        return not self.page.classes.corner_parts.isdisjoint(said.words) or (
            "side" in self.page.words(said.start, said.end + 1))

    def _opens_corner(self, said: Mention) -> bool:
        """A wheel, a hub or a "side", or a place that opens a sentence, says at which corner the work goes on.

        "New strut for the left is this, right one's that" is said of parts and not of where the work is.
        """
        first = self.page.sentence_start(said.start)
        opening = said.start - first <= 2 and self.page.word(said.end) not in ("one", "ones")
        return opening or not self.page.punctuated or self._says_corner(said)

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
        if (self.history and utterance[self.history[-1].start] == utterance[at]) or not self.tally:
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
            if not mention.positions:
                return mention
            same = same_place(self.page, self.recent(), mention)
            return self._sided(same) if same else other_place(self.page, self.recent(), mention)
        if mention.general and mention.head in self.page.classes.fluids:
            return fluid_of(self.lexicon, self.system, self.recent(), mention)
        if mention.general:
            mention = full_name(self.page, self.recent(), self.topic_at(mention.start), mention)
        return self._sided(mention)

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
        all_round = mention.plural and not self.page.classes.rolling_parts.isdisjoint(mention.words)
        if self.side and "side" not in positions and not all_round and not self._elsewhere(mention) and (
                sided or self._at_corner(mention)):
            positions["side"] = self.side
        named = not {"front", "rear"}.isdisjoint(mention.words)  # "front sprocket nut": the place is in its name
        if self.end and "end" not in positions and not named and self.end[0] == mention.system and sided:
            positions["end"] = self.end[1]
        return placed(mention, positions) if positions != dict(mention.positions) else mention

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


def _chocked(page: Passage, mention: Mention) -> bool:
    """"Front wheels are chocked": what the vehicle stands on, and no place of work."""
    wheels = not mention.words or mention.head in ("wheel", "tyre")  # "fronts are chocked"
    return wheels and not CHOCKED.isdisjoint(page.words(mention.start - 2, mention.end + 3))


def _source_of_values(page: Passage, mention: Mention) -> bool:
    """"Sizes as on the left", "27, same as the front": where a value comes from, and not what the talk is of now."""
    at = mention.start - 1
    while page.word(at) in LEADING_ON and mention.start - at < 4:
        at -= 1
    return page.word(at) == "as" and mention.kind == "position" and not mention.words
