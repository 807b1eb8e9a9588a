"""Spans of a text found again in the edited text: only where nothing of them was changed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from saidspec.record.moved import kept

PIECES = ["oil", "plug", "at", "31", "newton", "metres", ".", "no", "wait", "\n", " "]
WORDS = st.lists(st.sampled_from(PIECES), max_size=40)


@pytest.mark.parametrize(("old", "new", "span", "found"), [
    ("plug at 31 newton metres", "The plug at 31 newton metres.", "31 newton", "31 newton"),
    ("plug at 31 newton metres", "plug at 35 newton metres", "31 newton", None),
    ("plug at 31 newton metres", "plug at 35 newton metres", "newton metres", "newton metres"),
    ("one\ntwo\nthree\n", "zero\none\nthree\ntwo and more\n", "one", "one"),
    ("oil 4 litres", "oil 4.5 litres", "4", "4"),
    ("oil 4 litres", "", "4", None),
])  # fmt: skip
def test_where_words_are_now(old: str, new: str, span: str, found: str | None) -> None:
    start = old.index(span)
    moved = kept(old, new).move(start, start + len(span))
    assert (new[slice(*moved)] if moved else None) == found


@given(WORDS, WORDS)
def test_what_is_kept_is_the_same_and_in_order(old: list[str], new: list[str]) -> None:
    one, other = "".join(old), "".join(new)
    told = kept(one, other)
    last = (0, 0)
    for start, there, length in told.blocks:
        assert length > 0
        assert one[start : start + length] == other[there : there + length]
        assert start >= last[0]
        assert there >= last[1]
        last = (start + length, there + length)
    for start in range(len(one)):
        for end in range(start + 1, min(start + 5, len(one))):
            moved = told.move(start, end)
            assert moved is None or other[slice(*moved)] == one[start:end]


@given(st.text(max_size=60))
def test_an_unchanged_text_keeps_everything(text: str) -> None:
    assert kept(text, text).characters == len(text)
    assert kept(text, text + "!").characters >= len(text) - 12
