"""A note as the rules see it: lexemes in a spaCy document, the terms found in it, sentences and utterances."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from saidspec.extract.lexicon import Term
from saidspec.extract.sentences import sentences, utterances
from saidspec.extract.terms import TermMatcher
from saidspec.extract.word_classes import WordClasses
from saidspec.model import Note
from saidspec.normalise.aligned import Aligned
from saidspec.normalise.lexemes import Lexeme
from saidspec.normalise.words import normal_form

# Words of these combine, so "shift rod nut" may be read as "shift rod" + "nut" though "rod nut" is a term too.
COMPOUNDING = frozenset({"part", "fastener", "short", "modifier", "head", "position", "standing"})
# What a component phrase is made of; of equal terms the first one is meant.
COMPONENT = ("fastener", "part", "short", "position", "standing", "modifier", "head", "system")
WITHIN_NAMES = ("shield", "plan", "cue")  # of no weight within the name of a part
COMMON_MARKS = 25  # words to a mark: a text with fewer marks than this is not punctuated


class Found(NamedTuple):
    """A term at tokens start..end (exclusive)."""

    start: int
    end: int
    term: Term


@dataclass(slots=True)
class Passage:
    """The lexemes of a note with what was found in them, by token index.

    `norm`: normal form of each token; `sentence`, `utterance`: running number of each token's sentence and utterance;
    `classes`: the words that steer the reading; `found`: terms by category, in order; `at`: terms by category and
    start, longest only; `approx_ends`: cues of an estimate by the token behind them.
    """

    note: Note
    aligned: Aligned
    lexemes: list[Lexeme]
    norm: list[str]
    sentence: list[int]
    utterance: list[int]
    classes: WordClasses
    found: dict[str, list[Found]] = field(default_factory=dict)
    at: dict[str, dict[int, Found]] = field(default_factory=dict)
    covered: dict[str, set[int]] = field(default_factory=dict)  # tokens inside a term of a category
    component: dict[int, list[tuple[str, Found]]] = field(default_factory=dict)  # terms of component phrases by start
    punctuated: bool = True
    bounds: list[tuple[int, int]] = field(default_factory=list)  # first token and end of each sentence
    approx_ends: dict[int, Found] = field(default_factory=dict)
    size: int = field(init=False)  # tokens

    def __post_init__(self) -> None:
        self.size = len(self.lexemes)

    def __len__(self) -> int:
        return self.size

    def word(self, at: int) -> str:
        """The normal form of a token; empty outside of the passage."""
        return self.norm[at] if 0 <= at < self.size else ""

    def words(self, start: int, end: int) -> list[str]:
        """The normal forms of tokens start..end, cut to the passage."""
        return self.norm[start if start > 0 else 0 : end if end > 0 else 0]

    def lower(self, at: int) -> str:
        """A token as said, in lower case."""
        return self.lexemes[at].text.lower() if 0 <= at < len(self.lexemes) else ""

    def same_sentence(self, one: int, other: int) -> bool:
        return self.sentence[one] == self.sentence[other]

    def sentence_start(self, at: int) -> int:
        return self.bounds[self.sentence[at]][0] if 0 <= at < len(self.sentence) else 0

    def sentence_end(self, at: int) -> int:
        return self.bounds[self.sentence[at]][1] if 0 <= at < len(self.sentence) else 0

    def starting(self, category: str, at: int) -> Found | None:
        return self.at.get(category, {}).get(at)

    def inside(self, category: str, at: int) -> bool:
        return at in self.covered.get(category, ())

    def said(self, at: int) -> str:
        """A token as it stands in the normalised text, capitals and all."""
        lex = self.lexemes[at]
        return self.aligned.text[lex.start : lex.end]

    def origin(self, start: int, end: int) -> tuple[int, int]:
        """The characters of the note that tokens start..end (exclusive) stand for."""
        return self.aligned.origin(self.lexemes[start].start, self.lexemes[end - 1].end)


def passage(note: Note, aligned: Aligned, lexemes: list[Lexeme], terms: TermMatcher) -> Passage:
    """The passage of a note: its lexemes with sentences, utterances and terms."""
    norm = [normal_form(lex.text) if lex.kind in ("word", "suffix") else lex.text.lower() for lex in lexemes]
    made = Passage(note, aligned, lexemes, norm, sentences(lexemes, norm),
                   utterances(note, aligned, lexemes), terms.lexicon.classes)
    made.punctuated = sum(1 for lex in lexemes if lex.text in (".", "!", "?", ",")) * COMMON_MARKS > len(lexemes)
    for i, number in enumerate(made.sentence):
        if number == len(made.bounds):
            made.bounds.append((i, i + 1))
        else:
            made.bounds[number] = (made.bounds[number][0], i + 1)
    _match(made, terms)
    made.approx_ends = {cue.end: cue for cue in made.found.get("approx", ()) if cue.term.meant == "forward"}
    return made


@lru_cache(maxsize=4096)
def is_stop(word: str) -> bool:
    """A function word of English, by spaCy's list."""
    from spacy.lang.en.stop_words import STOP_WORDS

    return word in STOP_WORDS


def _match(made: Passage, terms: TermMatcher) -> None:
    """Find the terms of the passage, by category: of overlapping ones the longest, without those that are shielded."""
    raw: dict[str, list[Found]] = {}
    for start, end, term in terms.found(made.norm):
        raw.setdefault(term.category, []).append(Found(start, end, term))
    for category, found in raw.items():
        made.found[category] = _longest_from_each(found) if category in COMPOUNDING else _longest(found)
    for category in list(made.found):
        if category.startswith("not:"):
            _shield(made, category.removeprefix("not:"), made.found[category])
    _name_over_tool(made)
    for category, found in made.found.items():
        made.at[category] = {item.start: item for item in found}
        made.covered[category] = {i for item in found for i in range(item.start, item.end)}
    for category in COMPONENT:
        for start, item in made.at.get(category, {}).items():
            made.component.setdefault(start, []).append((category, item))


def _name_over_tool(made: Passage) -> None:
    """A word of the workshop or of plans within a longer name of a part is the part's: "idle" in "idle mixture screw",
    "pick up" in "pick-up strainer"."""
    names = [item for category in ("part", "fastener") for item in made.found.get(category, ())]
    within = {at: item for item in sorted(names, key=lambda item: item.end - item.start)
              for at in range(item.start, item.end)}
    for category in WITHIN_NAMES:
        made.found[category] = [item for item in made.found.get(category, ()) if not (
            (name := within.get(item.start + (made.word(item.start) == "the"))) and item.end <= name.end and (
                name.end - name.start > item.end - item.start or name.start > item.start))]


def _longest_from_each(found: list[Found]) -> list[Found]:
    """Of the terms that begin at one token the longest."""
    best: dict[int, Found] = {}
    for item in found:
        if item.start not in best or item.end > best[item.start].end:
            best[item.start] = item
    return [best[start] for start in sorted(best)]


def _longest(found: list[Found]) -> list[Found]:
    """Of overlapping terms the longest, then the first; all terms of one span are kept."""
    kept: list[Found] = []
    taken: dict[int, tuple[int, int]] = {}
    for item in sorted(found, key=lambda item: (item.start - item.end, item.start)):
        span = (item.start, item.end)
        if all(taken.get(at, span) == span for at in range(*span)):
            kept.append(item)
            taken.update(dict.fromkeys(range(*span), span))
    return sorted(kept, key=lambda item: item.start)


def _shield(made: Passage, category: str, shields: list[Found]) -> None:
    """Drop the terms of a category that lie within a phrase in which they are none.

    A phrase that is itself a term of the category is kept from the shields of other entries.
    """
    over: dict[int, list[Found]] = {}
    for shield in shields:
        governed = category == "position" and made.word(shield.start - 1) in ("on", "the", "at")
        sides = category == "position" and made.word(shield.end - 1) in ("left", "right") and (
            shield.end < len(made) and made.lexemes[shield.end].kind == "number" and not {"left", "right"}.isdisjoint(
                made.words(shield.end + 1, shield.end + 9)))
        if (governed and shield.end - shield.start == 2) or sides:  # "height is left 14.5 and right 16.5"
            continue  # "on the left the pads are": a place all the same
        for at in range(shield.start, shield.end):
            over.setdefault(at, []).append(shield)
    categories = ("part", "fastener", "short") if category == "part" else (category,)
    for name in categories:
        made.found[name] = [item for item in made.found.get(name, ())
                            if not any(_shields(shield, item) for shield in over.get(item.start, ()))]


def _shields(shield: Found, item: Found) -> bool:
    """A shield of another entry only guards against terms shorter than itself."""
    if not shield.start <= item.start or item.end > shield.end:
        return False
    return shield.term.id == item.term.id or shield.end - shield.start > item.end - item.start
