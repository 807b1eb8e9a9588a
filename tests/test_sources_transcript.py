"""Transcripts as JSON in the shapes that recognisers write, and lines with a time of the recording before them."""

from __future__ import annotations

import json
from typing import Any

import pytest

from saidspec.model import UnusableInput
from saidspec.sources import transcript
from saidspec.sources.read import read_text, sniff

WORDS = [
    {"word": " plug", "start": 0.4, "end": 0.8, "probability": 0.9},
    {"word": " 34", "start": 0.8, "end": 1.2, "probability": 0.4},
]
OWN = {
    "segments": [
        {"start": 0.4, "end": 1.2, "text": " plug 34", "words": WORDS},
        {"start": 2, "end": 3.5, "text": " done."},
    ]
}
TOKENS = {
    "transcription": [
        {
            "offsets": {"from": 400, "to": 1200},
            "timestamps": {"from": "00:00:00,400", "to": "00:00:01,200"},
            "text": " plug 34",
            "tokens": [
                {"text": "[_BEG_]", "offsets": {"from": 0, "to": 0}, "p": 0.99},
                {"text": " pl", "offsets": {"from": 400, "to": 600}, "p": 0.95},
                {"text": "ug", "offsets": {"from": 600, "to": 800}, "p": 0.9},
                {"text": " 34", "offsets": {"from": 800, "to": 1200}, "p": 0.4},
            ],
        },
        {"timestamps": {"from": "00:00:02,000", "to": "00:00:03,500"}, "text": " done."},
    ]
}
SHAPES: dict[str, Any] = {
    "segments": OWN,
    "a list of segments": OWN["segments"],
    "tokens in milliseconds": TOKENS,
    "chunks": {
        "chunks": [
            {"timestamp": [0.4, 1.2], "text": "plug 34", "words": WORDS},
            {"timestamp": [2, 3.5], "text": "done."},
        ]
    },
    "score": {
        "segments": [
            {
                "start": 0.4,
                "end": 1.2,
                "text": "plug 34",
                "words": [
                    {"word": "plug", "start": "0.4", "end": "0.8", "score": 0.9},
                    {"word": "34", "start": 0.8, "end": 1.2, "score": 0.4},
                ],
            },
            {"start": 2, "end": 3.5, "text": "done."},
        ]
    },
}


@pytest.mark.parametrize("shape", SHAPES)
def test_shapes(shape: str) -> None:
    note = read_text(json.dumps(SHAPES[shape]).encode(), "memo.json")
    assert note.source.format == "transcript"
    assert note.text == "plug 34\ndone."
    assert note.problems == ()
    assert [(note.text[one.start : one.end], one.time, one.time_end) for one in note.utterances] == [
        ("plug 34", 0.4, 1.2), ("done.", 2.0, 3.5)]  # fmt: skip
    words = note.utterances[0].words
    assert [(note.text[one.start : one.end], one.time, one.time_end, one.probability) for one in words] == [
        ("plug", 0.4, 0.8, 0.9), ("34", 0.8, 1.2, 0.4)]  # fmt: skip
    assert note.utterances[1].words == ()


def test_words_alone() -> None:
    result = [
        {"word": "plug", "start": 0.4, "end": 0.8, "conf": 1.0},
        {"word": "thirty", "start": 0.8, "end": 1.0, "conf": 0.6},
    ]
    content = transcript.read({"text": "plug thirty", "result": result}, "memo.json")
    [one] = content.utterances
    assert (one.time, one.time_end) == (0.4, 1.0)
    assert [word.probability for word in one.words] == [1.0, 0.6]


def test_what_is_wrong_in_one_segment_is_told_and_the_rest_is_read() -> None:
    segments = [
        {"start": 1, "end": 2},
        "text",
        {"text": "plug 34", "start": -1, "end": "x"},
        {"start": 5, "end": 6, "text": "ok", "words": [{"word": "never", "start": 5, "end": 6}]},
    ]
    content = transcript.read({"segments": segments}, "memo.json")
    assert content.text == "plug 34\nok"
    assert [one.time for one in content.utterances] == [None, 5.0]
    assert len(content.problems) == 4


@pytest.mark.parametrize(
    ("data", "told"),
    [
        ('{"segments": [{"start": 0, "te', "no complete JSON: line 1"),
        ('{"torque": 34}', "is JSON but no transcript"),
        ("[]", "is JSON but no transcript"),
        ("[" * 100_000, "nested too deep"),
        ('{"segments": []}', "holds no words"),
        ('{"segments": [{"start": NaN, "end": 1, "text": "  "}]}', "holds no words"),
    ],
)
def test_json_that_is_no_transcript_is_refused(data: str, told: str) -> None:
    with pytest.raises(UnusableInput, match=told):
        read_text(data.encode(), "memo.json")


def test_lines_with_times() -> None:
    text = "[00:00.000 --> 00:04.500]  plug is 34\n[00:04.500 --> 00:09.000]  filter 25\nby hand first\n"
    assert sniff(text, "memo.txt") == "stamped"
    note = read_text(text.encode(), "memo.txt")
    assert [(one.time, one.time_end, note.text[one.start : one.end]) for one in note.utterances] == [
        (0.0, 4.5, "plug is 34"), (4.5, 9.0, "filter 25\nby hand first")]  # fmt: skip
