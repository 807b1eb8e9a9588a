"""WebVTT and SubRip: cues with their times and places, markup, broken cues, captions that roll up.

The oracle for well-formed captions is webvtt-py.
"""

from __future__ import annotations

import io
from itertools import pairwise

import pytest
import webvtt as oracle
from hypothesis import given, settings
from hypothesis import strategies as st

from saidspec.sources import subrip, webvtt
from saidspec.sources.captions import seconds, shown
from saidspec.sources.content import Content


def said(content: Content) -> list[tuple[float | None, str]]:
    return [(one.time, content.text[one.start : one.end]) for one in content.utterances]


VTT = """WEBVTT - bench camera
Kind: captions

STYLE
::cue { color: white }

NOTE
not said: 99

1
00:01.000 --> 00:04.000 align:start position:0%
Left wheel first.
The nut was loose.

00:00:04.000 --> 00:00:08.500
<v Ann Bell>Torque is <i>25</i> &nbsp;newton metres.</v>
"""


def test_webvtt_blocks_settings_voices_and_markup() -> None:
    content = webvtt.read(VTT)
    assert content.problems == ()
    assert said(content) == [
        (1.0, "Left wheel first.\nThe nut was loose."), (4.0, "Torque is"), (4.0, "25"), (4.0, "newton metres."),
    ]  # fmt: skip
    assert [one.speaker for one in content.utterances] == [None, "Ann Bell", "Ann Bell", "Ann Bell"]
    assert [one.continues for one in content.utterances] == [False, False, True, True]
    assert content.utterances[-1].time_end == 8.5


def test_stamps_within_a_cue_time_its_words() -> None:
    words = "plug<00:00:01.500><c> thirty</c><00:00:02.000><c> four</c>"
    content = webvtt.read(f"WEBVTT\n\n00:01.000 --> 00:03.000\n{words}\n")
    assert [(one.time, one.time_end) for one in content.utterances] == [(1.0, 1.5), (1.5, 2.0), (2.0, 3.0)]
    assert [text for _, text in said(content)] == ["plug", "thirty", "four"]


@pytest.mark.parametrize("words", ["gap < 5 mm and > 3", "a<b and c>d", "M8 {long}", "AT&T 5&6", "10 &frac12; quarts"])
def test_signs_that_are_no_markup_stay(words: str) -> None:
    assert said(webvtt.read(f"WEBVTT\n\n00:01.000 --> 00:03.000\n{words}\n")) == [(1.0, words)]


def test_two_people_in_one_caption() -> None:
    content = subrip.read("1\n00:00:01,000 --> 00:00:02,000\n- Is it 34?\n- Yes, 34.\n")
    assert [text for _, text in said(content)] == ["Is it 34?", "Yes, 34."]


BROKEN_VTT = """WEBVTT

00:01.000 --> 00:02.000
first

00:0x.000 -> 00:04.000
second 34

00:05.000 --> 00:04.000
third

some stray words

00:08.000 --> 00:09.000
last
"""


def test_a_broken_webvtt_cue_is_told_and_its_words_are_kept() -> None:
    content = webvtt.read(BROKEN_VTT)
    assert said(content) == [
        (1.0, "first"), (None, "second 34"), (5.0, "third"), (None, "some stray words"), (8.0, "last"),
    ]  # fmt: skip
    assert [problem.message.split(":")[0] for problem in content.problems] == ["line 6", "line 9", "line 12"]
    assert content.text[content.problems[0].start : content.problems[0].end] == "00:0x.000 -> 00:04.000"


BROKEN_SRT = """1
00:00:01,000 --> 00:00:02,000
first

2
00:00:0x,000 --> 00:00:04,000
second 34

3
00:00:05.5 --> 00:00:06,000  X1:40 X2:600
{\\an8}<font color="white">third</font>

still third

00:00:08,000 --> 00:00:09,000
44

5
00:00:10,000 --> 00:00:11,000
last
"""


def test_subrip_as_files_have_it() -> None:
    content = subrip.read(BROKEN_SRT.replace("\n", "\r\n"))
    assert [(time, " ".join(text.split())) for time, text in said(content)] == [
        (1.0, "first"), (None, "second 34"), (5.5, "third"), (5.5, "still third"), (8.0, "44"), (10.0, "last"),
    ]  # fmt: skip
    assert [problem.message.split(":")[0] for problem in content.problems] == ["line 6"]


# Automatic captions show the former line above the present one; a line of one blank stands where there is none.
ROLLING = """WEBVTT

00:00:00.000 --> 00:00:02.000
_
so<00:00:00.500><c> today</c>

00:00:02.000 --> 00:00:02.010
so today
_

00:00:02.010 --> 00:00:04.000
so today
the<00:00:02.500><c> plug</c>

00:00:04.000 --> 00:00:04.010
the plug
_

00:00:04.010 --> 00:00:06.000
the plug
thirty<00:00:05.000><c> four</c>
""".replace("_", " ")


def test_rolling_captions_say_each_word_once() -> None:
    content = webvtt.read(ROLLING)
    assert [text for _, text in said(content)] == ["so", "today", "the", "plug", "thirty", "four"]
    assert content.problems == ()


def test_growing_captions_say_each_word_once() -> None:
    grown = ["the", "the plug", "the plug takes", "the plug takes 34"]
    text = "".join(f"{n}\n00:00:0{n},000 --> 00:00:0{n + 1},000\n{one}\n\n" for n, one in enumerate(grown, start=1))
    assert said(subrip.read(text)) == [(1.0, "the"), (2.0, "plug"), (3.0, "takes"), (4.0, "34")]


def test_what_is_said_twice_in_captions_that_do_not_roll_is_kept() -> None:
    words = ["left side 34", "left side 34", "now the right", "done", "really done"]
    text = "".join(f"{n}\n00:00:0{n},000 --> 00:00:0{n},900\n{one}\n\n" for n, one in enumerate(words, start=1))
    assert [text for _, text in said(subrip.read(text))] == words


def test_without_a_header_captions_are_read_with_a_problem() -> None:
    content = webvtt.read("00:01.000 --> 00:02.000\nplug\n")
    assert said(content) == [(1.0, "plug")]
    assert "header" in content.problems[0].message


@pytest.mark.parametrize(
    ("stamp", "value"), [("1:02:03.450", 3723.45), ("02:03,4", 123.4), ("2:3", None), ("00:61.000", None)]
)
def test_stamps(stamp: str, value: float | None) -> None:
    assert seconds(stamp) == value


WORDS = st.lists(
    st.sampled_from(["plug", "34", "N·m,", "torqued", "it's", "½", "<i>tight</i>", "front left"]),
    min_size=1,
    max_size=4,
)
CUES = st.lists(st.lists(WORDS.map(" ".join), min_size=1, max_size=2), min_size=1, max_size=6)


def _stamp(tenths: int, comma: str) -> str:
    return f"00:{tenths // 600:02d}:{tenths // 10 % 60:02d}{comma}{tenths % 10}00"


@settings(deadline=None)
@given(CUES, st.sampled_from(["\n", "\r\n"]))
def test_well_formed_captions_agree_with_webvtt_py(cues: list[list[str]], newline: str) -> None:
    for comma, head, reader in ((".", "WEBVTT\n\n", webvtt.read), (",", "", subrip.read)):
        text = head + "\n".join(
            f"{n + 1}\n{_stamp(n * 50, comma)} --> {_stamp(n * 50 + 20, comma)}\n" + "\n".join(lines) + "\n"
            for n, lines in enumerate(cues)
        )
        read = oracle.from_string if comma == "." else lambda srt: oracle.from_buffer(io.StringIO(srt), format="srt")
        expected = [(one.start_time.in_seconds(), " ".join(shown(one.raw_text).split())) for one in read(text)]
        content = reader(text.replace("\n", newline))
        found: dict[float, list[str]] = {}
        for time, words in said(content):
            found.setdefault(time or 0.0, []).extend(words.split())
        assert [(time, " ".join(words)) for time, words in found.items()] == expected
        assert content.problems == ()
        spans = [(one.start, one.end) for one in content.utterances]
        assert all(start < end for start, end in spans)
        assert all(one[1] <= two[0] for one, two in pairwise(spans))
