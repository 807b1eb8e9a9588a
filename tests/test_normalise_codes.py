"""Codes as written and as said: designations of standards, grades of fluids, part numbers, and what is none of them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.normalise_samples import codes, numbers

ALPHABET = [
    "alpha",
    "bravo",
    "charlie",
    "delta",
    "echo",
    "foxtrot",
    "golf",
    "hotel",
    "india",
    "juliet",
    "kilo",
    "lima",
    "mike",
    "november",
    "oscar",
    "papa",
    "quebec",
    "romeo",
    "sierra",
    "tango",
    "uniform",
    "victor",
    "whiskey",
    "xray",
    "yankee",
    "zulu",
]  # ICAO Annex 10, volume II
DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]


@pytest.mark.parametrize(
    ("said", "code"),
    [
        # viscosity: SAE J300, J306; ISO 3448
        ("five-w-thirty oil", "5W-30"),
        ("five WD 30", "5W-30"),
        ("five double you thirty", "5W-30"),
        ("5 double-u 30", "5W-30"),
        ("the five W dash thirty", "5W-30"),
        ("80 W 90", "80W-90"),
        ("zero w twenty", "0W-20"),
        ("oh w twenty", "0W-20"),
        ("5w30", "5W-30"),
        ("75W/90", "75W-90"),
        ("five thirty synthetic", "5W-30"),
        ("fork oil is 10W", "10W"),
        ("ten weight oil in the forks", "10W"),
        ("SAE30", "SAE 30"),
        ("s a e thirty", "SAE 30"),
        ("thirty weight oil", "SAE 30"),
        ("ISO 46", "ISO VG 46"),
        ("iso v g forty six", "ISO VG 46"),
        ("SAE 10W-30", "10W-30"),
        # classes: FMVSS 116, API 1560, NLGI
        ("dot four", "DOT 4"),
        ("d o t five point one", "DOT 5.1"),
        ("g l five", "GL-5"),
        ("GL4", "GL-4"),
        ("n l g i two grease", "NLGI 2"),
        ("r134a", "R134a"),
        # threads: ISO 965-1, ASME B1.1
        ("m eight by one and a quarter", "M8x1.25"),
        ("M10 x 1.0", "M10x1.0"),
        ("m8 by 1.25", "M8x1.25"),
        ("M8x1,25", "M8x1.25"),
        ("m ten by one", "M10x1"),
        ("M eight with a one point two five pitch", "M8x1.25"),
        ("an M8 by 40", "M8x40"),
        ("quarter-twenty bolts", "1/4-20"),
        ("5/16-18", "5/16-18"),
        # bits: ISO 10664
        ("torx thirty", "T30"),
        ("t forty five", "T45"),
        ("E-12", "E12"),
        ("e torx 14", "E14"),
        # tyres: ISO 4000-1
        ("two twenty five sixty r seventeen", "225/60R17"),
        ("two oh five fifty five r sixteen", "205/55R16"),
        ("tyres are 225-60-17", "225/60R17"),
        ("t one twenty five seventy d sixteen", "T125/70D16"),
        ("ST205/75D15", "ST205/75D15"),
        ("15x6.00-6", "15x6.00-6"),
        ("145R12", "145R12"),
        # bolt circles, chains, lamps
        ("five by one fourteen point three", "5x114.3"),
        ("5 x 112 wheel studs", "5x112"),
        ("a five twenty chain", "520"),
        ("the chain is a 428", "428"),
        ("H7 bulb", "H7"),
        ("a 35x52x7 seal", "35x52x7"),
        # trouble codes: ISO 15031-6
        ("p zero three hundred", "P0300"),
        ("pee oh four twenty", "P0420"),
        ("p0128", "P0128"),
        # part numbers
        ("f s 4 3 dash 5 4 k 2 sets", "FS43-54K"),
        ("kd dash 3318 dash f 64 dollars", "KD-3318-F"),
        ("jx seven two four c two of them", "JX724C"),
        ("tp dash four four zero nine thirty eight bucks", "TP-4409"),
        ("part number is 44 17 093", "4417093"),
        ("part no. 4417093", "4417093"),
        ("part number for the gasket is 44-17-093", "44-17-093"),
        ("7R/118.40", "7R/118.40"),
        ("seven r slash one one eight dot four zero", "7R/118.40"),
        ("part number m twelve dash four four eight zero", "M12-4480"),
        ("cs dash 4101 dash l on the left", "CS-4101-L"),
        ("OF-33", "OF-33"),
        ("FX double seven one dash zero four", "FX771-04"),
        ("B J as in bravo juliet 0 0 7 dash 2 2", "BJ007-22"),
        ("pee vee eight one six dee", "PV816D"),
        ("are bee dash twenty four sixteen dash aitch", "RB-2416-H"),
        ("G P 1 1 8 0 four of them", "GP1180"),
        ("41-77b", "41-77B"),
        ("ordered hotel tango dash niner niner zero one", "HT-9901"),
        ("number on the box is k l 22 oh 4", "KL2204"),
    ],
)
def test_codes_as_they_are_said(said: str, code: str) -> None:
    assert [text for _, text in codes(said)] == [code]


@pytest.mark.parametrize("said", [
    "88Nm", "13-foot-pounds", "10-12mm", "1.6l", "35psi", "about 45-ish", "a 12-point socket", "a 100 psi gauge",
        "3 x 10 mm bolts", "the number is 130 newton meters",
    "5W bulb", "a 2.0 engine", "50/50 mix", "call 555-0142", "we are at 50", "see 40 mm", "you 12 mm", "4 x 100",
        "v 8 engine",
])  # fmt: skip
def test_what_is_no_code(said: str) -> None:
    assert codes(said) == []


@pytest.mark.parametrize(
    ("said", "code", "left"),
    [
        ("ten w forty two quarts of it", "10W-40", ["2"]),
        ("f s 4 3 dash 5 4 k 2 sets", "FS43-54K", ["2"]),
        ("kd dash 3318 dash f 64 dollars", "KD-3318-F", ["64"]),
        ("c f eight eight one zero thirteen forty nine", "CF8810", ["13", "49"]),
    ],
)
def test_a_code_leaves_the_number_behind_it(said: str, code: str, left: list[str]) -> None:
    assert [text for _, text in codes(said)] == [code]
    assert numbers(said) == left


LETTERS = st.text(alphabet="BCDFGHJKLNQRSVXYZ", min_size=2, max_size=2)  # no letter that begins a designation


@settings(deadline=None)
@given(LETTERS, st.text(alphabet="0123456789", min_size=3, max_size=4), LETTERS.map(lambda text: text[:1]))
def test_part_numbers_spelled_in_the_alphabet(head: str, figures: str, tail: str) -> None:
    """Letters by the radiotelephony alphabet, figures one by one, dashes said."""
    letters = [next(word for word in ALPHABET if word[0] == letter.lower()) for letter in head]
    last = next(word for word in ALPHABET if word[0] == tail.lower())
    said = f"fitted {' '.join(letters)} dash {' '.join(DIGITS[int(figure)] for figure in figures)} dash {last} today"
    assert codes(said) == [("part", f"{head}-{figures}-{tail}")]


@settings(deadline=None)
@given(LETTERS, st.integers(1000, 9999), LETTERS.map(lambda text: text[:1]))
def test_part_numbers_written(head: str, figures: int, tail: str) -> None:
    assert codes(f"new one is {head}-{figures}-{tail}, fits") == [("part", f"{head}-{figures}-{tail}")]
    assert codes(f"new one is {head.lower()}-{figures}-{tail.lower()} and fits") == [
        ("part", f"{head}-{figures}-{tail}")
    ]


@pytest.mark.parametrize("text", [
    "ninth of november twenty twenty four", "9 november twenty twenty four", "done in november 2023",
    "last november twenty two bolts snapped", "fitted november, 2021", "november of 2019",
])  # fmt: skip
def test_the_month_is_no_letter(text: str) -> None:
    assert [kind for kind, _ in codes(text) if kind == "part"] == []


@pytest.mark.parametrize("text", ["part number november twenty twenty four", "november seven seven one two",
                                  "it is november 4471 dash papa"])  # fmt: skip
def test_the_letter_is_no_month(text: str) -> None:
    assert [kind for kind, _ in codes(text)] == ["part"]
