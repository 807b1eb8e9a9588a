"""Edits map back: whatever is edited, each span of the text stands for words of the original that hold it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.normalise.aligned import Aligned, Edit
from saidspec.pipeline import read
from tests.normalise_samples import DAY, figures, note_of

TEXTS = st.text(alphabet="ab1 ,.-½é\n", min_size=1, max_size=30)
# Words of the workshop put together at random: what they say is nonsense, their offsets must hold all the same.
WORDS = ["one", "two", "twenty", "five", "hundred", "thousand", "oh", "point", "and", "a", "half", "quarter", "to",
    "or", "k", "w", "dash", "double",
         "bravo", "m", "by", "x", "12", "3.5", "1/4", "½", "87,450", "KD-3318-F", "5W-30", "M8x1.25", "t", "45",
             "plus", "minus", "degrees", "newton",
         "metres", "new ton meters", "inch", "pounds", "quart", "of", "oil", "drain", "brain", "plug", "no weight",
             "bolt", "front", "left", ".", ",", "-", "\n",
         "about", "the book says", "part number", "is", "sae", "thirty", "dot", "four", "couple", "litre", "p", "zero",
             "three", "°C", "€", "20", "it's"]
SPEECH = st.lists(st.sampled_from(WORDS), min_size=1,
    max_size=25).map(" ".join).filter(lambda text: any(sign.isalnum() for sign in text))


@st.composite
def edited(draw: st.DrawFn, aligned: Aligned) -> list[Edit]:
    """Edits in order that do not overlap, some of them insertions, some that take words away."""
    size = len(aligned.text)
    cuts = sorted(draw(st.lists(st.integers(0, size), min_size=0, max_size=6, unique=True)))
    return [Edit(start, end, draw(st.sampled_from(["", "7", "12 mm", aligned.text[start:end]])), f"rule-{start}")
            for start, end in zip(cuts[::2], cuts[1::2], strict=False)]


def holds(aligned: Aligned) -> None:
    """The pieces cover the text without a gap, in the order of the original; unchanged pieces are the very words."""
    at = 0
    for piece in aligned.pieces:
        assert piece.start == at
        assert piece.end >= piece.start
        assert 0 <= piece.begin <= piece.finish <= len(aligned.original)
        if piece.rule is None:
            assert aligned.original[piece.begin : piece.finish] == aligned.text[piece.start : piece.end]
        at = piece.end
    assert at == len(aligned.text)
    begins = [piece.begin for piece in aligned.pieces]
    assert begins == sorted(begins)


@given(TEXTS, st.data())
def test_edits_in_layers_map_back(text: str, data: st.DataObject) -> None:
    aligned = Aligned.of(text)
    for _ in range(3):
        aligned = aligned.edited(data.draw(edited(aligned)))
        holds(aligned)
    assert aligned.original == text


@given(TEXTS, st.data())
def test_an_untouched_character_maps_to_itself(text: str, data: st.DataObject) -> None:
    aligned = Aligned.of(text).edited(data.draw(edited(Aligned.of(text))))
    for piece in aligned.pieces:
        if piece.rule is None:
            for at in range(piece.start, piece.end):
                begin, finish = aligned.origin(at, at + 1)
                assert finish == begin + 1
                assert text[begin] == aligned.text[at]


@given(TEXTS, st.data())
def test_an_edit_of_an_edit_is_one_edit_of_the_words(text: str, data: st.DataObject) -> None:
    """Composition: a span that touches a replacement maps to all the words that it replaced."""
    first = data.draw(edited(Aligned.of(text)))
    aligned = Aligned.of(text).edited(first)
    again = aligned.edited([Edit(0, len(aligned.text), "all", "whole")] if aligned.text else [])
    if aligned.text:
        begin, finish = again.origin(0, 3)
        left = {at for edit in first if not edit.text for at in range(edit.start, edit.end)}
        assert {*range(len(text))} - {*range(begin, finish)} <= left  # only what was taken away may lie outside


def test_a_span_over_a_replacement_takes_the_whole_phrase() -> None:
    aligned = Aligned.of("about two and a half quarts").edited([Edit(6, 20, "2.5", "number")])
    assert aligned.text == "about 2.5 quarts"
    assert aligned.origin(7, 8) == (6, 20)
    assert aligned.origin(0, len(aligned.text)) == (0, 27)
    assert aligned.rules(6, 9) == ("number",)
    assert aligned.rules(0, 5) == ()


@settings(deadline=None)  # the rules are loaded in the first run
@given(SPEECH)
def test_lexemes_stand_in_order_and_quote_the_note(text: str) -> None:
    aligned, lexemes = figures(text)
    holds(aligned)
    at, last = 0, 0
    for lex in lexemes:
        assert at <= lex.start < lex.end <= len(aligned.text)
        assert aligned.text[lex.start : lex.end].lower() == lex.text.lower()
        begin, finish = aligned.origin(lex.start, lex.end)
        assert begin >= last or lex.kind == "word"  # a unit inside a number ("an inch and a quarter") shares its words
        assert begin < finish <= len(aligned.original)
        at, last = lex.end, begin


@settings(deadline=None)  # the rules are loaded in the first run
@given(SPEECH)
def test_each_quote_is_the_words_at_its_place(text: str) -> None:
    note = note_of(text)
    for fact in read(note, DAY).facts:
        words = fact.provenance
        assert words.start < words.end
        assert words.quote == note.text[words.start : words.end]


@settings(deadline=None)  # the rules are loaded in the first run
@given(SPEECH)
def test_no_number_is_lost(text: str) -> None:
    """Each figure of the note lies inside a lexeme that is a number, a code or an ordinal."""
    aligned, lexemes = figures(text)
    covered: set[int] = set()
    for lex in lexemes:
        covered.update(range(*aligned.origin(lex.start, lex.end)))
    assert all(at in covered for at, sign in enumerate(aligned.original) if sign.isdigit())
