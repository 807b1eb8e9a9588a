"""What holds of the reading of any text: quotes, places, ids, replacements, values of the contract, no number lost.

The texts are put together at random from the development phrases, as plain lines, captions, chats and markdown, with
marks, blanks, signs of other scripts and rubbish between them.  They are nonsense; their readings must be sound.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from saidspec import pipeline
from saidspec.model import ACTIONS, ASSERTIONS, KINDS, Fact, Note, Reading, UnusableInput
from saidspec.sources.read import read_text
from tests.number_places import wrongly_accounted
from tests.phrase_corpus import DAY, ROLES, UNITS, load

PHRASES = sorted({phrase.text for phrase in load()})
WORDS = sorted({word for phrase in PHRASES for word in phrase.split()})
LINKS = ["no wait", "sorry", "same on the other side", "and", "the book says", "I think", "earlier I said", "both",
         "scratch that", "that one", "it's", "12", "3.5", "½", "٣", "²", "M8", "½\"", "number two", "next week", "at",
         "each", "-"]  # fmt: skip
SIGNS = ["🔧", "\u05e2\u05e9\u05e8", "\u0645\u0641\u0643 \u0661\u0662", "é", "\u200b", "\u202e", "\ufdfd", "¼", "①",
         "Ⅷ",
         "名前", "ﬁ", "İ", "ß", "\u0301", "€", "°C", "µ", "\ufeff", "\x0b", "\x1b"]  # fmt: skip
JOINTS = [" ", " ", ". ", ", ", "; ", " - ", "... ", " — ", "? ", "!", ": ", "", "\n", "\r\n", "\n\n", "\t", "\u00a0",
          "\u2028", "\r", "(", ") "]  # fmt: skip
# Blanks that the reader of plain lines takes for words; alone on a line they are a fault of their own, tested below.
BLANKS = "\x1c\x1d\x1e\x1f\x85\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u200a\u205f"
SIGN = st.characters(exclude_categories=["Cs"], exclude_characters="\x00" + BLANKS)
ODD = st.text(SIGN, min_size=1, max_size=12)
JUMBLE = st.lists(st.sampled_from(WORDS), min_size=2, max_size=12).map(" ".join)
PIECES = st.one_of(*[st.sampled_from(PHRASES)] * 4, JUMBLE, st.sampled_from(LINKS), st.sampled_from(SIGNS), ODD)
# Beyond what a quantity may be made of, the units that are read and that the corpora have no phrase for.
MORE_UNITS = {"turn", "inHg"}

# The rules are loaded in the first run, and other work may share the machine: no deadline.
BOUNDED = settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def as_lines(pieces: list[tuple[str, str]]) -> str:
    return "".join(piece + joint for piece, joint in pieces)


def as_subrip(pieces: list[tuple[str, str]]) -> str:
    return "\n".join(f"{number}\n00:00:{number:02},000 --> 00:00:{number:02},900\n{one_line(piece)}\n"
                     for number, (piece, _) in enumerate(pieces, 1))  # fmt: skip


def as_webvtt(pieces: list[tuple[str, str]]) -> str:
    return "WEBVTT\n\n" + "\n".join(f"00:{number:02}.000 --> 00:{number:02}.900\n{one_line(piece)}\n"
                                    for number, (piece, _) in enumerate(pieces, 1))  # fmt: skip


def as_chat(pieces: list[tuple[str, str]]) -> str:
    return "\n".join(f"[2026-05-09, 09:{number:02}] {'Pim' if number % 3 else 'Odo'}: {one_line(piece)}"
                     for number, (piece, _) in enumerate(pieces, 1))  # fmt: skip


def as_markdown(pieces: list[tuple[str, str]]) -> str:
    marks = ["- ", "# ", "* [ ] ", "> ", "1. ", ""]
    return "# Bench\n\n" + "\n".join(marks[number % 6] + one_line(piece) for number, (piece, _) in enumerate(pieces))


def one_line(text: str) -> str:
    return " ".join(text.split())


SHAPES: list[Callable[[list[tuple[str, str]]], str]] = [
    as_lines, as_lines, as_lines, as_subrip, as_webvtt, as_chat, as_markdown]  # fmt: skip
PARTS = st.lists(st.tuples(PIECES, st.sampled_from(JOINTS)), min_size=1, max_size=9)
TEXTS = st.tuples(st.sampled_from(SHAPES), PARTS).map(lambda made: made[0](made[1]))


def note_of(text: str, name: str = "said.txt") -> Note:
    """The note, where the text holds any words; an example without is left out."""
    try:
        return read_text(text.encode(), name, day=DAY)
    except UnusableInput:
        assume(False)
        raise


def reading_of(text: str) -> Reading:
    return pipeline.read(note_of(text), DAY)


@BOUNDED
@given(TEXTS)
def test_quotes_are_the_words_at_their_places(text: str) -> None:
    reading = reading_of(text)
    for fact in reading.facts:
        words = fact.provenance
        assert 0 <= words.start < words.end <= len(reading.note.text)
        assert words.quote == reading.note.text[words.start : words.end]
    for left in (*reading.unclaimed, *reading.known):
        assert 0 <= left.start < left.end <= len(reading.note.text)
        assert left.quote == reading.note.text[left.start : left.end]


@BOUNDED
@given(TEXTS)
def test_ids_count_from_one_and_replacements_exist(text: str) -> None:
    facts = reading_of(text).facts
    assert [fact.id for fact in facts] == list(range(1, len(facts) + 1))
    for fact in facts:
        if fact.replaced_by is not None:
            assert fact.assertion == "retracted"
            assert fact.replaced_by != fact.id
            new = facts[fact.replaced_by - 1]
            assert new.kind == fact.kind


def outside_the_contract(fact: Fact) -> Iterator[str]:
    """What of a fact is no value of the output contract."""
    if fact.kind not in KINDS:
        yield f"kind {fact.kind}"
    if fact.assertion not in ASSERTIONS:
        yield f"assertion {fact.assertion}"
    if fact.action is not None and fact.action not in ACTIONS:
        yield f"action {fact.action}"
    if fact.role is not None and fact.role not in ROLES.get(fact.kind, "").split(", "):
        yield f"role {fact.role} of a {fact.kind}"
    if fact.unit is not None and fact.unit not in UNITS | MORE_UNITS:
        yield f"unit {fact.unit}"
    if not 0 <= fact.provenance.confidence <= 1 or not fact.provenance.rule:
        yield f"confidence {fact.provenance.confidence}, rule {fact.provenance.rule!r}"
    if fact.value_high is not None and (fact.value is None or fact.value_high < fact.value):
        yield f"range {fact.value} to {fact.value_high}"
    if any(number is not None and not number.is_finite() for number in (fact.value, fact.value_high, fact.angle)):
        yield f"number {fact.value} {fact.value_high} {fact.angle}"
    if fact.kind in NEEDS_CODE and not fact.code:
        yield f"a {fact.kind} without a code"
    if fact.kind == "cost" and (fact.unit is not None or fact.value is None):
        yield f"cost of {fact.value} {fact.unit}"
    if (fact.kind == "operation" and fact.action is None) or (fact.kind == "observation" and not fact.finding):
        yield f"a {fact.kind} that says nothing"


NEEDS_CODE = {"part_number", "fluid", "date", "trouble_code", "material"}


@BOUNDED
@given(TEXTS)
def test_values_are_those_of_the_contract(text: str) -> None:
    assert [fault for fact in reading_of(text).facts for fault in outside_the_contract(fact)] == []


def test_outside_the_contract_sees_what_is() -> None:
    (fact,) = reading_of("drain plug got 30 newton metres").facts
    assert list(outside_the_contract(fact)) == []
    spoilt = fact.but(role="added", unit="Nm", value_high=Decimal(3), assertion="sure")
    assert len(list(outside_the_contract(spoilt))) == 4


@BOUNDED
@given(TEXTS)
@example("my brother's van takes 8.5 quarts, mine took 5.2 quarts of oil")
@example("the drain plug is 30 newton metres. 30 newton metres for the drain plug")
@example("ring me on 555 0142 at half past four about the 4 wheel drive")
def test_no_number_is_lost_silently(text: str) -> None:
    note = note_of(text)
    assert wrongly_accounted(pipeline.read(note, DAY)) == []


@BOUNDED
@given(TEXTS)
def test_reading_is_deterministic(text: str) -> None:
    assert reading_of(text) == reading_of(text)


@BOUNDED
@given(PARTS, PARTS)
def test_no_fact_spans_two_notes(one: list[tuple[str, str]], other: list[tuple[str, str]]) -> None:
    first, second = as_lines(one).rstrip(), as_lines(other).lstrip()
    assume(first.strip() and second.strip())
    note = note_of(f"{first}\n\n{second}")
    assume(note.source.format in ("text", "markdown"))  # an empty line within a chat or a caption file parts no notes
    join = len(first)
    for fact in pipeline.read(note, DAY).facts:
        words = fact.provenance
        if words.rule == "correction.recall":
            continue  # a known fault, tested below
        assert words.end <= join + 2 or words.start >= join, words.quote


WEIRD = {
    "ten thousand figures": "torque was " + "7" * 10_000,
    "a run of numbers": "12 " * 150,
    "a run of number words": "twenty five " * 100,
    "ten thousand letters": "a" * 10_000,
    "only marks": "... , ; -- !! ?? 1",
    "marks without words": "?!?!. 5",
    "a point and a figure": ".5.5.5.5",
    "right to left": "\u05d4\u05d1\u05e8\u05d2\u05d9\u05dd 12 \u05de\u05de, \u202e30 newton metres\u202c",
    "emoji": "🔩🔩 bolts got 🔧 30 newton metres 👍🏽 no wait 35",
    "combining signs": "bo\u0301lts to 3\u03050 newton metres",
    "other digits": "bolts got ٣٠ newton metres, ३५ on the others, 12 mm",
    "corrections alone": "no wait no sorry no no no scratch that I mean",
    "back references alone": "same again, same on the other side, ditto, both",
    "cues alone": "the book says the book says I think probably not gonna",
    "an open range": "between 30 and",
    "nought": "gap is 0 mm over 0 thou, 0/0, 0 to 0",
    "a fraction by nought": "3/0 inch socket and 1/2/3 and 5 0/8 inch",
    "exponents": "1e400 newton metres and 1e-400 mm",
    "years out of range": "due 2026-13-45 and 0000-00-00 and the 31st of february 9999",
    "huge dates": "in 99999999 weeks, 999999999 years ago, since 10000",
    "one word": "bolt",
    "one figure": "7",
    "a stop behind each word": "The. drain. plug. got. 30. newton. metres.",
    "no blanks": "drainplug30newtonmetresnowait35",
    "a figure behind a grade": "0W0 .0 and 10W40 .5 litres",
    "a stop behind a decimal": "was 5.5. 2 quarts more",
}


@pytest.mark.parametrize("text", WEIRD.values(), ids=WEIRD.keys())
def test_strange_texts_are_read(text: str) -> None:
    note = note_of(text)
    reading = pipeline.read(note, DAY)
    assert all(
        words.quote == note.text[words.start : words.end] for words in (fact.provenance for fact in reading.facts)
    )
    assert [fault for fact in reading.facts for fault in outside_the_contract(fact)] == []
    assert wrongly_accounted(reading) == []


LONG_LINE = "15 mm for the slide pin bolts and an 18 mm open ended to hold the pin"


@pytest.mark.parametrize("blank", ["\u2003", "\x85"])
def test_a_line_of_an_unusual_blank_in_a_wrapped_text(blank: str) -> None:
    assert reading_of(f"{LONG_LINE}\n{blank}").facts


def test_a_recall_stays_in_its_paragraph() -> None:
    said = "Fill plug 25 newton metres. Earlier I said 25 for the fill plug, it's 35 newton metres"
    facts = reading_of(f"{said}\n\n# Caliper bolts\n\n- cleaned").facts
    assert all(fact.provenance.end <= len(said) or fact.provenance.start >= len(said) for fact in facts)


def test_a_share_has_the_role_of_a_quantity() -> None:
    assert [fault for fact in reading_of("charge is at 80 %").facts for fault in outside_the_contract(fact)] == []


ANYTHING = st.text(SIGN, max_size=300)


@BOUNDED
@given(ANYTHING, st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_any_text_is_read_on_any_day(text: str, day: date) -> None:
    reading = pipeline.read(note_of(text), day)
    assert reading.note.date == day
    assert len({fact.id for fact in reading.facts}) == len(reading.facts)


@pytest.mark.parametrize(("text", "day"), [("check it in three weeks", date(9999, 12, 31)),
                                           ("bought last weekend", date(1, 1, 1))])  # fmt: skip
def test_days_at_the_end_of_the_calendar(text: str, day: date) -> None:
    assert pipeline.read(note_of(text), day).note.date == day
