"""How a word belongs to a component: narrows the next one, stands for a part alone, is a place or a cylinder."""

from __future__ import annotations

from decimal import Decimal

from saidspec.extract.grammar import BE
from saidspec.extract.paired import UNITS
from saidspec.extract.passage import Found, Passage
from saidspec.extract.unlisted import unlisted

# Categories of terms that make up components; of equally long ones the first, the most particular, is meant.
NOUNS = ("part", "fastener", "modifier", "head", "short")
CYLINDERS = 12  # the highest number of a cylinder
PLAIN = frozenset({"the", "a", "an", "my", "both", "new", "old", "\n", "", ".", ",", ";", ":", "um", "uh", "okay", "ok",
                   "then", "and"})  # before a noun phrase
BEFORE_ALONE = frozenset({"the", "new", "old", "this", "that", "\n", "", ".", "*", "my", ">", "kit", "and", ",",
                          "down"})
BEFORE_PLACE = frozenset({"the", "both", "this", "that", "a", "on", "and", "", "\n", ".", ",", ";", "same", "other",
                          "mm", "mil", "inch", "metre", "millimetre", "psi", "bar", "volt", "thou"})
PLACES_OF_SEVERAL = frozenset({"rear", "front", "inner", "outer"})  # in the plural: "rears both five"
AFTER_PLACE = BE | {"one", "side", "had", "has", "got", "at", "reads", "gave"}
ORDINALS = {"first": "1", "second": "2", "third": "3", "fourth": "4"}
CLAUSE = 8  # tokens of a clause that are looked at before "back" and "left"
PUT = frozenset({"put", "putting", "fit", "fitted", "fitting", "bolted", "screwed", "popped", "slid"})
LEFT_OVER = frozenset({"have", "has", "had", "of", "got", "'ve"})
AFTER_NUMBERED = BE - {"were"} | {"gap", "reads", "had", "has", "got", "at", "and", "gets", "bolt", "looks"}


def longest_term(page: Passage, at: int) -> tuple[str, Found] | None:
    """(category, term) of the longest component term at a token; of equals, the most particular category."""
    best: tuple[str, Found] | None = None
    for name, found in page.component.get(at, ()):
        if name == "system" and page.word(found.end - 1) != "system":
            continue
        if best is None or found.end > best[1].end:
            best = ("head" if name == "standing" else name, found)
    return best


def plural(page: Passage, at: int) -> bool:
    """Whether a word was said in the plural."""
    text = page.lexemes[at].text.lower()
    return text.endswith("s") and page.norm[at] != text


def begins_phrase(page: Passage, at: int) -> bool:
    """A noun behind a plural noun begins a phrase of its own: "on the flats caliper is hung up"."""
    return any(page.starting(name, at) for name in NOUNS)


def narrows(page: Passage, item: Found) -> bool:
    """A word that usually ends a compound narrows the fastener right behind it: "arm bolt", "line nut"."""
    return item.term.id not in page.classes.vague_heads and page.starting("fastener", item.end) is not None and (
        not plural(page, item.end - 1))


def unknown_before(page: Passage, at: int) -> str | None:
    """A word of no rule file right before a general noun narrows it: "the cooler line", "shroud bolts"."""
    found = longest_term(page, at)
    if found is None or not _narrowed(page, found) or at == 0 or not page.same_sentence(at - 1, at):
        return None
    if page.word(at - 2) not in PLAIN or (found[0] == "fastener" and found[1].end - found[1].start > 1):
        return None
    return page.word(at - 1) if unlisted(page, at - 1) else None


def unknown_within(page: Passage, at: int) -> bool:
    """A word of no rule file between what narrows and the fastener it narrows: "gearbox steady bolt"."""
    if at + 1 >= len(page) or not page.same_sentence(at, at + 1) or not unlisted(page, at):
        return False
    found = longest_term(page, at + 1)
    return found is not None and _narrowed(page, found) and not plural(page, at)


def _narrowed(page: Passage, found: tuple[str, Found]) -> bool:
    """Whether a term is usually narrowed by a word before it: "bolt", "line", "lever"."""
    name, item = found
    return name in ("head", "fastener") or (
        name == "part" and item.term.system == "general" and page.word(item.end - 1) not in page.classes.fluids)


def stands_alone(page: Passage, at: int) -> bool:
    """A word that usually ends a compound stands for a part alone: "the plate", "new element"."""
    if not page.inside("standing", at):
        return False
    return page.word(at - 1) in BEFORE_ALONE or page.inside("position", at - 1) or plural(page, at) or (
        page.word(at + 1) in ("is", "'s", "to", "was", "has", "had"))


def trails(page: Passage, item: Found) -> bool:
    """A position right behind its part: "hose left", "intake right"; not where the position begins another phrase."""
    after = longest_term(page, item.end)
    return item.term.detail in ("side", "depth", "stage") and (after is None or after[0] == "position") and (
        page.word(item.end) not in ("one", "side", "hand", "gave"))


def means_a_part(page: Passage, at: int, end: int) -> bool:
    """A position alone stands for a part after an article or before "one", "is", "was", a value, or a mark."""
    if (end - at > 1 and page.word(end - 1) == "side") or several_there(page, at, end):
        return True
    kind = page.lexemes[end].kind if end < len(page) else "mark"
    return page.word(at - 1) in BEFORE_PLACE or page.word(end) in AFTER_PLACE or kind in ("number", "mark", "code") or (
        at > 0 and page.lexemes[at - 1].kind in ("number", "code"))


def several_there(page: Passage, at: int, end: int) -> bool:
    """"Rears", "the fronts": the parts at both sides of that end."""
    return end - at == 1 and page.word(at) in PLACES_OF_SEVERAL and plural(page, at)


def no_place(page: Passage, at: int, end: int) -> bool:
    """"Put the plug back, ...", "two litres of fluid left", "Right, the plug is ...": words that only look like places.

    Something is put back by a verb before it in the clause; what is left stands behind "have" or "of"; "right" with a
    comma opens what is said.
    """
    if _edge(page, at, end):
        return True
    word, opens = page.word(at), page.sentence_start(at) == at
    if end - at != 1 or word not in ("back", "left", "right") or page.word(at - 1) in ("the", "on", "my", "its"):
        return False
    before = page.words(max(page.sentence_start(at), at - CLAUSE), at)
    if word == "right":
        return opens and page.word(end) == "," and page.word(end + 1) not in ("left", "rear", "front")
    if word == "left":
        return page.word(end) in ("", ".", ",", "\n", "in", "now") and not LEFT_OVER.isdisjoint(before) and not opens
    return page.word(end) in ("", ".", ",", "\n", "and", "then", "now") and not PUT.isdisjoint(before)


def _edge(page: Passage, at: int, end: int) -> bool:
    """"140 from the top", "12 mm below the top": from where a figure is told, and not where the part is."""
    led = page.word(at) == "top" and page.word(at - 1) == "the" and page.word(at - 2) in ("from", "below", "under")
    place = at - 3 - (page.word(at - 3) == "down")
    told = led and (page.lexemes[place].kind == "number" or page.word(place) in UNITS)
    return told and not any(page.starting(name, end) for name in NOUNS)


def ordinal_cylinder(page: Passage, at: int) -> str | None:
    """"The first cylinder": which one."""
    number = ORDINALS.get(page.word(at))
    return number if number and page.word(at + 1) == "cylinder" and not plural(page, at + 1) else None


def cylinder(page: Passage, at: int) -> tuple[str, int] | None:
    """"cylinder 3", "number two", "injector 3 is": which one, and the place after."""
    before, word, classes = page.word(at - 1), page.word(at), page.classes
    numbered = before in classes.numbered_parts and page.word(at + 1) in AFTER_NUMBERED and (
        page.word(at - 2) not in ("a", "both", "drain", "fill", "filler", "sump", "level")) and (
        page.word(at + 1) != "and" or page.word(at + 2) == before or (page.lexemes[at + 2 : at + 3] != [] and (
            page.lexemes[at + 2].kind == "number" or page.word(at + 2) in ("number", "the", "then"))))
    numbered = numbered or (before in classes.numbered_parts and page.word(at + 1) == "," and at + 2 < len(page) and (
        page.lexemes[at + 2].kind == "number" and not plural(page, at - 1)))  # "plug two, 0.8 ohms"
    if before in classes.cylinder_words or (numbered and (word == "cylinder" or word not in classes.cylinder_words)):
        place = at
    elif word in classes.cylinder_words and word != "cylinder":
        place = at + 1
    else:
        return None
    if place >= len(page):
        return None
    value = Decimal(1) if page.word(place) == "one" else page.lexemes[place].value
    if value is None or value != int(value) or not 1 <= value <= CYLINDERS or page.word(place + 1) in (
            UNITS | {"bolt"}):
        return None
    if page.word(place - 1) == "no" and place > 1 and page.lexemes[place - 2].kind == "number":
        return None  # "a ten no twelve": taken back
    return str(value), place + 1
