"""Transcripts that recognisers write as JSON: segments, and words with start, end and probability.

Shapes read: an object with `segments` (or `transcription`, `chunks`, `utterances`), a bare list of segments, and a
bare list of words under `result`.  Times are seconds, or milliseconds under `offsets`.  The note's text is the
segments' text, one a line.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import Any

from saidspec.model import Problem, UnusableInput, Utterance, Word
from saidspec.sources.captions import seconds
from saidspec.sources.content import Content

_LISTS = ("segments", "transcription", "chunks", "utterances")
_TEXTS = ("text", "transcript", "sentence")
_WORDS = ("words", "tokens", "result")
_SPELLED = ("word", "text", "punctuated_word", "token")
_SURE = ("probability", "confidence", "score", "conf", "p")


@dataclass(frozen=True, slots=True)
class _Token:
    """A word of the transcript as written, blanks before it included, and its times."""

    text: str
    time: float | None
    time_end: float | None
    probability: float | None


def load(text: str, name: str) -> Any:
    """The JSON value of a text.  Raises UnusableInput with the place where it is none."""
    try:
        return json.loads(text)
    except json.JSONDecodeError as bad:
        raise UnusableInput(f"{name} is no complete JSON: line {bad.lineno}, column {bad.colno}: {bad.msg}") from bad
    except RecursionError as bad:
        raise UnusableInput(f"{name} is JSON nested too deep to be a transcript") from bad


def read(value: Any, name: str) -> Content:
    """The utterances of a transcript, one a segment, with the recogniser's words."""
    problems: list[Problem] = []
    parts: list[str] = []
    said: list[Utterance] = []
    length = 0
    for number, segment in enumerate(_segments(value, name), start=1):
        words, spoken = _spoken(segment)
        if spoken is None:
            what = f"segment {number} holds no text and is left out: {str(segment)[:60]}"
            problems.append(Problem(what, length, length))
            continue
        if not spoken:
            continue
        start = length + 1 if parts else 0
        begins, ends = _times(segment)
        if begins is None and words:
            begins, ends = words[0].time, words[-1].time_end
        if begins is None:
            problems.append(Problem(f"segment {number} has no time that can be read", start, start + len(spoken)))
        placed, lost = _place(words, spoken, start)
        if lost:
            what = f"segment {number}: {lost} of its words are not in its text"
            problems.append(Problem(what, start, start + len(spoken)))
        speaker = segment.get("speaker") if isinstance(segment, dict) else None
        said.append(Utterance(start, start + len(spoken), time=begins, time_end=ends, words=placed,
                              speaker=speaker if isinstance(speaker, str) else None))  # fmt: skip
        parts.append(spoken)
        length = start + len(spoken)
    return Content("\n".join(parts), tuple(said), tuple(problems))


def _segments(value: Any, name: str) -> list[Any]:
    """The list of segments.  Raises UnusableInput where the value is no transcript."""
    if isinstance(value, dict):
        for key in _LISTS:
            if isinstance(value.get(key), list):
                return list(value[key])
        if isinstance(value.get("result"), list) or isinstance(value.get("text"), str):
            return [value]
        if isinstance(value.get("result"), dict):
            return _segments(value["result"], name)
    if isinstance(value, list) and any(isinstance(one, dict) and _text(one) is not None for one in value):
        return value
    raise UnusableInput(f'{name} is JSON but no transcript: expected {{"segments": [{{"start", "end", "text"}}]}}')


def _text(segment: dict[str, Any]) -> str | None:
    return next((segment[key] for key in _TEXTS if isinstance(segment.get(key), str)), None)


def _spoken(segment: Any) -> tuple[list[_Token], str | None]:
    """The words of a segment and its text, stripped; the text of its words where it has none of its own."""
    if not isinstance(segment, dict):
        return [], None
    listed: list[Any] = next((segment[key] for key in _WORDS if isinstance(segment.get(key), list)), [])
    words = _merged([_token(one) for one in listed if isinstance(one, dict)])
    text = _text(segment)
    if text is None and words:
        text = " ".join(word.text.strip() for word in words)
    return words, text.strip() if text is not None else None


def _token(word: dict[str, Any]) -> _Token:
    spelled = next((word[key] for key in _SPELLED if isinstance(word.get(key), str)), "")
    sure = next((number for key in _SURE if (number := _number(word.get(key))) is not None), None)
    begins, ends = _times(word)
    return _Token(spelled, begins, ends, sure if sure is not None and 0 <= sure <= 1 else None)


def _merged(tokens: list[_Token]) -> list[_Token]:
    """Whole words: where some tokens begin with a blank, those without one belong to the word before."""
    tokens = [one for one in tokens if one.text.strip() and not one.text.strip().startswith(("[_", "<|"))]
    if not any(one.text[0] == " " for one in tokens[1:]):
        return tokens
    words: list[_Token] = []
    for one in tokens:
        if words and not one.text[0].isspace():
            former = words[-1]
            sure = [number for number in (former.probability, one.probability) if number is not None]
            words[-1] = _Token(former.text + one.text, former.time, one.time_end or former.time_end,
                               min(sure) if sure else None)  # fmt: skip
        else:
            words.append(one)
    return words


def _times(value: Any) -> tuple[float | None, float | None]:
    """Start and end in seconds of a segment or a word."""
    if not isinstance(value, dict):
        return None, None
    offsets, stamps, pair = value.get("offsets"), value.get("timestamps"), value.get("timestamp")
    if isinstance(offsets, dict):
        begins, ends = _number(offsets.get("from")), _number(offsets.get("to"))
        return (begins / 1000 if begins is not None else None), (ends / 1000 if ends is not None else None)
    if isinstance(stamps, dict):
        return _seconds(stamps.get("from")), _seconds(stamps.get("to"))
    if isinstance(pair, list) and len(pair) == 2:
        return _number(pair[0]), _number(pair[1])
    return _seconds(value.get("start")), _seconds(value.get("end"))


def _seconds(value: Any) -> float | None:
    return seconds(value) if isinstance(value, str) and ":" in value else _number(value)


def _number(value: Any) -> float | None:
    """A JSON number, or one written as a string, that is finite and not below zero."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        number = float(value)
    except (ValueError, OverflowError):
        return None
    return number if math.isfinite(number) and number >= 0 else None


def _place(words: list[_Token], text: str, offset: int) -> tuple[tuple[Word, ...], int]:
    """The words with their characters in the note, in order, and how many could not be found in the text."""
    placed: list[Word] = []
    lost = cursor = 0
    for word in words:
        spelled = word.text.strip()
        found = text.find(spelled, cursor)
        if found < 0 or text[cursor:found].count(" ") > 8 or word.time is None:
            lost += found < 0
            continue
        cursor = found + len(spelled)
        ends = word.time_end if word.time_end is not None else word.time
        placed.append(Word(offset + found, offset + cursor, word.time, ends, word.probability))
    return tuple(placed), lost
