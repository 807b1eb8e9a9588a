"""Values of options that several commands share, checked the same way."""

from __future__ import annotations

from datetime import date

from saidspec.model import UnusableInput


def day_of(text: str | None, option: str = "--date") -> date | None:
    """A day given as YYYY-MM-DD."""
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise UnusableInput(f"{option} {text!r} is no day; write it as YYYY-MM-DD, for example 2026-05-03") from None


def one_of(option: str, value: str, choices: tuple[str, ...]) -> str:
    """A value that must be one of a few."""
    if value not in choices:
        raise UnusableInput(f"{option} {value!r} is not known; write one of {', '.join(choices)}")
    return value
