"""The forms of a verb: "drain", "drained", "draining"; "let", "let"; "unclip", "unclipped"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from saidspec.patterns import listed, package_folder, read_folder

VOWELS = "aeiou"
PREFIX = re.compile(r"^(?:.*-|un|re|de|with|over)(?=[a-z]{2,})")  # before a verb that is inflected as it is alone
DOUBLED = re.compile(r"^[^aeiou]*[aeiou][^aeiouwxyh]$")  # one syllable with a short vowel: its last letter is doubled


@cache
def irregular_pasts() -> dict[str, tuple[str, ...]]:
    """The pasts of irregular verbs, from patterns/actions.toml."""
    files, _ = read_folder(package_folder(), "actions.toml")
    return {verb: tuple(listed(forms)) for file in files for verb, forms in file.data.get("past", {}).items()}


def inflected(verb: str) -> Iterator[tuple[str, str]]:
    """The forms of a verb with its tail: ("drained off", "past"), ("draining off", "ing"), and the base."""
    head, _, tail = verb.partition(" ")
    tail = f" {tail}" if tail else ""
    yield head + tail, "base"
    for past in _pasts(head):
        yield past + tail, "past"
    yield _stem(head) + "ing" + tail, "ing"


def _pasts(head: str) -> tuple[str, ...]:
    """The pasts of a verb; "rebuild" goes as "build" does, "test-ride" as "ride"."""
    known = irregular_pasts()
    if head in known:
        return known[head]
    before = PREFIX.match(head)
    if before and (alone := head[before.end() :]) in known:
        return tuple(before.group() + past for past in known[alone])
    if head.endswith("e"):
        return (head + "d",)
    if head.endswith("y") and head[-2] not in VOWELS:
        return (head[:-1] + "ied",)
    return (_stem(head) + "ed",)


def _stem(head: str) -> str:
    """A verb before "-ed" and "-ing": its last letter doubled or left out where it must be."""
    alone = PREFIX.sub("", head)
    if DOUBLED.match(alone) or DOUBLED.match(head):
        return head + head[-1]
    return head[:-1] if head.endswith("e") and not head.endswith("ee") else head
