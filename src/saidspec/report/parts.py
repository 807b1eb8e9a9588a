"""Which components are the same part: a component of a sheet ("brake disc") against one as said ("front left rotor").

Words are compared as the reconciler compares them (synonyms, spelling, positions).  This only groups what the record
holds, and every report shows the components as said; whether a value differs from the sheet is the reconciler's to say.
"""

from __future__ import annotations

import tomllib
from collections.abc import Collection
from functools import cache, lru_cache

from saidspec.model import Kind, Specification
from saidspec.patterns import listed, package_folder
from saidspec.reconcile.comparable import alike
from saidspec.reconcile.context import system_of
from saidspec.reconcile.phrase import Phrase, read_phrase
from saidspec.reconcile.vocabulary import folded, load_vocabulary

# Quantities of which less is better: a "minimum" of the sheet that names no quantity is none of theirs.
NO_LEAST = frozenset({"runout", "play", "slack", "temperature", "travel"})


@lru_cache(maxsize=20_000)
def phrase(component: str, kind: Kind = "operation") -> Phrase:
    """A component taken apart; of a measurement the name of what is measured is no part of it."""
    return read_phrase(component, kind, load_vocabulary())


def words(component: str, kind: Kind = "operation") -> frozenset[str]:
    """The words that tell a component from others, in one spelling and singular, its positions among them."""
    told = phrase(component, kind)
    return frozenset(told.order) | {name for _, name in told.positions}


@lru_cache(maxsize=100_000)
def is_about(said: str | None, wanted: str, kind: Kind = "operation") -> bool:
    """Whether `said` names the part `wanted` or one particular of it: same last word, and all words of `wanted`.

    "engine oil" is about "oil", and "front left brake pad" about "brake pad"; "oil filter" is not about "oil".  A word
    that names no part by itself (bolt, plug) must follow the same word: "caliper bracket bolt" is no "caliper bolt".
    """
    if not said:
        return False
    have, need = phrase(said, kind), phrase(wanted, kind)
    whole, part = (tuple(word for word in one.order if word not in one.modifiers) or one.order for one in (have, need))
    same = 2 if part and part[-1] in load_vocabulary().generic and len(part) > 1 else 1
    if not part or whole[-same:] != part[-same:]:
        return False
    return set(part) <= set(whole) and need.positions <= have.positions


@lru_cache(maxsize=100_000)
def may_be(one: str, other: str, kind: Kind) -> bool:
    """Whether two components may be the same part, one of them saying less: "left slide pin bolt" and the sheet's
    "front caliper slide pin bolt".
    """
    bare = [" ".join(phrase(component, kind).order) for component in (one, other)]
    return same_place(one, other) and (is_about(bare[0], bare[1], kind) or is_about(bare[1], bare[0], kind))


@lru_cache(maxsize=100_000)
def same_place(one: str, other: str) -> bool:
    """Whether two components do not lie at different ends or sides."""
    first, second = phrase(one), phrase(other)
    axes = {axis for axis, _ in first.positions} & {axis for axis, _ in second.positions}
    return all(first.along(axis) & second.along(axis) for axis in axes)


def without_places(component: str, axes: Collection[str] = ()) -> str:
    """A component without the words of its place: of the axes named, or all: "front left pad" is a "pad"."""
    places = {name for axis, name in phrase(component).positions if not axes or axis in axes}
    return " ".join(word for word in component.split() if word not in places) or component


@lru_cache(maxsize=100_000)
def touches(said: str | None, wanted: str) -> bool:
    """Whether all words of `wanted` are in `said`, whatever it ends in: "caliper bracket bolt" touches "caliper"."""
    return bool(said) and bool(words(wanted)) and words(wanted) <= words(said or "")


def without(component: str, role: str) -> str:
    """A component without the name of what is measured at its end: "chain slack" with the role slack is the chain."""
    return component.removesuffix(f" {role}") if role else component


@cache
def report_words(name: str) -> frozenset[tuple[str, ...]]:
    """A list of `patterns/reports.toml`, each phrase as folded words."""
    data = tomllib.loads((package_folder() / "reports.toml").read_text("utf-8"))
    return frozenset(folded(one) for one in listed(data[name]))


@lru_cache(maxsize=20_000)
def is_fluid(component: str) -> bool:
    """Whether a component is a fluid: "engine oil", not "oil filter"."""
    return phrase(component).order[-1:] in report_words("fluids")


@lru_cache(maxsize=20_000)
def is_small(component: str) -> bool:
    """Whether a component is a small part that any job has, and of no part that is named: "crush washer", "gasket kit";
    not "rocker cover gasket".
    """
    told = phrase(component).order
    return bool(told) and all((word,) in report_words("small_parts") for word in told)


def is_tool(material: str) -> bool:
    """Whether what a note calls a material is a tool or nothing that is bought: "wire brush", "blowtorch"."""
    told = folded(material)
    return told not in report_words("not_tools") and any(
        told[-len(end):] == end for end in report_words("tools"))  # fmt: skip


def group(role: str) -> str:
    """The quantity that a role means: slack, free play and deflection are all play."""
    return load_vocabulary().quantities.get(tuple(role.replace("-", " ").split()), role)


def same_quantity(spec: Specification, role: str) -> bool:
    """Whether a limit of the sheet is one for the quantity `role` ("thickness") of its part."""
    wanted = group(spec.role) if spec.role else phrase(spec.component, "measurement").quantity
    if wanted is None and spec.component.endswith(f" {role}"):
        return True
    said = group(role)
    if wanted is None and spec.bound == "min" and said in NO_LEAST:
        return False
    return alike(said or None, wanted)


def system(component: str) -> str | None:
    """The system that a component belongs to, as far as its words tell."""
    return system_of(phrase(component).order, load_vocabulary())
