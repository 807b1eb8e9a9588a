"""Which component a value, a verb or a finding is about: the phrase it stands beside, else what attention is on."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.discourse.attention import Attention
from saidspec.extract.grammar import ARTICLES, BE, PREPOSITIONS
from saidspec.extract.mention import CONTRARY, Mention, placed
from saidspec.extract.passage import Passage

VERBS_BEHIND = BE | {"takes", "gets", "at", "get", "take", "went", "had", "has", "have", "to", "looks", "look", "reads",
                     "draws", "deflects", "measures", "needs", "wants", "got", "holds", "opens", "shows", "came"}
POINTED = frozenset({"point", "pointed", "sided"})
FITTING = frozenset({"fit", "fits", "undoes", "turns", "suits"})  # "a 10 mm wrench fits the drain plug"
OPENING_LINKS = BE | {"at", "it", "they", "'re", "one", "side", "pad", "got", "gets"}
GOING = frozenset({"went", "goes", "go", "going"})
ALL_SIDES = ("both sides", "corner")
OTHERS = frozenset({"other", "others", "rest", "remaining"})
LIMITS = frozenset({"max", "min", "maximum", "minimum", "limit"})
THEM = frozenset({"they", "these", "those", "it"})
# Units that seldom stand before the name of a part.
TOLD_UNITS = frozenset({"amp", "degree", "volt", "bar", "psi", "ohm", "kilohm", "watt", "w", "v", "a"})
NEAR_FASTENER = 4  # tokens from a fastener to its size, with a part named behind it
MEASURED_SO = frozenset({"long", "thick", "wide", "deep", "high", "tall", "thin"})  # "5 mm long pulley nut 80"
NUMBERED_SO = BE | {"one", "ones", "number"}  # right before the part number of what was named
CALLING = BE | {"a", "an"}
NAMING_A_CODE = frozenset({"number", "no", "part", "code"})
SKIPPED = ("all", "two", "four", "three", "of")  # between a preposition and its part: "on all four"


@dataclass(frozen=True, slots=True)
class Target:
    """The component of a value, how it was found, and how sure that is."""

    mention: Mention | None
    manner: str
    confidence: float


class Neighbours:
    """The component phrases around places of a passage, and the ways in which a value may stand beside one."""

    def __init__(self, page: Passage, mentions: list[Mention], attention: Attention) -> None:
        self.page, self.mentions, self.attention = page, mentions, attention
        self.by_start = {mention.start: mention for mention in mentions}
        self.spent: set[int] = set()  # positions that a value before them has taken

    def after(self, end: int, reach: int = 7) -> Mention | None:
        """The first phrase that begins at or behind token `end` in its sentence, within reach, before any number."""
        page = self.page
        for at in range(end, min(end + reach, len(page))):
            if (at > end and (page.lexemes[at].kind == "number" or not page.same_sentence(end - 1, at))) or (
                    page.norm[at] == "\n"):
                return None
            if at in self.by_start:
                return self.by_start[at] if page.same_sentence(end - 1, at) else None
        return None

    def before(self, start: int, reach: int = 22) -> list[Mention]:
        """The completed phrases before token `start` in its sentence, nearest first."""
        found = []
        for item in self.attention.recent(8):
            if item.end > start:
                continue
            if not self.page.same_sentence(item.start, start) or start - item.end > reach:
                break
            found.append(item)
        return found

    def lasting(self, mention: Mention, at: int) -> Mention:
        """A part as it is still meant at token `at`: "number two" is said of one value and not of what comes next."""
        if mention.axis("cylinder") is None:
            return mention
        page, away = self.page, at - mention.end
        others = not OTHERS.isdisjoint(page.words(mention.end, at))  # "number two is 54, the other three are 46"
        if (not others and (mention.head == "cylinder" or away <= 3 or (
                away <= 10 and page.same_sentence(mention.start, min(at, len(page) - 1))))):
            return mention
        return placed(mention, {axis: place for axis, place in mention.positions if axis != "cylinder"})

    def modified(self, start: int, end: int) -> Mention | None:
        """"10 mm bolts", "5 L jug": the phrase right behind the value, unless that begins a statement of its own."""
        page, item, place = self.page, self.by_start.get(end), end
        while item is None and place - end < 2 and page.word(place) in page.classes.value_adjectives:
            place += 1
            item = self.by_start.get(place)  # "two little screws", "four of the bolts"
        if item is None or item.kind == "position" or (item.is_new and self._of_them(start)):
            return None
        own = page.word(item.end) in VERBS_BEHIND or (
            item.end < len(page) and page.lexemes[item.end].kind in ("number", "code")) or (
            self._numbered_next(start, item))
        if own and page.word(start - 1) in page.classes.measured:
            return None  # "pressure 3.2 bar filter is FF-9"
        if page.lexemes[start].kind == "code" and page.word(start - 1) in NUMBERED_SO:
            return None  # "new one DS-40 shaft nut 240"
        before = self.before(start, 1)
        if own and end - start > 1 and before and before[0].fastener and item.fastener:
            return None  # "jam nut 22 mm castle nut 44"
        if item.general and item.fastener:
            return item
        if page.lexemes[start].kind == "code" and self.before(start, 10) and (
                page.word(start - 1) in NAMING_A_CODE or (own and page.word(start - 1) in CALLING)):
            return None  # "belt replaced, it's a 4PK835 tensioner bolt 13 mil"
        if own and page.word(start - 1) in LIMITS | BE:
            return None  # "stamped max 113 shoes have two mil", "the min is 22 pads have 7"
        return None if self._told_of_prior(item, start, end, own) else item

    def _told_of_prior(self, item: Mention, start: int, end: int, own: bool) -> bool:
        """Whether the value goes on about the part before it, so that the phrase behind it is named anew."""
        page, prior = self.page, self.before(start, 6)
        between = page.words(prior[0].end, start) if prior else []
        links = page.classes.topic_links | page.classes.measured | NAMING_A_CODE
        if not prior or not links.issuperset(between):
            return False
        if own or not page.classes.measured.isdisjoint(between) or prior[0].head in page.classes.measured:
            return True  # "bearing play 0.1 mm brake magnet"
        measured_so = page.word(end) in MEASURED_SO and page.lexemes[end - 1].kind != "number"
        if page.word(end - 1) in TOLD_UNITS or measured_so:
            return True  # "its fuse is 15 amps horn draws 4", but "a 15 amp fuse"
        said = self.by_start.get(prior[0].start, prior[0])
        if said.kind == "position" and start == said.end and item.kind == "part":
            return True  # "left front 3 inches blades sharpened"
        return prior[0].fastener and not item.fastener and start - prior[0].end <= NEAR_FASTENER

    def _numbered_next(self, start: int, item: Mention) -> bool:
        """"Inner bearing is KB-3062 outer bearing fitted KB-2605": behind a part number the next part has its own."""
        behind = self.page.lexemes[item.end : item.end + 3]
        return self.page.lexemes[start].kind == "code" and any(lex.kind == "code" for lex in behind)

    def _of_them(self, start: int) -> bool:
        """"They're 11 mm new bracket bolts ...": a value of what was spoken of, and what follows is named anew."""
        words = self.page.words(start - 2, start)
        return len(words) == 2 and words[0] in THEM and words[1] in BE | {"'re", "'s"}

    def governed(self, end: int) -> Mention | None:
        """"35 on the slide pins", "an 18 mm wrench on the flats", "thirty for the lower": behind a preposition."""
        page, at = self.page, self._behind_tools(end)
        if page.word(at) in GOING and page.word(at + 1) in ("in", "into"):
            at += 1  # "four litres went in the engine"
        led = at < len(page) and (page.word(at) in PREPOSITIONS or page.word(at) in FITTING)
        if not led or not page.same_sentence(end - 1, at):
            return None
        place = at + 1
        while page.word(place) in ARTICLES or page.word(place) in SKIPPED or (
                place < len(page) and page.lexemes[place].kind == "number" and (
                    page.word(place + 1) not in ("mm", "mil"))):
            place += 1
            if place - at > 4:
                return None
        item = self.by_start.get(place) or self._behind_quality(at, place)
        return None if item is None or self._opens(item) else item

    def _behind_tools(self, end: int) -> int:
        """The place behind what may stand between a value and its preposition: tools and what is measured."""
        page, at = self.page, end
        measured = page.classes.measured
        if page.word(at) == "of":  # "three thou of end play in the bearing"
            if page.word(at + 1) in measured:
                at += 2
            elif page.word(at + 1) in ("end", "free") and page.word(at + 2) in measured:
                at += 3
        if page.word(at) in page.classes.strokes or page.word(at) == "pump":  # "3 pumps of grease in each nipple"
            at += 3 if page.words(at + 1, at + 3) == ["of", "grease"] else 1
        while at < len(page) and at - end < 5 and at not in self.by_start and (
                page.word(at) in page.classes.value_tools or page.word(at) in measured):
            at += 1
        pointed = page.word(at + 1) in POINTED and page.lexemes[at].kind == "number"
        return at + 2 if pointed else at  # "10 mm six point on the drain plug"

    def _behind_quality(self, at: int, place: int) -> Mention | None:
        """"Five quarts of fresh engine oil", "4 litres of 5W-40 oil": one word further."""
        page = self.page
        of = page.word(at) == "of" and place < len(page) and page.lexemes[place].kind in ("word", "code")
        return self.by_start.get(place + 1) if of or page.word(place) in page.classes.fluid_qualities else None

    def _opens(self, item: Mention) -> bool:
        """A phrase right before a value of its own opens the next statement: "4 mm, on the right 6 mm"."""
        page, at = self.page, item.end
        if item.kind == "position" and (at + 1 if page.word(at) in ("the", "a") else at) in self.by_start:
            return True
        while page.word(at) in OPENING_LINKS and at - item.end < 3:
            at += 1
        return at < len(page) and page.lexemes[at].kind == "number" and page.same_sentence(item.start, at)

    def named_after(self, end: int) -> Mention | None:
        """"Twenty-one's the idler", "34 was for the fill plug"."""
        page = self.page
        if page.word(end) in (".", ",") and page.word(end + 1) in ("that", "those", "this") and (
                page.word(end + 2) in BE and page.word(end + 3) in ("the", "for", "on")):
            end += 2  # "Ninety-six foot-pounds. That's the hub bolts."
        if page.word(end) not in BE or page.word(end + 1) not in ("the", "for", "on"):
            return None
        place = end + 2
        while page.word(place) in ("the", "for", "on"):
            place += 1
        return self.by_start.get(place)

    def placed_after(self, start: int, end: int) -> Mention | None:
        """"4 mm inner and 5 outer": a position right behind the value where none stands right before it."""
        page, item = self.page, self.by_start.get(end)
        governed = page.word(end) in ("on", "at", "in")
        if item is None and governed and page.word(end + 1) == "the":
            item = self.by_start.get(end + 2)
        if item is None or item.kind != "position" or self._placed_before(start, item):
            return None
        if item.axis("side") in ALL_SIDES and self.before(start):
            return None  # "24 Nm both sides": of the part before it
        follows = item.end + 1 if page.word(item.end) in ("the", "a") else item.end
        if governed and (follows in self.by_start or self._opens(item)):
            return None  # "2 mm, on the right the inner pad is 6"
        after = page.word(item.end)
        if (after in BE or after in ("one", "side")) and page.word(end) != "on":
            return None
        self.spent.add(item.start)
        return item

    def _placed_before(self, start: int, item: Mention) -> bool:
        """The part before the value has a place of its own on that axis, or the contrary one in its name."""
        prior = [other for other in self.before(start, 5) if other.start not in self.spent]
        if not prior:
            return False
        said = self.by_start.get(prior[0].start, prior[0])
        return any(said.axis(axis) is not None for axis, _ in item.positions) or (
            any(CONTRARY.get(place) in prior[0].words for _, place in item.positions))
