"""Trade words that a recogniser got wrong, put right where their context says so.  The data is patterns/mishearings."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from saidspec.normalise.aligned import Edit
from saidspec.normalise.tokens import Token
from saidspec.normalise.words import normal_form
from saidspec.patterns import listed


@dataclass(frozen=True, slots=True)
class Mishearing:
    """One misheard form: normal forms of the words heard, the words meant, and the context in which it holds."""

    id: str
    heard: tuple[str, ...]
    meant: tuple[str, ...]
    cost: Decimal
    before: frozenset[str] = frozenset()
    after: frozenset[str] = frozenset()
    near: frozenset[str] = frozenset()
    before_unit: bool = False
    before_number: bool = False
    after_number: bool = False


def mishearings(entries: Iterable[dict[str, Any]]) -> dict[str, list[Mishearing]]:
    """The entries of rule files as mishearings by their first word, longest first."""
    table: dict[str, list[Mishearing]] = {}
    for entry in entries:
        words = {key: frozenset(normal_form(word) for word in listed(entry.get(key))) for key in
                 ("before", "after", "near")}
        for form in listed(entry["heard"]):
            heard = tuple(normal_form(word) for word in form.replace("-", " ").replace("'s", " 's").split())
            table.setdefault(heard[0], []).append(Mishearing(
                f"mishearing.{entry['id']}", heard, tuple(entry["meant"].split()), Decimal(str(entry.get("cost", 0.1))),
                **words, before_unit=bool(entry.get("before_unit")), before_number=bool(entry.get("before_number")),
                after_number=bool(entry.get("after_number"))))
    for forms in table.values():
        forms.sort(key=lambda form: -len(form.heard))
    return table


def corrections(toks: list[Token], table: dict[str, list[Mishearing]], is_unit: Callable[[str], bool],
                is_number: Callable[[str], bool]) -> list[Edit]:
    """The edits that put misheard words right, in order.  Only the words that differ are edited where they pair up."""
    edits: list[Edit] = []
    normal = [normal_form(token.lower) for token in toks]
    end = 0
    for at, word in enumerate(normal):
        if word not in table or at < end:
            continue
        form = next((form for form in table[word] if _holds(form, toks, normal, at, is_unit, is_number)), None)
        if form is not None:
            edits += _edits(form, toks, normal, at)
            end = at + len(form.heard)
    return edits


def _holds(form: Mishearing, toks: list[Token], normal: list[str], at: int, is_unit: Callable[[str], bool],
           is_number: Callable[[str], bool]) -> bool:
    end = at + len(form.heard)
    if tuple(normal[at:end]) != form.heard:
        return False
    after = normal[end] if end < len(normal) else ""
    prior = normal[at - 1] if at else ""
    numeric = bool(after) and (toks[end].kind == "figure" or is_number(after))
    if form.before_unit:
        known = is_unit(after) and len(after) > 1 and not (prior
            and (toks[at - 1].kind == "figure" or is_number(prior)))
        return known and prior not in ("due", "good", "ready", "down", "up", "time", "over")
    if form.before_number:
        return numeric and (not form.near or bool(form.near & set(normal[max(0, at - 8) : end + 8])))
    if form.after_number:
        return bool(prior) and (toks[at - 1].kind == "figure" or is_number(prior))
    if form.before and form.near:
        return after in form.before and bool(form.near & set(normal[max(0, at - 8) : end + 8]))
    if form.before:
        return after in form.before
    if form.after:
        return prior in form.after
    return not form.near or bool(form.near & set(normal[max(0, at - 8) : end + 8]))


def _edits(form: Mishearing, toks: list[Token], normal: list[str], at: int) -> list[Edit]:
    if len(form.heard) == len(form.meant):
        pairs = zip(range(at, at + len(form.heard)), form.meant, strict=True)
        return [Edit(toks[i].start, toks[i].end, meant, form.id) for i, meant in pairs
            if normal[i] != normal_form(meant)]
    last = at + len(form.heard) - 1
    return [Edit(toks[at].start, toks[last].end, " ".join(form.meant), form.id)]
