"""Component phrases: runs of positions, modifiers, parts and a fastener, with what hangs on by "on", "of", "for"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from saidspec.extract.passage import Found, Passage, is_stop

FASTENERS = {
    "bolt",
    "nut",
    "screw",
    "stud",
    "plug",
    "union",
    "fitting",
    "nipple",
    "bleeder",
    "lug",
    "capscrew",
    "setscrew",
    "fastener",
    "banjo",
    "pin",
    "clamp",
    "cap",
    "nutsert",
    "bleed",
    "locknut",
    "bung",
    "grub",
    "hex",
    "clip",
}
AXES = ("order", "end", "side", "height", "depth", "cylinder")
SILENT = {
    "old",
    "new",
    "original",
    "aftermarket",
    "spare",
    "used",
    "long",
    "short",
    "little",
    "big",
    "small",
    "large",
    "thin",
    "thick",
    "same",
    "single",
    "double",
    "twin",
    "dual",
    "triple",
    "end",
}
JOINTS = {
    "on",
    "of",
    "for",
    "to",
    "in",
    "at",
    "from",
    "under",
    "behind",
    "holding",
    "into",
    "through",
    "inside",
    "off",
    "along",
}
ARTICLES = {
    "the",
    "this",
    "that",
    "my",
    "its",
    "each",
    "every",
    "both",
    "a",
    "an",
    "these",
    "those",
    "all",
    "his",
    "her",
}


@dataclass(frozen=True, slots=True)
class Mention:
    """A component phrase at tokens start..end (exclusive).

    `words`: the trade words as said, singular, without positions; `positions`: axis → position; `head`: the last word;
    `kind`: part, fastener, position (only a position) or pronoun; `system`: of its most particular part;
    `general`: whether all of its words are general ones, so that it needs the part it belongs to.
    """

    start: int
    end: int
    words: tuple[str, ...]
    positions: tuple[tuple[str, str], ...]
    kind: str
    system: str
    general: bool
    plural: bool = False
    is_new: bool = False
    is_old: bool = False
    oblique: bool = False  # hangs on a preposition that only says where or with what: "off the knuckle"
    definite: bool = False

    @property
    def head(self) -> str:
        return self.words[-1] if self.words else ""

    @property
    def fastener(self) -> bool:
        return self.kind == "fastener"

    def axis(self, name: str) -> str | None:
        return dict(self.positions).get(name)


CONTRARY = {
    "leading": "trailing",
    "trailing": "leading",
    "upper": "lower",
    "lower": "upper",
    "front": "rear",
    "rear": "front",
    "inner": "outer",
    "outer": "inner",
    "top": "lower",
    "bottom": "upper",
    "left": "right",
    "right": "left",
}


def phrase(words: tuple[str, ...], positions: tuple[tuple[str, str], ...]) -> str:
    """The component as a reader needs it: positions in their usual order, then the words."""
    placed = dict(positions)
    words = tuple(word for word in words if word not in CONTRARY or CONTRARY[word] not in placed.values())
    before = [placed[axis] for axis in AXES if axis in placed and axis != "cylinder"]
    if "cylinder" in placed:
        if "cylinder" in words:
            at = words.index("cylinder") + 1
            words = (*words[:at], placed["cylinder"], *words[at:])
        else:
            before.append(f"cylinder {placed['cylinder']}")
    return " ".join([*before, *words])


def mentions(page: Passage) -> list[Mention]:
    """All component phrases, in order; those joined by "on", "of", "for" made one."""
    found: list[Mention] = []
    at = 0
    shielded = page.covered.get("shield", set())
    starts = {
        i
        for name in ("part", "fastener", "short", "position", "modifier", "head", "system", "standing")
        for i in page.at.get(name, ())
    }
    while at < len(page):
        item = _run(page, at) if at in starts and at not in shielded else None
        if item:
            found.append(item)
            at = item.end
        else:
            at += 1
    return _hung(page, _listed_obliquely(page, found))


def _listed_obliquely(page: Passage, found: list[Mention]) -> list[Mention]:
    """ "With lights, fan and heated window": what is listed with an oblique phrase is oblique too."""
    made: list[Mention] = []
    for item in found:
        before = made[-1] if made else None
        between = page.words(before.end, item.start) if before is not None else []
        if (
            before is not None
            and before.oblique
            and 0 < len(between) <= 3
            and all(word in (",", "and", "the", "a", "+") for word in between)
        ):
            item = replace(item, oblique=True)
        made.append(item)
    return made


def _term(page: Passage, at: int) -> tuple[str, Found] | None:
    """The longest component term at a token; of equals, the most particular category."""
    best: tuple[str, Found] | None = None
    for name in ("fastener", "part", "short", "position", "standing", "modifier", "head", "system"):
        found = page.starting(name, at)
        if found and name == "system" and page.word(found.end - 1) != "system":
            continue
        if found and (best is None or found.end > best[1].end):
            best = ("head" if name == "standing" else name, found)
    return best


def _run(page: Passage, at: int) -> Mention | None:
    """The component phrase that begins at token `at`."""
    words: list[str] = []
    positions: dict[str, str] = {}
    kinds: list[str] = []
    system, general, end, plural, new, old = "", True, at, False, False, False
    place = at
    unknown = _unknown_before(page, at)
    if unknown:
        words.append(unknown)
        general = False
    if page.words(at - 2, at) == ["at", "the"] and at > 2 and at - 3 in _parts(page) and page.starting("position", at):
        item = page.at["position"][at]  # "the bolt at the back": not the back of what is named next
        return Mention(at, item.end, (), ((item.term.detail or "side", item.term.id),), "position", "", True)
    if page.word(at) == "side" and page.word(at - 1) in (
        "this",
        "that",
        "other",
        "each",
        "both",
        "either",
        "same",
        "one",
    ):
        return None
    while place < len(page):
        if page.inside("shield", place) or (plural and kinds and kinds[-1] != "position" and _new_phrase(page, place)):
            break
        term = _term(page, place)
        if term is None:
            number = _cylinder(page, place)
            if number is None:
                break
            positions["cylinder"], place = number
            kinds.append("position")
            end = place
            continue
        name, item = term
        if name == "position" and kinds and kinds[-1] in ("part", "fastener") and not _tail_position(page, item):
            break
        alone = name == "head" and not words and not _standing(page, place)
        if alone and not _narrows(page, item) and not unknown:
            break
        if name == "system":
            if page.word(item.end - 1) != "system" or words:
                break
            name = "part"
        if name == "position":
            axis = item.term.detail or "side"
            if axis == "order":
                if words or positions:
                    break
                return None  # "the first one", "second round": no place of a part
            if axis in positions:
                break
            positions[axis] = item.term.id
        else:
            said = [page.norm[i] for i in range(item.start, item.end)]
            if name == "short":
                said = item.term.meant.split()
            kept = [word for word in said if word not in SILENT or len(said) > 1]
            new, old = new or "new" in said, old or "old" in said
            words += kept
            if name in ("part", "fastener", "short") and item.term.system not in ("", "general"):
                system, general = item.term.system, False
            plural = _plural(page, item.end - 1)
            if name == "modifier" and plural:
                words = words[: len(words) - len(kept)]
                if not kinds:
                    return None
                break
        kinds.append("part" if name == "short" else name)
        place = end = item.end
    return _made(page, at, end, words, positions, kinds, system, general, plural, new, old)


def _parts(page: Passage) -> set[int]:
    return page.covered.get("part", set()) | page.covered.get("fastener", set())


def _made(
    page: Passage,
    at: int,
    end: int,
    words: list[str],
    positions: dict[str, str],
    kinds: list[str],
    system: str,
    general: bool,
    plural: bool,
    new: bool,
    old: bool,
) -> Mention | None:
    has_part = (
        "part" in kinds or "fastener" in kinds or ("head" in kinds and (len(words) > 1 or _standing(page, end - 1)))
    )
    if not has_part and not positions:
        return None
    if (
        len(words) == 1
        and kinds[-1] != "position"
        and page.inside("doubtful", end - 1)
        and end - at == 1
        and (
            page.word(at - 1) not in ("the", "new", "old", "both")
            or page.word(end) in ("stuff", "thing", "one", "way", "time", "lot", "box")
            or (page.word(at - 2) in ("on", "at") and not positions)
        )
    ):
        return None
    if not has_part and any(kind in ("modifier", "head") for kind in kinds):
        valve = next((word for word in words if word in ("intake", "inlet", "exhaust")), None)
        if valve and positions and len(words) == 1:
            words, has_part, system, general = [valve, "valve"], True, "timing", False  # "intake left", "right exhaust"
        else:
            while kinds and kinds[-1] in ("modifier", "head"):
                kinds.pop()
            words, end = [], at + len(kinds)
            if not positions or not kinds or "modifier" in kinds or "head" in kinds:
                return None
    kind = "position" if not has_part else "fastener" if words and words[-1] in FASTENERS else "part"
    if kind == "position" and not _meant_as_position(page, at, end):
        return None
    definite = page.word(at - 1) in ("the", "this", "that", "those", "these", "my", "both", "all", "each")
    before = page.word(at - 2) if page.word(at - 1) in ARTICLES else page.word(at - 1)
    place = at - 2 if page.word(at - 1) in ARTICLES else at - 1
    beside = tuple(page.words(place - 1, place + 1)) in (
        ("next", "to"),
        ("front", "of"),
        ("close", "to"),
        ("side", "of"),
        ("close", "by"),
    )
    return Mention(
        at,
        end,
        tuple(words),
        tuple(positions.items()),
        kind,
        system,
        general,
        plural,
        new,
        old,
        before in OBLIQUE or beside,
        definite,
    )


OBLIQUE = {
    "off",
    "from",
    "behind",
    "under",
    "with",
    "through",
    "onto",
    "against",
    "without",
    "by",
    "near",
    "past",
    "out",
    "beside",
    "until",
    "till",
    "before",
}


UNNAMING = {"set", "kit", "unit", "end", "face", "side", "edge", "half", "box", "assembly"}
PLAIN = {
    "the",
    "a",
    "an",
    "my",
    "both",
    "new",
    "old",
    "\n",
    "",
    ".",
    ",",
    ";",
    ":",
    "um",
    "uh",
    "okay",
    "ok",
    "then",
    "and",
}


def _narrows(page: Passage, item: Found) -> bool:
    """A word that usually ends a compound narrows the fastener right behind it: "arm bolt", "line nut"."""
    return (
        item.term.id not in UNNAMING
        and any(page.starting(name, item.end) for name in ("fastener",))
        and not _plural(page, item.end - 1)
    )


def _unknown_before(page: Passage, at: int) -> str | None:
    """A word of no rule file right before a general noun narrows it: "the cooler line", "shroud bolts"."""
    found = _term(page, at)
    if found is None or found[0] not in ("head", "fastener") or at == 0 or not page.same_sentence(at - 1, at):
        return None
    word, lex = page.word(at - 1), page.lexemes[at - 1]
    if (
        lex.kind != "word"
        or len(word) < 4
        or page.word(at - 2) not in PLAIN
        or lex.text.endswith(("ed", "ing", "ly"))
        or is_stop(word)
    ):
        return None
    if found[0] == "fastener" and found[1].end - found[1].start > 1:
        return None
    return (
        None
        if any(at - 1 in covered for name, covered in page.covered.items() if not name.startswith("not:"))
        else word
    )


def _standing(page: Passage, at: int) -> bool:
    """A word that usually ends a compound stands for a part alone: "the plate", "new element"."""
    return page.inside("standing", at) and (
        page.word(at - 1)
        in ("the", "new", "old", "this", "that", "\n", "", ".", "*", "my", ">", "kit", "and", ",", "down")
        or _plural(page, at)
        or page.word(at + 1) in ("is", "'s", "to", "was", "has", "had")
    )


def _new_phrase(page: Passage, at: int) -> bool:
    """A noun behind a plural noun begins a phrase of its own: "on the flats caliper is hung up"."""
    return any(page.starting(name, at) for name in ("part", "fastener", "modifier", "head", "short"))


def _plural(page: Passage, at: int) -> bool:
    text = page.lexemes[at].text.lower()
    return text.endswith("s") and page.norm[at] != text


def _cylinder(page: Passage, at: int) -> tuple[str, int] | None:
    """ "cylinder 3", "number two": which one, and the place after."""
    place = (
        at
        if page.word(at - 1) in CYLINDERS
        else at + 1
        if page.word(at) in CYLINDERS and page.word(at) != "cylinder"
        else None
    )
    if (
        place is None
        and page.word(at - 1) in ("plug", "coil", "injector", "piston")
        and page.word(at + 1)
        in ("gap", "is", "was", "reads", "had", "has", "got", "at", "and", "'s", "gets", "bolt", "are", "looks")
        and page.word(at - 2) not in ("a", "both")
    ):
        place = at  # "plug one gap", "injector 3 is"
    if place is None or place >= len(page):
        return None
    value = Decimal(1) if page.word(place) == "one" else page.lexemes[place].value
    if value is None or value != int(value) or not 1 <= value <= 12 or page.word(place + 1) in ("bolt", "mm", "mil"):
        return None
    return str(value), place + 1


CYLINDERS = {"cylinder", "number", "cyl", "no"}


def _tail_position(page: Passage, item: Found) -> bool:
    """A position right behind its part: "hose left", "intake right"; not where the position begins another phrase."""
    after = _term(page, item.end)
    return (
        item.term.detail in ("side", "depth")
        and (after is None or after[0] == "position")
        and (page.word(item.end) not in ("one", "side", "hand"))
    )


def _meant_as_position(page: Passage, at: int, end: int) -> bool:
    """A position alone stands for a part after an article or before "one", "is", "was", a value, or a mark."""
    before, after = page.word(at - 1), page.word(end)
    if end - at > 1 and page.word(end - 1) == "side":
        return True
    kind = page.lexemes[end].kind if end < len(page) else "mark"
    return before in ("the", "both", "this", "that", "a", "on", "and", "", "\n", ".", ",", ";", "same", "other") or (
        after in ("one", "is", "was", "'s", "side", "were", "are", "had", "has", "got", "at", "reads")
        or (kind in ("number", "mark"))
        or (at > 0 and page.lexemes[at - 1].kind == "number")
        or before in ("mm", "inch", "metre", "millimetre", "psi", "bar", "volt", "thou")
    )


def _hung(page: Passage, found: list[Mention]) -> list[Mention]:
    """Join "bolts on the caliper bracket" to one mention, and "hose bracket on the right" with its position."""
    made: list[Mention] = []
    at = 0
    while at < len(found):
        item = found[at]
        while at + 1 < len(found):
            other = found[at + 1]
            joined = _join(page, item, other)
            if joined is None:
                break
            item = joined
            at += 1
        made.append(item)
        at += 1
    return made


def _join(page: Passage, item: Mention, other: Mention) -> Mention | None:
    between = page.words(item.end, other.start)
    if not between or len(between) > 3 or between[0] not in JOINTS or not page.same_sentence(item.start, other.start):
        return None
    if any(word not in ARTICLES and word not in JOINTS for word in between[1:]):
        return None
    if other.kind == "position":
        if (
            any(axis in dict(item.positions) for axis, _ in other.positions)
            or between[0] not in ("on", "at", "in")
            or (page.word(other.end) in ("one", "side") and between[-1] not in ("the",))
            or (page.word(other.end) == "one")
        ):
            return None
        return replace(item, end=other.end, positions=(*item.positions, *other.positions))
    if (
        item.words[-1:]
        and item.words[-1] in ("oil", "fluid", "coolant", "water", "grease", "ring")
        and between[0] in ("on", "in", "at")
    ):
        return None
    if (
        item.kind == "position"
        or not item.general
        or (other.general and other.kind != "part")
        or between[0] in ("off", "from")
    ):
        return None
    if item.end < len(page) and between[0] == "to" and item.fastener:
        return None
    positions = dict(other.positions) | dict(item.positions)
    words = (*other.words, *(word for word in item.words if word not in other.words[-1:]))
    return replace(
        item,
        end=other.end,
        words=words,
        positions=tuple(positions.items()),
        system=other.system,
        general=other.general and item.general,
        kind=item.kind,
    )
