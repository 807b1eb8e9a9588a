"""A component phrase as a run of terms: positions, what narrows, parts and a fastener, one behind the other."""

from __future__ import annotations

from dataclasses import dataclass, field

from saidspec.extract.component_words import (
    begins_phrase,
    cylinder,
    longest_term,
    means_a_part,
    narrows,
    no_place,
    ordinal_cylinder,
    plural,
    several_there,
    stands_alone,
    trails,
    unknown_before,
    unknown_within,
)
from saidspec.extract.doubtful_part import doubtful
from saidspec.extract.grammar import ARTICLES, BE, OBLIQUE
from saidspec.extract.mention import Mention, Positions
from saidspec.extract.mere_places import mere_place
from saidspec.extract.paired import WRITTEN, length_said, pair_at
from saidspec.extract.passage import Found, Passage

BESIDE = frozenset({("next", "to"), ("front", "of"), ("close", "to"), ("side", "of"), ("close", "by")})
SIDES = frozenset({"this", "that", "other", "each", "both", "either", "same", "one"})  # "the other side" is a position
NEW, OLD = frozenset({"new", "replacement"}), frozenset({"old", "original", "worn"})
MEASURES = frozenset({"mm", "mil", "inch", "millimetre"})
CHAIN_LINKS = 10  # links of a chain, and no drop links
TUBES = frozenset({"hose", "pipe", "tube", "tubing"})
PARTICLES = frozenset({"out", "off", "through", "past"})  # of a verb, without an article: "came out bearing kit is"
TURNED = BE | {"takes", "gets", "got"}  # behind a plug
PORTED = ("intake valve", "exhaust valve")
VALVES = frozenset({"intake", "inlet", "exhaust"})
JOINED = {"locknut": ("lock", "nut"), "jamnut": ("jam", "nut"), "lugnut": ("lug", "nut"), "wingnut": ("wing", "nut")}


@dataclass(slots=True)
class Run:
    """A component phrase in the making, read from token `at` up to `place`."""

    page: Passage
    at: int
    place: int
    end: int
    words: list[str] = field(default_factory=list)
    positions: dict[str, str] = field(default_factory=dict)
    kinds: list[str] = field(default_factory=list)  # the category of each term
    system: str = ""
    general: bool = True
    plural: bool = False
    new: bool = False
    old: bool = False
    pair: Positions = ()  # two places on one axis
    whole: bool = False  # its last term was a part named in full, with two words
    void: bool = False  # what was read is no component phrase

    def goes_on(self) -> bool:
        """Take the next term, unless the phrase ends before it."""
        page = self.page
        if self.place >= len(page) or page.inside("shield", self.place):
            return False
        if self.plural and self.kinds and self.kinds[-1] != "position" and begins_phrase(page, self.place):
            return False
        if self.kinds and self.kinds[-1] == "position" and plural(page, self.place - 1):
            return False  # "80 on the rears toe in 2 mm"
        if self._take_pair():
            return True
        ordinal = ordinal_cylinder(page, self.place)
        if ordinal and not self.kinds:
            self.positions["cylinder"], self.place = ordinal, self.place + 1
            self.kinds.append("position")
            return True
        term = longest_term(page, self.place)
        if term is None:
            return self._take_cylinder() or self._take_unknown()
        name, item = term
        if self._ends_before(name, item):
            return False
        name = "part" if name == "system" else name
        if not (self._take_position(item) if name == "position" else self._take_words(name, item)):
            return False
        self.kinds.append("part" if name == "short" else name)
        self.place = self.end = item.end
        return True

    def _take_pair(self) -> bool:
        """"Upper and lower" before a part, or of the part named before."""
        written = tuple(self.page.words(self.place, self.place + 3)) in WRITTEN
        pair = pair_at(self.page, self.place) if (written or not self.words) and not self.pair else None
        if pair is None or pair[0][0][0] in self.positions:
            return False
        self.pair, self.place = pair
        self.end = self.place
        self.kinds.append("position")
        return True

    def _ends_before(self, name: str, item: Found) -> bool:
        if name == "position":
            return bool(self.kinds) and self.kinds[-1] in ("part", "fastener") and not trails(self.page, item)
        if name == "head" and not self.words:
            return not stands_alone(self.page, self.place) and not narrows(self.page, item)
        around = self.page.words(item.start - 10, item.end + 10) if name == "short" else []
        if name == "short" and item.term.meant in PORTED and "outlet" in around:
            return True  # "3/8 on the inlet and 5/16 on the outlet": no valves
        if name == "short" and item.term.meant == "drain plug" and self.page.word(item.end) not in TURNED:
            return True  # "the drain's a 10 mm": of "the drain was blocked" nobody knows
        if name == "short" and self.page.word(item.start) in ARTICLES and begins_phrase(self.page, item.end):
            return True  # "the spare tyre", "the spare fuse": a short phrase only where nothing is named behind it
        return (name == "system" and bool(self.words)) or self._laid_in_before(item)

    def _laid_in_before(self, item: Found) -> bool:
        """"New washer throttle cable 3 mm": a part in full behind one that is laid in a joint is named anew."""
        classes = self.page.classes
        if self._behind_tube(item):
            return True
        if not self.words or item.end - item.start < 2 or item.term.category not in ("part", "fastener"):
            return False
        named = item.term.system not in ("", "general")
        fastener = self.kinds[-1:] == ["fastener"] or (self.whole and self.words[-1] in classes.fastener_heads)
        if fastener and (named or self.words[-1] == item.term.id.split()[-1]):
            return True  # "new split pin shear pin fine", "that's the pad pin caliper bolts are 30"
        if self.kinds[-1:] == ["part"] and self.whole and named and item.term.category == "part":
            return True  # "19 is the slave cylinder pressure plate is 25"
        laid_in = self.words[-1] in classes.joint_parts - classes.fluids or self.words[-1] == "water"
        return laid_in and named and (
            item.term.category == "part" or self.words == ["water"])

    def _behind_tube(self, item: Found) -> bool:
        """"A clamp on the bottom hose thermostat is fine": a tube narrows no part with a name and a verb of its own."""
        named = item.term.category == "part" and item.term.system not in ("", "general")
        return named and self.kinds[-1:] == ["part"] and self.words[-1:] != [] and self.words[-1] in TUBES and (
            self.page.word(item.end) in BE)

    def _take_cylinder(self) -> bool:
        number = cylinder(self.page, self.place)
        if number is None:
            return False
        self.positions["cylinder"], self.place = number
        self.end = self.place
        self.kinds.append("position")
        return True

    def _take_unknown(self) -> bool:
        if not self.kinds or self.kinds[-1] == "fastener" or self.plural or not unknown_within(self.page, self.place):
            return False
        self.words.append(self.page.word(self.place))
        self.place += 1
        self.kinds.append("modifier")
        return True

    def _take_position(self, item: Found) -> bool:
        axis = item.term.detail or "side"
        if axis == "order":  # "the first one", "second round": no place of a part
            self.void = not self.words and not self.positions
            return False
        if axis in self.positions or no_place(self.page, item.start, item.end):
            return False
        self.positions[axis] = item.term.id
        return True

    def _take_words(self, name: str, item: Found) -> bool:
        said = item.term.meant.split() if name == "short" else self.page.norm[item.start : item.end]
        said = [part for word in said for part in JOINED.get(word, (word,))]
        length = length_said(self.page, item.start) if name == "modifier" else None
        if length:
            self.positions["length"] = length
        kept = [word for word in said if word not in self.page.classes.unnaming or len(said) > 1]
        self.new, self.old = self.new or "new" in said, self.old or "old" in said
        self.plural = plural(self.page, item.end - 1)
        self.whole = name == "part" and item.end - item.start > 1 and item.term.system not in ("", "general")
        if name == "modifier" and self.plural:  # several of them are no modifier
            self.void = not self.kinds
            return False
        self.words += kept
        if name in ("part", "fastener", "short") and item.term.system not in ("", "general"):
            self.system, self.general = item.term.system, False
        return True


def component_run(page: Passage, at: int) -> Mention | None:
    """The component phrase that begins at token `at`."""
    mere = mere_place(page, at)
    if mere is not None or _no_part(page, at):
        return mere
    unknown = unknown_before(page, at)
    before = page.word(at - 2) if unknown else page.word(at - 1)
    run = Run(page, at - 1 if unknown else at, at, at, [unknown] if unknown else [], general=not unknown,
              new=before in NEW, old=before in OLD)
    while run.goes_on():
        pass
    return None if run.void else _mention(run)


def _no_part(page: Passage, at: int) -> bool:
    """"A hose, half an inch inside": its bore; "this side"."""
    inside = page.word(at) in ("inside", "outside") and page.word(at + 1) in ("", ".", ",", ";", "\n") and (
        page.word(at - 1) in MEASURES and not TUBES.isdisjoint(page.words(at - 20, at)))
    return inside or (page.word(at) == "side" and page.word(at - 1) in SIDES)


def _mention(run: Run) -> Mention | None:
    """The phrase of a run, if its terms name or mean a part."""
    named = "part" in run.kinds or "fastener" in run.kinds or ("head" in run.kinds and (
        len(run.words) > 1 or stands_alone(run.page, run.end - 1)))
    if (not named and not run.positions and not run.pair) or (len(run.words) == 1 and run.kinds[-1] != "position" and (
            doubtful(run.page, run.at, run.end, run.plural, bool(run.positions)))):
        return None
    if not named and ("modifier" in run.kinds or "head" in run.kinds):
        valve = next((word for word in run.words if word in VALVES), None)
        if valve and run.positions and len(run.words) == 1:  # "intake left", "right exhaust"
            run.words, run.system, run.general, named = [valve, "valve"], "timing", False, True
        elif not _cut_to_positions(run):
            return None
    if run.words == ["link"] and run.plural and run.at and (run.page.lexemes[run.at - 1].value or 0) >= CHAIN_LINKS:
        run.words, run.system, run.general = ["chain", "link"], "motorcycle", False  # "over 20 links"
    last = run.words[-1] if run.words else ""
    kind = "position" if not named else "fastener" if last in run.page.classes.fastener_heads else "part"
    if kind == "position" and not means_a_part(run.page, run.at, run.end):
        return None
    run.plural = run.plural or (kind == "position" and several_there(run.page, run.at, run.end))
    return Mention(run.at, run.end, tuple(run.words), tuple(run.positions.items()), kind, run.system, run.general,
                   run.plural, run.new, run.old, _oblique(run.page, run.at), run.pair)


def _cut_to_positions(run: Run) -> bool:
    """Leave off what narrows no part behind the positions; whether only positions are left."""
    while run.kinds and run.kinds[-1] in ("modifier", "head"):
        run.kinds.pop()
    run.words, run.end = [], run.at + len(run.kinds)
    placed = bool(run.positions) and bool(run.kinds) and not run.pair
    return placed and "modifier" not in run.kinds and "head" not in run.kinds


def _oblique(page: Passage, at: int) -> bool:
    place = at - 2 if page.word(at - 1) in ARTICLES else at - 1
    led = page.word(place) in OBLIQUE and (page.word(place) not in PARTICLES or place < at - 1)
    return led or tuple(page.words(place - 1, place + 1)) in BESIDE
