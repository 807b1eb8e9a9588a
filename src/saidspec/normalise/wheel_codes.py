"""Tyres, bolt circles, chains and bulbs as said: "two twenty five sixty r seventeen", "5 x 112", "aitch seven"."""

from __future__ import annotations

from decimal import Decimal

from saidspec.normalise.code_tokens import Code, TokenReader
from saidspec.normalise.designations import BOLT_CIRCLES, BULB, CHAINS

METRES = ("mm", "mil", "millimeter", "millimetre", "millimeters", "millimetres")
TYRES = {"tyre", "tyres", "tire", "tires", "rubber", "spare", "size", "wheel", "wheels", "rims", "rim"}
SEALS = {"seal", "seals", "bearing", "bearings", "shaft"}
WASHERS = {"washer", "washers"}
RIBS, BELT_LENGTHS = range(2, 21), range(300, 4001)  # of ribbed belts, mm (ISO 9981, ISO 9982)
WHEELS = {"pattern", "pcd", "stud", "studs", "lug", "lugs", "wheel", "wheels", "hub", "circle", "rims"}


class WheelCodes(TokenReader):
    """Reads tyres, bolt circles, chains and bulbs at places of a token list."""

    def tyre(self, at: int) -> Code | None:
        """"Two twenty five sixty r seventeen", "t one twenty five seventy d sixteen", "205 75 14"."""
        prefix = self.lower(at).upper() if self.lower(at) in ("t", "p", "lt", "st") else ""
        width = self.chained(at + 1 if prefix else at)
        if not width or not 80 <= width[0] <= 355 or width[0] != int(width[0]):
            return None
        parted = self.lower(width[1]) in ("/", "slash", "by", "over", "stroke")
        ratio = self.numbers.get(width[1] + 1 if parted else width[1])
        if not ratio or not 25 <= ratio.value <= 95 or ratio.value != int(ratio.value):
            return None
        place = ratio.last
        mark = {"r": "R", "zr": "ZR", "d": "D", "b": "B", "-": "-", "/": "R", "on": "R", "radial": "R",
            "are": "R"}.get(self.lower(place))
        rim = self.numbers.get(place + 1 if mark else place)
        if not rim or not 8 <= rim.value <= 24 or (not mark and (rim.form == "fraction"
            or self.lower(rim.last) in METRES)):
            return None
        if not mark and not parted and not self.near(at - 8, rim.last + 6) & TYRES:
            return None
        return Code(at, rim.last, f"{prefix}{width[0]:f}/{ratio.value:f}{mark or 'R'}{rim.value:f}", "tyre", True)

    def pattern(self, at: int) -> Code | None:
        """The bolt circle of a wheel: "five by one fourteen point three", "5 x 112", "4 on 100"."""
        studs = self.numbers.get(at)
        if not studs or not 3 <= studs.value <= 8 or self.lower(studs.last) not in ("by", "x", "×", "on", "times"):
            return None
        circle = self.chained(studs.last + 1)
        if circle is None or circle[0] not in BOLT_CIRCLES:
            return None
        if circle[0] == int(circle[0]) and not self.near(at - 8, circle[1] + 5) & WHEELS:
            return None
        return Code(at, circle[1], f"{studs.value:f}x{circle[0]:f}", "pattern", True)

    def chain(self, at: int) -> Code | None:
        """"A five twenty chain", "the chain is a 520"."""
        size = self.chained(at)
        if size is None or size[0] not in CHAINS:
            return None
        before = [self.lower(i) for i in range(max(0, at - 4), at)]
        if self.lower(size[1]) == "chain" or ("chain" in before and before[-1] in ("a", "is", "chain", "'s", ":", ",")):
            return Code(at, size[1], f"{size[0]:f}", "chain")
        return None

    def seal(self, at: int) -> Code | None:
        """"The inner is thirty by forty by seven": bore, outer width and height of a shaft seal or a bearing, in mm."""
        sizes: list[Decimal] = []
        place = at
        while len(sizes) < 3 and (number := self.numbers.get(place)) and number.value == int(number.value):
            sizes.append(number.value)
            place = number.last
            if len(sizes) < 3:
                if self.lower(place) not in ("by", "x", "×", "times"):
                    return None
                place += 1
        if len(sizes) < 3 or not 3 <= sizes[0] < sizes[1] <= 400 or not 2 <= sizes[2] < sizes[1]:
            return None
        if not self.near(at - 10, place + 6) & SEALS:
            return None
        return Code(at, place, "x".join(f"{size:f}" for size in sizes), "pattern", True)

    def washer(self, at: int) -> Code | None:
        """"New copper washer, eighteen by twenty four": bore and outer width of a washer, in mm."""
        inner = self.numbers.get(at)
        if inner is None or self.lower(inner.last) not in ("by", "x", "×") or self.lower(at - 1) in ("by", "x", "×"):
            return None
        outer = self.numbers.get(inner.last + 1)
        if outer is None or not 3 <= inner.value < outer.value <= 60 or outer.value > 3 * inner.value or (
                self.lower(outer.last) in ("by", "x", "×")):
            return None
        named = at - 2 if self.lower(at - 1) in (",", "is", "are", ":", "'s", "size") else at - 1
        if not ({self.lower(named)} | self.near(outer.last, outer.last + 2)) & WASHERS:
            return None
        return Code(at, outer.last, f"{inner.value:f}x{outer.value:f}", "pattern", True)

    def ribbed_belt(self, at: int) -> Code | None:
        """"Six p k eighteen fifty", "a 7 PK 1050": ribs, profile and length of a belt."""
        ribs = self.numbers.get(at)
        if ribs is None or ribs.value not in RIBS:
            return None
        place = self.follows(self.after_hyphen(ribs.last), self.words.ribbed)
        length = self.numbers.get(self.after_hyphen(place)) if place is not None else None
        if place is None or length is None:
            return None
        value, last = length.value, length.last
        while value < 1000 and (digit := self.numbers.get(last)) and digit.last == last + 1 and digit.value < 10 and (
                length.last - length.first == 1 and length.value < 10):  # "8 7 5"
            value, last = value * 10 + digit.value, digit.last
        rest = self.numbers.get(last)
        if 5 <= value < 100 and rest is not None and 10 <= rest.value < 100:  # "eighteen fifty"
            value, last = value * 100 + rest.value, rest.last
        if value not in BELT_LENGTHS:
            return None
        profile = "".join(self.said[ribs.last : place]).strip("-").upper()
        return Code(at, last, f"{ribs.value:f}{profile}{value:f}", "part", True)

    def bulb(self, at: int) -> Code | None:
        """"Headlight bulb is an aitch seven"."""
        number = self.numbers.get(at + 1) if self.letter(at) == "h" else None
        text = f"H{number.value:f}" if number else ""
        lamps = bool(text) and BULB.fullmatch(text) and self.near(at - 5, at + 7) & self.words.lamps
        return Code(at, at + 2, text, "bulb", True) if lamps else None
