"""Which component a value, a verb or a finding is about: the phrase it stands beside, else what attention is on."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.discourse.attention import Attention
from saidspec.extract.components import ARTICLES, CONTRARY, Mention
from saidspec.extract.passage import Passage

COPULAS = {
    "is",
    "'s",
    "are",
    "was",
    "were",
    "be",
    "been",
    "being",
    "'re",
    "gets",
    "get",
    "takes",
    "take",
    "had",
    "has",
    "at",
    "to",
    "reads",
    "read",
    "measures",
    "measured",
    "needs",
    "need",
    "went",
    "got",
    "a",
    "an",
    "the",
    "=",
    ":",
    ",",
    "now",
    "all",
    "both",
    "only",
    "set",
    "done",
    "i",
    "did",
    "each",
    "still",
    "down",
    "about",
    "around",
    "just",
    "torqued",
    "tightened",
    "torque",
    "and",
    "it",
    "them",
    "that",
    "on",
    "up",
    "back",
    "in",
    "says",
    "of",
    "with",
    "we",
    "they",
    "goes",
    "looks",
    "like",
    "came",
    "out",
    "showing",
    "shows",
    "here",
    "there",
    "there's",
    "those",
    "this",
    "one",
    "then",
    "you",
    "hold",
    "so",
    "size",
    "well",
    "really",
    "roughly",
    "mikes",
    "mics",
    "for",
    "per",
    "side",
    "exactly",
    "another",
}
PREPOSITIONS = {
    "on",
    "for",
    "in",
    "of",
    "from",
    "into",
    "to",
    "at",
    "around",
    "round",
    "across",
    "through",
    "off",
    "between",
    "behind",
}
TOOLS = {
    "wrench",
    "socket",
    "spanner",
    "key",
    "bit",
    "hex",
    "allen",
    "driver",
    "deep",
    "long",
    "six",
    "point",
    "sided",
    "ring",
    "impact",
    "torx",
    "each",
    "again",
    "now",
    "all",
    "round",
    "open",
    "ended",
    "extension",
    "long-reach",
    "reach",
    "ratchet",
    "-",
    "ones",
    "size",
    "drive",
    "torque",
    "too",
    "as",
    "well",
    "total",
    "and",
    "thick",
}
MEASURED = {
    "play",
    "slack",
    "runout",
    "wear",
    "tread",
    "pressure",
    "thickness",
    "gap",
    "clearance",
    "backlash",
    "deflection",
    "float",
    "lash",
    "movement",
    "travel",
    "torque",
    "preload",
    "sag",
    "voltage",
    "depth",
    "compression",
}
ADJECTIVES = {
    "little",
    "big",
    "small",
    "long",
    "short",
    "more",
    "of",
    "other",
    "new",
    "old",
    "rusty",
    "seized",
    "tiny",
    "special",
    "extra",
    "spare",
    "good",
    "fat",
    "thin",
    "black",
}
QUALITY = {
    "fresh",
    "new",
    "old",
    "used",
    "clean",
    "good",
    "cheap",
    "synthetic",
    "mineral",
    "distilled",
    "premixed",
    "semi",
    "fully",
    "dirty",
    "black",
    "plain",
}
PRONOUNS = {"it", "them", "those", "these", "that", "this", "they", "both", "one", "ones", "each"}


@dataclass(frozen=True, slots=True)
class Target:
    """The component of a value, how it was found, and how sure that is."""

    mention: Mention | None
    manner: str
    confidence: float


class Neighbours:
    """The component phrases around places of a passage."""

    def __init__(self, page: Passage, mentions: list[Mention], attention: Attention) -> None:
        self.page, self.mentions, self.attention = page, mentions, attention
        self.by_start = {mention.start: mention for mention in mentions}
        self.spent: set[int] = set()  # positions that a value before them has taken

    def after(self, end: int, reach: int = 7) -> Mention | None:
        """The first phrase that begins at or behind token `end` in its sentence, within reach."""
        for at in range(end, min(end + reach, len(self.page))):
            if (at > end and not self.page.same_sentence(end - 1, at)) or (
                at < len(self.page)
                and (self.page.norm[at] == "\n" or (self.page.lexemes[at].kind == "number" and at > end))
            ):
                return None
            if at in self.by_start:
                return self.by_start[at] if self.page.same_sentence(end - 1, at) else None
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

    # -- the ways of standing beside
    def modified(self, start: int, end: int) -> Mention | None:
        """ "10 mm bolts", "5 L jug": the phrase right behind the value, unless that begins a statement of its own."""
        item = self.by_start.get(end)
        place = end
        while item is None and place - end < 2 and self.page.word(place) in ADJECTIVES:
            place += 1
            item = self.by_start.get(place)  # "two little screws", "four of the bolts"
        if item is None or item.kind == "position":
            return None
        if item.general and item.fastener:
            return item
        after = self.page.word(item.end)
        own = after in (
            "is",
            "are",
            "was",
            "'s",
            "were",
            "takes",
            "gets",
            "at",
            "get",
            "take",
            "went",
            "had",
            "has",
            "to",
            "looks",
            "look",
        ) or (item.end < len(self.page) and self.page.lexemes[item.end].kind in ("number", "code"))
        prior = self.before(start, 6)
        topic = bool(prior) and all(word in COPULAS for word in self.page.words(prior[0].end, start))
        return None if own and topic else item

    def governed(self, end: int) -> Mention | None:
        """ "35 on the slide pins", "an 18 mm wrench on the flats", "thirty for the lower": behind a preposition."""
        page, at = self.page, end
        if page.word(at) == "of" and (
            page.word(at + 1) in MEASURED or (page.word(at + 1) in ("end", "free") and page.word(at + 2) in MEASURED)
        ):
            at += 2 if page.word(at + 1) in MEASURED else 3  # "three thou of end play in the bearing"
        while (
            at < len(page)
            and at - end < 5
            and (page.word(at) in TOOLS or page.word(at) in MEASURED)
            and at not in self.by_start
        ):
            at += 1
        if at >= len(page) or page.word(at) not in PREPOSITIONS or not page.same_sentence(end - 1, at):
            return None
        place = at + 1
        while (
            page.word(place) in ARTICLES
            or page.word(place) in ("all", "two", "four", "three", "of")
            or (
                place < len(page) and page.lexemes[place].kind == "number" and page.word(place + 1) not in ("mm", "mil")
            )
        ):
            place += 1
            if place - at > 4:
                return None
        item = self.by_start.get(place)
        if item is None and (
            page.word(place) in QUALITY
            or (page.word(at) == "of" and place < len(page) and page.lexemes[place].kind == "word")
        ):
            item = self.by_start.get(place + 1)  # "five quarts of fresh engine oil"
        if item is None and page.word(at) == "of" and place < len(page) and page.lexemes[place].kind == "code":
            item = self.by_start.get(place + 1)  # "4 litres of 5W-40 oil"
        return None if item is None or self._opens(item) else item

    def _opens(self, item: Mention) -> bool:
        """A phrase right before a value of its own opens the next statement: "4 mm, on the right 6 mm"."""
        at = item.end
        if item.kind == "position" and (at + 1 if self.page.word(at) in ("the", "a") else at) in self.by_start:
            return True
        while (
            self.page.word(at)
            in ("is", "'s", "are", "was", "were", "at", "it", "they", "'re", "one", "side", "pad", "got", "gets")
            and at - item.end < 3
        ):
            at += 1
        return (
            at < len(self.page) and self.page.lexemes[at].kind == "number" and self.page.same_sentence(item.start, at)
        )

    def named_after(self, end: int) -> Mention | None:
        """ "Twenty-one's the idler", "34 was for the fill plug"."""
        page = self.page
        if (
            page.word(end) in (".", ",")
            and page.word(end + 1) in ("that", "those", "this")
            and page.word(end + 2) in ("is", "'s", "are", "was", "were")
            and (page.word(end + 3) in ("the", "for", "on"))
        ):
            end += 2  # "Ninety-six foot-pounds. That's the hub bolts."
        if page.word(end) not in ("is", "'s", "was", "are", "were") or page.word(end + 1) not in ("the", "for", "on"):
            return None
        place = end + 2
        while page.word(place) in ("the", "for", "on"):
            place += 1
        return self.by_start.get(place)

    def placed_after(self, start: int, end: int) -> Mention | None:
        """ "4 mm inner and 5 outer": a position right behind the value where none stands right before it."""
        item = self.by_start.get(end)
        if item is None and self.page.word(end) in ("on", "at", "in") and self.page.word(end + 1) == "the":
            item = self.by_start.get(end + 2)
        if item is None or item.kind != "position":
            return None
        prior = [other for other in self.before(start, 5) if other.start not in self.spent]
        said = self.by_start.get(prior[0].start, prior[0]) if prior else None
        if said and {axis for axis, _ in said.positions} & {axis for axis, _ in item.positions}:
            return None
        follows = item.end + 1 if self.page.word(item.end) in ("the", "a") else item.end
        if self.page.word(end) in ("on", "at", "in") and (follows in self.by_start or self._opens(item)):
            return None  # "2 mm, on the right the inner pad is 6"
        if prior and any(CONTRARY.get(place) in prior[0].words for _, place in item.positions):
            return None
        after = self.page.word(item.end)
        if after in ("is", "was", "'s", "one", "side", "are", "were") and self.page.word(end) != "on":
            return None
        self.spent.add(item.start)
        return item

    def pronoun_before(self, start: int) -> bool:
        return any(word in PRONOUNS for word in self.page.words(start - 5, start))
