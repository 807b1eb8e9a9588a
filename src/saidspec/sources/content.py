"""What a reader of one format gives back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from saidspec.model import Problem, Utterance


@dataclass(frozen=True, slots=True)
class Content:
    """The utterances of a text, in order and without overlap, and what could not be read.

    `text` is the text that offsets count in, `date` the day that the text itself gives as its own.
    """

    text: str
    utterances: tuple[Utterance, ...]
    problems: tuple[Problem, ...] = ()
    date: date | None = None
