"""Where a statement stands: the passage, the words of the trade, attention, and the phrases around."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.discourse.attach import Neighbours
from saidspec.discourse.attention import Attention
from saidspec.discourse.reference import referent
from saidspec.extract.grammar import ARTICLES, GOVERNING
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage

SMALL = frozenset({"all", "of", "either", "both", "just", "the", "some", "old", "new", "two", "three", "four", "only"})
NAMED_LATELY = 8  # mentions
OVER = ARTICLES | SMALL  # between a preposition and its part


@dataclass(slots=True)
class Surroundings:
    """What the readers of statements look at; attention moves along as the passage is read."""

    page: Passage
    lexicon: Lexicon
    attention: Attention
    near: Neighbours

    def governed(self, end: int, prepositions: frozenset[str] = GOVERNING) -> Mention | None:
        """The phrase behind a preposition at token `end`: "around the piston", "on all of the sliders"."""
        page, at = self.page, end
        while page.word(at) in ("all", "just", "right", "half", "anywhere", "somewhere", "visible") and at - end < 2:
            at += 1
        if page.word(at) not in prepositions or not page.same_sentence(end - 1, min(at, len(page) - 1)):
            return None
        place = at + 1
        while page.word(place) in OVER and place not in self.near.by_start and place - at < 5:
            place += 1
        return self.near.by_start.get(place)

    def meant(self, at: int, word: str, fitting: tuple[str, ...] = ()) -> Mention | None:
        """What a pronoun, or an object left out, stands for."""
        found = referent(self.page, self.attention.recent(), at, word, fitting)
        return None if found is None else self.near.lasting(found, at)

    def fluid(self) -> Mention | None:
        """The fluid of the system that attention is on, else the one named last."""
        systems = self.lexicon.systems
        for name in (self.attention.system, self.attention.job):
            if name == "climate" and self._heater_alone():
                return Mention(0, 0, ("coolant",), (), "part", "cooling", False)
            if name in systems and systems[name].fluid:
                return Mention(0, 0, tuple(systems[name].fluid.split()), (), "part", name, False)
        return None

    def _heater_alone(self) -> bool:
        """Of what warms and cools the cabin a heater was named and nothing else: it runs on coolant."""
        named = [item for item in self.attention.recent(NAMED_LATELY) if item.system == "climate"]
        return bool(named) and all(item.words == ("heater",) for item in named)
