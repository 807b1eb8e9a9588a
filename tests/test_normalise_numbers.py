"""Numbers as spoken and as recognisers write them, checked against num2words and text2num."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words
from text_to_num import text2num

from saidspec.extract.rules import load_rules
from saidspec.model import Note, Source, Utterance, Word
from saidspec.normalise.lexemes import normalised
from saidspec.normalise.speech import speech
from tests.normalise_samples import figures, numbers, plain


@settings(deadline=None)
@given(st.integers(0, 999_999))
def test_whole_numbers_as_num2words_says_them(value: int) -> None:
    """num2words 0.5.14, English cardinals: "one hundred and forty-two thousand, nine hundred and eleven"."""
    said = num2words(value).replace(",", "")
    assert numbers(f"reading {said}.") == [str(value)] or value == 1  # a lone "one" is the pronoun
    assert numbers(f"reading {said.replace(' and ', ' ')} miles") == [str(value)]


@settings(deadline=None)
@given(st.integers(0, 999), st.integers(1, 999))
def test_decimals_as_num2words_says_them(whole: int, part: int) -> None:
    """num2words 0.5.14, decimals: "twelve point zero eight"."""
    value = Decimal(f"{whole}.{part:03d}").normalize()
    assert numbers(f"it is {num2words(value)} mm") == [f"{value:f}"]


@settings(deadline=None)
@given(st.integers(2, 99_999))
def test_text2num_reads_the_same(value: int) -> None:
    """text2num 3.1.0 on the words of num2words agrees with the reading here."""
    said = num2words(value).replace(",", "")
    assert numbers(f"it was {said} miles") == [str(text2num(said, "en"))]


@settings(deadline=None)
@given(st.decimals(0, 5000, places=2, allow_nan=False))
def test_figures_stay_what_they_are(value: Decimal) -> None:
    assert numbers(f"it read {value:f} ohms") == [plain(f"{value:f}")]
    assert numbers(f"it read {value:,f} ohms") == [plain(f"{value:f}")]


@pytest.mark.parametrize(("said", "wanted"), [
    # fractions and mixed numbers
    ("two and a quarter quarts", ["2.25"]), ("1 and a 1/4 inch", ["1.25"]), ("1-1/16 inch", ["1.0625"]),
        ("1 1/8 inch", ["1.125"]),
    ("15 and three eighths inches", ["15.375"]), ("3½ turns", ["3.5"]), ("1 ½ inch", ["1.5"]), ("half a thou", ["0.5"]),
    ("two and a half thou", ["2.5"]), ("an inch and a quarter", ["1.25"]), ("inch and a half socket", ["1.5"]),
        ("four 10s", ["4", "10"]), ("a quart and a half", ["1.5"]),
    ("three quarters of a turn", ["0.75"]), ("a quarter turn", ["0.25"]), ("eight tenths of a millimetre", ["0.8"]),
    # decimals
    ("point nought five", ["0.05"]), ("five point, two quarts", ["5.2"]), ("25 .4 millimeters", ["25.4"]),
        ("added 5. 2 quarts", ["5.2"]),
    ("9,80 €", ["9.8"]), ("2,5 bar", ["2.5"]), ("set to .035", ["0.035"]), ("twelve sixty volts", ["12.6"]),
    # groups said without their hundred
    ("one-sixty inch-pounds", ["160"]), ("one fifty-one", ["151"]), ("one twenty-nine", ["129"]),
        ("one-forty foot pounds", ["140"]),
    ("two oh five", ["205"]), ("one fourteen point three", ["114.3"]), ("twenty-two fifty rpm", ["2250"]),
    ("two ten millimeter bolts", ["2", "10"]), ("three ten mil bolts", ["3", "10"]),
    # thousands
    ("ninety four two hundred on the clock", ["94200"]), ("odometer at one fifty two thousand nine forty seven",
        ["152947"]),
    ("odometer is 148 312", ["148312"]), ("87,400 and 12 miles", ["87412"]), ("odometer 87,000 412 miles", ["87412"]),
    ("112k on the clock", ["112000"]), ("one hundred twelve k miles", ["112000"]),
        ("ninety four and a half thousand miles", ["94500"]),
    ("152.947 km", ["152947"]), ("87'450 km", ["87450"]), ("two hundred thousand miles", ["200000"]),
        ("61 thousand 204 km", ["61204"]), ("it was fifty eight nine hundred then", ["58900"]),
    # one, a, a couple, a dozen
    ("added a litre of coolant", ["1"]), ("another quart went in", ["1"]), ("a couple of litres", ["2"]),
        ("a couple hundred miles", ["200"]),
    ("a dozen clips", ["12"]), ("half a dozen bolts", ["6"]), ("within a thou", ["1"]), ("one millimetre", ["1"]),
    # signs
    ("a litre bottle", ["1"]), ("out an eighth", ["0.125"]), ("set at a 32nd in", ["0.03125"]),
    ("minus 31 degrees", ["-31"]), ("18 plus or minus 2", ["18", "2"]), ("-12 °C", ["-12"]), ("10-12 mm", ["10", "12"]),
])
def test_numbers_as_they_are_said(said: str, wanted: list[str]) -> None:
    assert numbers(said) == wanted


@pytest.mark.parametrize("said", [
    "this one is loose", "one of them", "the 2nd bolt", "several hundred miles", "half shaft",
        "a quarter panel", "no one knows",
    "at that point two of us", "second gear", "the other one", "18 litre" [3:], "a few thousand",
])  # fmt: skip
def test_words_that_are_no_number(said: str) -> None:
    assert [number for number in numbers(said) if number != "2"] == []


def test_a_figure_for_ohms_with_k() -> None:
    aligned, _ = figures("coils read 8.2k ohms")
    assert "8.2 kohm" in aligned.text


def spoken(words: list[tuple[str, float, float]]) -> Note:
    """A transcript with word times: (word, from, to) in seconds."""
    text, placed = "", []
    for word, begins, ends in words:
        start = len(text) + (1 if text else 0)
        text = f"{text} {word}" if text else word
        placed.append(Word(start, len(text), begins, ends))
    return Note(Source("said.json", "0", "transcript"), text, (Utterance(0, len(text), words=tuple(placed)),))


@pytest.mark.parametrize(("pause", "wanted"), [(0.1, ["25"]), (1.2, ["20", "5"])])
def test_a_pause_parts_two_numbers(pause: float, wanted: list[str]) -> None:
    note = spoken([("torque", 0, 0.4), ("twenty", 0.5, 0.9), ("five", 0.9 + pause, 1.3 + pause)])
    _, lexemes = normalised(speech(note), load_rules().numbers)
    assert [f"{lex.value:f}" for lex in lexemes if lex.kind == "number"] == wanted


@pytest.mark.parametrize(("text", "kept"), [
    ("4.3 point three litres", ["4.3"]), ("4.0 point three", ["4", "0.3"]),
    ("4,3 point five nm", ["4.3", "0.5"]), ("5 point 3 nm", ["5.3"]),
])  # fmt: skip
def test_a_figure_with_a_point_takes_no_second_one(text: str, kept: list[str]) -> None:
    assert numbers(text) == kept


@pytest.mark.parametrize(("text", "kept"), [
    ("on 01/02/2000", ["1", "2", "2000"]), ("on 1/2/25 it went in", ["1", "2", "25"]),
    ("14.3.2024", ["14", "3", "2024"]),
    ("1.1.2000", ["1", "1", "2000"]), ("a 1/2 inch drive", ["0.5"]), ("5/8 or 3/4", ["0.625", "0.75"]),
    ("1.74 quarts", ["1.74"]), ("14.3 volts. 2024 was worse", ["14.3", "2024"]),
])  # fmt: skip
def test_the_figures_of_a_date_are_no_fraction(text: str, kept: list[str]) -> None:
    assert numbers(text) == kept
