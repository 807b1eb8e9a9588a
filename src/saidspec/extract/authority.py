"""On whose word something is said: a book or a person named beside the value makes it a quotation.

"The book says", "sticker on the door gives", "per the manual", "in the book", "a bloke at the club told me".
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from saidspec.extract.grammar import BE
from saidspec.extract.passage import Found, Passage

COPULAR = frozenset({"is", "was", "'s", "are", "number is", "figure is", "torque is", "value is", "value", "figure"})
OWNING = frozenset({"'s got", "has got", "has"})  # what is read has a figure in it: a book, and no plate of the clutch
LINKERS = frozenset({"on", "the", "in", "it", "they", "for", "all", "door", "inside", "of", "only", "just", "also",
                     "here", "actually", "this", "that", "which", "always", "usually", "still",
                     "definitely", "clearly"})  # between a source and its verb
# A place or a purpose of a source, and tokens that it may be long: "the sticker on the lid of the fuse box says".
COMPLEMENT, COMPLEMENT_REACH = frozenset({"on", "in", "inside", "under", "for", "with", "by", "from", "of", "at", "off",
                                          "behind", "to", "that", "online", "i", "we", "next"}), 8
# With a colon behind them these head no quotation.
HEADING_NONE = ("dad", "mum", "mom", "mate", "pal", "page", "note", "can", "jug", "garage", "someone", "people")
SPEAKERS = frozenset({"i", "we", "you"})
CLOSING = frozenset({".", ",", "", "\n", ";", "!", "and", "so", "but", ")"})
OPENING = frozenset({"(", ",", "[", "-", "–", "—"})
LIKE = frozenset({"like", "as", "than", "same"})  # "torqued to 110, same as the manual says": done, and not read
WRITTEN = "source-written"  # id of the sources that are read: books, labels, pages
PAGES = frozenset({"page", "sheet", "table", "chart", "diagram", "section", "chapter"})  # a number behind is theirs
OWN = frozenset({"the", "my", "a", "an", "this", "that", "workshop", "old", "owner's", "door", "paper", "little",
                 "your", "our", "back", "same", "official", "factory", "actual"})
TURNED = frozenset({"but", "although", "though", "because", "however"})  # behind one of these another thing is said
GOING = frozenset({"goes", "doing"})  # "the bolt goes back at 52 according to the manual" is still the manual's
SPOKEN_BEFORE = 12  # tokens before a source in which the value may stand that it is named for
NAME_REACH = 5  # tokens from "according to" to the source
ON_THE_WORD = frozenset({"per", "according", "going", "as"})  # these name a person as a source too


@dataclass(frozen=True, slots=True)
class Heard:
    """A cue at tokens start..end before its scope is known; `direction`: forward, backward, both or either."""

    start: int
    end: int
    category: str
    id: str
    direction: str


def quotations(page: Passage) -> Iterator[Heard]:
    """All places at which somebody or something is quoted."""
    yield from _part_says(page)
    yield from _source_says(page)
    yield from _by_source(page)
    yield from _hearsay(page)
    yield from _said_behind(page)


def _part_says(page: Passage) -> Iterator[Heard]:
    """"The cap of the reservoir says DOT 4": no source is named before "says", and no instrument shows it."""
    cues = page.found.get("cue", ())
    named = {at for cue in cues if cue.term.detail == "source" for at in range(cue.start, cue.end + 5)}
    shown = page.classes.instruments | SPEAKERS
    for cue in cues:
        if cue.term.detail == "source_verb" and page.lower(cue.start) == "says" and cue.start not in named and (
                "what" not in page.words(cue.start - 4, cue.start)) and (
                shown.isdisjoint(page.words(cue.start - 5, cue.start))):
            yield Heard(cue.start, cue.end, "quoted", "part-says", "forward")


def _hearsay(page: Passage) -> Iterator[Heard]:
    """"Marlow reckons", "someone online told me", "he said": a person's word, and not the speaker's own."""
    shown = page.classes.instruments | SPEAKERS
    for cue in page.found.get("cue", ()):
        first = page.sentence_start(cue.start)
        if cue.term.detail == "hearsay" and first < cue.start and (
                shown.isdisjoint(page.words(max(first, cue.start - 4), cue.start))):
            yield Heard(cue.start, cue.end, "quoted", cue.term.id, "forward")


def _said_behind(page: Passage) -> Iterator[Heard]:
    """"37 for the pinion nut, says the manual": the verb stands before its source."""
    for verb in page.found.get("cue", ()):
        if page.lower(verb.start) not in ("says", "said", "reckons") or page.word(verb.end) not in OWN:
            continue
        at = verb.end
        while page.word(at) in OWN and at - verb.end < 3:
            at += 1
        source = page.starting("cue", at)
        if source is not None and source.term.detail == "source" and (
                source.end >= len(page) or page.word(source.end) in CLOSING):
            yield Heard(verb.start, source.end, "quoted", "source-says", "backward")


def _source_says(page: Passage) -> Iterator[Heard]:
    """"The book says", "sticker on the door gives": a source and a verb of saying, its place between."""
    for cue in page.found.get("cue", ()):
        if cue.term.detail != "source":
            continue
        name = " ".join(page.words(cue.start, cue.end))
        if page.word(cue.end) == ":" and name not in HEADING_NONE:
            yield Heard(cue.start, cue.end + 1, "quoted", "source-heads", "forward")
            continue
        limits = name in page.classes.specification_names
        if (cue.term.id == WRITTEN or limits) and _heads_value(page, cue):
            yield Heard(cue.start, cue.end, "quoted", "source-heads", "forward")
            continue
        verb = _verb_of_saying(page, cue)
        if verb is None:
            continue
        said = " ".join(page.words(verb.start, verb.end))
        if said in OWNING and cue.term.id != WRITTEN:
            continue
        named = name in page.classes.specification_names and page.word(cue.start - 1) not in ("a", "of")
        if said in COPULAR and not named:
            continue
        closes = page.word(verb.end) in CLOSING or verb.end >= len(page)
        what = page.words(cue.start - 3, cue.start)
        if "what" in what[:2] and page.word(cue.start - 3 + what.index("what") - 1) in BE:
            closes = True  # "75 is what the manual says for the bolt"
        back = closes and not done_by_hand(page, cue.start) and not _value_next(page, cue.start, verb.end)
        yield Heard(cue.start, verb.end, "quoted", "source-says", "backward" if back else "forward")


def _value_next(page: Passage, start: int, end: int) -> bool:
    """"The book is quite clear, 38": the value stands behind the mark, and none before in the sentence."""
    first = max(page.sentence_start(start), start - SPOKEN_BEFORE)
    return page.word(end) in (",", ":") and end + 1 < len(page) and page.lexemes[end + 1].kind == "number" and not any(
        lex.kind in ("number", "code") for lex in page.lexemes[first:start])


def _heads_value(page: Passage, source: Found) -> bool:
    """"Drain plug: book 25": the value stands right behind the source."""
    at = source.end
    if page.word(source.start) in PAGES or at >= len(page) or page.lexemes[at].kind != "number":
        return False
    return page.word(at + 1) != "speed" and page.lexemes[at].form != "plural"


def _verb_of_saying(page: Passage, source: Found) -> Found | None:
    """The verb of saying behind a source, over small words, its place, and other cues of its sentence."""
    at = source.end
    if page.word(source.start) in PAGES and at < len(page) and page.lexemes[at].kind == "number":
        at += 1
    wide = page.word(at) in COMPLEMENT
    last = min(at + (COMPLEMENT_REACH if wide else 5), page.sentence_end(source.start))
    for place in range(at, last):
        verb = page.starting("cue", place)
        if verb and verb.term.detail in ("source_verb", "hearsay"):
            copular = " ".join(page.words(verb.start, verb.end)) in COPULAR
            if not (wide and copular and place - at > 4):
                return verb
        if page.lexemes[place].kind in ("mark", "number", "code"):
            return None
        if wide:
            if page.word(place) in ("and", "but", "so"):
                return None
        elif page.word(place) not in LINKERS and not page.inside("cue", place):
            return None
    return None


def _by_source(page: Passage) -> Iterator[Heard]:
    """"Per the manual", "in the book", "30 newton metres, book": a source without a verb of saying."""
    for cue in page.found.get("cue", ()):
        if cue.term.detail != "source":
            continue
        at = cue.start
        while page.word(at - 1) in OWN and cue.start - at < 4:
            at -= 1
        by = _preposition(page, at)
        if by is None:
            by = _named_by(page, cue.start)
        specified = page.word(cue.start) in ("spec", "specification") and page.word(cue.start - 1) == "the"
        if by is not None and (cue.term.id == WRITTEN or specified or page.word(by) in ON_THE_WORD):
            verb = page.starting("cue", cue.end)
            says = page.word(cue.end) == ":" or (  # "put 1.4 in the book says 1.4"
                verb is not None and verb.term.detail == "source_verb" and page.word(cue.end) not in BE)
            if page.word(by - 1) not in LIKE and not says and not done_by_hand(page, by, GOING):
                yield Heard(by, cue.end, "quoted", "by-source", "either")
        elif cue.term.id == WRITTEN and page.word(cue.start - 1) in OPENING and page.word(cue.end) in CLOSING and (
                cue.start >= 2 and _value_before(page, cue.start - 1)):
            yield Heard(cue.start - 1, cue.end, "quoted", "by-source", "backward")


def _preposition(page: Passage, at: int) -> int | None:
    """Where the words that name a source as such begin, if they end before token `at`: "according to", "per", "in"."""
    for length in (3, 2, 1):
        found = page.starting("cue", at - length) if at >= length else None
        if found is not None and found.term.detail == "source_by" and found.end == at:
            return found.start
    return None


def _named_by(page: Passage, at: int) -> int | None:
    """"As per the service sheet": where the words begin that name a source whatever it is called."""
    for place in range(at - 1, max(page.sentence_start(at) - 1, at - NAME_REACH), -1):
        if page.lexemes[place].kind != "word":
            return None
        found = page.starting("cue", place)
        if found is not None and found.term.detail == "source_by" and page.word(place) in ON_THE_WORD:
            return place
    return None


def _value_before(page: Passage, at: int) -> bool:
    """A value with its unit stands right before a token."""
    return any(lex.kind in ("number", "code") for lex in page.lexemes[max(0, at - 4) : at])


def done_by_hand(page: Passage, at: int, besides: frozenset[str] = frozenset()) -> bool:
    """What stands before is said of the hand and not of the book: "went back to 45, that's what the manual says"."""
    first = max(page.sentence_start(at), at - 14)
    while not TURNED.isdisjoint(page.words(first, at)):
        first += 1
    return not (page.classes.hand_work - besides).isdisjoint(page.words(first, at))
