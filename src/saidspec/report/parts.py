"""Which components are the same part: a component of a sheet ("brake fluid") against one as said ("front brake fluid").

This only groups what the record holds, and every report shows the components as said; the comparison of values with
the sheet is the reconciler's.
"""

from __future__ import annotations

from functools import lru_cache

SMALL_WORDS = frozenset({"the", "a", "an", "of", "on", "for", "and", "set", "kit", "assembly"})


@lru_cache(maxsize=20_000)
def words(component: str) -> tuple[str, ...]:
    """The words of a component that tell it from others, singular: "front brake pads" -> front, brake, pad."""
    told = (word.strip("'\".,") for word in component.lower().replace("-", " ").split())
    return tuple(singular(word) for word in told if word and word not in SMALL_WORDS)


def singular(word: str) -> str:
    """An English plural of the trade in the singular: pads, bushes, batteries; "brass", "bus" and "gas" stay."""
    if len(word) < 4 or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    return word[:-2] if word.endswith(("shes", "ches", "xes", "sses")) else word[:-1]


def is_about(said: str | None, wanted: str) -> bool:
    """Whether `said` names the part `wanted` or one particular of it: same last word, and all words of `wanted`.

    "engine oil" is about "oil", and "front left brake pad" about "brake pad"; "oil filter" is not about "oil".
    """
    if not said:
        return False
    have, need = words(said), words(wanted)
    return bool(need) and have[-1:] == need[-1:] and set(need) <= set(have)


def touches(said: str | None, wanted: str) -> bool:
    """Whether all words of `wanted` are in `said`, whatever it ends in: "caliper bracket bolt" touches "caliper"."""
    return bool(said) and bool(words(wanted)) and set(words(wanted)) <= set(words(said or ""))
