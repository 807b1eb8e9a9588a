"""What the values in rule files must be, by the kinds that patterns/formats.toml names, and what to write instead."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from functools import lru_cache
from typing import Any

from saidspec.model import ACTIONS
from saidspec.patterns import listed, package_folder, read_folder


def instead(word: str, known: Iterable[str]) -> str:
    """What to write for an unknown word: the nearest known one, or all of them."""
    known = list(known)
    lower = {name.lower(): name for name in reversed(known)}
    near = get_close_matches(word.lower(), lower, n=1, cutoff=0.6)
    return f"write {lower[near[0]]!r}" if near else f"known are {', '.join(known)}"


def sample(kind: str) -> str:
    """How a value of a kind looks."""
    kind = kind.removesuffix(", needed")
    several = dict.fromkeys(("forms", "words", "verbs"), '"one, another"')
    named = {**several, "number": "0.1", "whole": "3", "flag": "true", "picture": '"AA-9999-A"', "unit": '"N*m"',
             "dimension": '"torque"', "pairs": '"13 30, 14 40"', "action": f'"{ACTIONS[0]}"'}
    return f'"{kind.split(" | ")[0]}"' if " | " in kind else named.get(kind, '"…"')


def wrong_value(key: str, value: Any, kind: str) -> str:
    """What is wrong with a value of a kind, and what to write instead; empty where nothing is."""
    if kind == "any":
        return ""
    if kind in ("number", "whole", "flag"):
        types = {"number": (int, float), "whole": (int,), "flag": (bool,)}[kind]
        right = isinstance(value, types) and isinstance(value, bool) == (kind == "flag")
        said = {"number": "a number", "whole": "a whole number", "flag": "true or false"}[kind]
        return "" if right else f"{key} must be {said}; write {key} = {sample(kind)}"
    if kind == "texts":
        right = isinstance(value, str) or (isinstance(value, list) and all(isinstance(each, str) for each in value))
        return "" if right else f'{key} must be texts; write {key} = ["…", "…"]'
    if isinstance(value, list) and all(isinstance(each, str) for each in value):
        return f'{key} must be one text, its words parted by commas; write {key} = "{", ".join(value)}"'
    if not isinstance(value, str):
        return f"{key} must be a text; write {key} = {sample(kind)}"
    return _wrong_text(key, value, kind)


def _wrong_text(key: str, value: str, kind: str) -> str:
    if kind in ("forms", "verbs") and any("A" <= char <= "Z" for char in value):
        capitals = next(word for word in value.split() if word != word.lower()).strip(",")
        return f"{key} has capitals ({capitals}); write its words in lower case"
    if kind == "text" and not value.strip():
        return f"{key} is empty; write what it stands for"
    if kind == "pairs" and not all(re.fullmatch(r"\d+ \d+", pair) for pair in listed(value)):
        return f"{key} must be pairs of whole numbers, parted by commas; write {key} = {sample(kind)}"
    choices = tuple(kind.split(" | ")) if " | " in kind else known(kind)
    if choices and value not in choices:
        return f"{key} {value!r} is unknown; {instead(value, choices)}"
    return wrong_picture(value) if kind == "picture" else ""


@lru_cache(maxsize=8)
def known(kind: str) -> tuple[str, ...]:
    """What a value of the kind `action`, `unit` or `dimension` may be."""
    if kind == "action":
        return ACTIONS
    if kind not in ("unit", "dimension"):
        return ()
    found = next(file.data for file in read_folder(package_folder(), "units.toml")[0])
    return tuple(dict.fromkeys(entry[kind] for entry in found["unit"]))


def wrong_picture(picture: str) -> str:
    """What is wrong with the picture of a part number, and what to write instead."""
    if picture.count("(") != picture.count(")") or "()" in picture or "((" in picture:
        return f'pattern {picture!r} has brackets that do not pair; write for example "AA-9999(-A)"'
    sure = "".join(piece.partition(")")[2] if at else piece for at, piece in enumerate(picture.split("(")))
    if sum(char.isalnum() for char in sure) < 4 or not any(char.isalpha() or char in "-/." for char in sure):
        return (f"pattern {picture!r} would take common numbers for part numbers; write at least four letters "
                'and figures, with a letter or a dash among them, for example "A-9999"')
    strange = sorted({char for char in picture if not (char.isdigit() or char in "AX-/.()" or "a" <= char <= "z")})
    if not strange:
        return ""
    return (f"pattern {picture!r} holds {' '.join(strange)!r}; write A for a letter, 9 for a figure, X for either, and "
            "small letters for themselves")
