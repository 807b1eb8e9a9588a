"""How the rule files are written (patterns/formats.toml), and what of a file is not written so.

    formats()                      the formats by file name
    usable(rule_set)               the rule set without the user's entries that cannot be used, each told as a problem

Every trouble is one line that names the file and the line, and says what to write instead.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from saidspec.model import Problem
from saidspec.patterns import RuleFile, RuleSet, package_folder, read_folder
from saidspec.rule_values import instead, sample, wrong_value
from saidspec.toml_lines import Place, lines_of

Keys = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Format:
    """The keys of a file, of its tables and of its entries, each with what its value must be."""

    name: str
    about: str
    own: bool
    keys: Keys
    tables: Mapping[str, Keys]
    entries: Mapping[str, Keys]


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that is wrong in a rule file, and what to write instead.  `place` is the entry, table or key."""

    path: Path
    line: int
    message: str
    place: Place = ()

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: {self.message}"


@lru_cache(maxsize=1)
def formats() -> dict[str, Format]:
    """The formats of patterns/formats.toml by file name."""
    data = next(file.data for file in read_folder(package_folder(), "formats.toml")[0])
    return {name: Format(name, told["about"], told.get("own", False), told.get("keys", {}), told.get("tables", {}),
                         told.get("entries", {})) for name, told in data["files"].items()}


def format_of(name: str) -> Format | None:
    """The format of a file: by its name, or by its folder."""
    return formats().get(name) or formats().get(name.rpartition("/")[0] + "/*")


def troubles(file: RuleFile) -> list[Trouble]:
    """All that is not written as the file's format says; unknown file names included."""
    own = {name: told.about for name, told in formats().items() if told.own}
    told = format_of(file.name)
    if told is None:
        return [Trouble(file.path, 1, f"no rule file is called {file.name}.toml; {instead(file.name, own)}")]
    if not told.own and not file.path.is_relative_to(package_folder()):
        return [Trouble(file.path, 1, f"{file.name}.toml holds {told.about}: the program's own, and is not read; "
                                      f"files of your own are {', '.join(own)}")]
    lines = lines_of(file.path)

    def line(place: Place) -> int:
        return next((lines[place[:size]] for size in range(len(place), 0, -1) if place[:size] in lines), 1)

    return [Trouble(file.path, line(place), message, place) for place, message in _wrong(file.data, told)]


def _other(name: str, told: Format, brackets: str) -> str:
    """What to write for an unknown table or entry: the same with the other brackets, or a known one."""
    if name in told.tables or name in told.entries:
        return f"write {brackets.format(name)}"
    return instead(name, {**told.tables, **told.entries})


def _wrong(data: dict[str, Any], told: Format) -> Iterator[tuple[Place, str]]:
    top = {key: value for key, value in data.items() if not isinstance(value, dict) and not _is_entries(value)}
    yield from _wrong_keys(top, told.keys, (), "at the top of the file", frozenset({*told.tables, *told.entries}))
    for name, value in data.items():
        if name in top:
            continue
        if isinstance(value, dict):
            keys = told.tables.get(name, told.tables.get("*"))
            if keys is None:
                yield (name,), f"[{name}] is no table of {told.name}; {_other(name, told, '[[{}]]')}"
            else:
                yield from _wrong_keys(value, keys, (name,), f"in [{name}]")
        elif name not in told.entries:
            yield (name,), f"[[{name}]] is no entry of {told.name}; {_other(name, told, '[{}]')}"
        else:
            for at, entry in enumerate(value):
                yield from _wrong_entry(entry, told, name, (name, at))


def _wrong_entry(entry: dict[str, Any], told: Format, name: str, place: Place) -> Iterator[tuple[Place, str]]:
    parts = frozenset(key.rpartition(".")[2] for key in told.entries if key.rpartition(".")[0] == name)
    own = {key: value for key, value in entry.items() if key not in parts or not _is_entries(value)}
    called = f"in [[{name}]]" + (f" {entry['id']!r}" if isinstance(entry.get("id"), str) else "")
    yield from _wrong_keys(own, told.entries[name], place, called, parts)
    for part in parts & set(entry):
        for at, each in enumerate(entry[part] if _is_entries(entry[part]) else ()):
            yield from _wrong_keys(each, told.entries[f"{name}.{part}"], (*place, part, at), f"in [[{name}.{part}]]")


def _wrong_keys(data: dict[str, Any], keys: Keys, place: Place, where: str, others: frozenset[str] = frozenset(),
                ) -> Iterator[tuple[Place, str]]:
    for key, kind in keys.items():
        if kind.endswith(", needed") and key not in data:
            yield place, f"{where} {key} is missing; write {key} = {sample(kind)}"
    for key, value in data.items():
        kind = keys[key] if key in keys else keys.get("*", "")
        if not kind:
            meant = f"write [[{key}]]" if key in others else instead(key, {**keys, **dict.fromkeys(others, "")})
            yield (*place, key), f"{where} {key} is unknown; {meant}"
        elif message := wrong_value(key, value, kind.removesuffix(", needed")):
            yield (*place, key), f"{where} {message}"


def _is_entries(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, dict) for each in value)


def usable(found: RuleSet, *, hollow: bool = False) -> RuleSet:
    """The rule set without the entries and keys of the user's files that cannot be used, each told as a problem.

    `hollow`: an empty entry stays in place of one left out, so that the others keep their numbers.
    """
    files: list[RuleFile] = []
    problems = list(found.problems)
    for file in found.files:
        wrong = [] if file.path.is_relative_to(package_folder()) else troubles(file)
        problems += [Problem(f"{trouble}; left out") for trouble in wrong]
        if not any(trouble.place == () for trouble in wrong):
            places = {trouble.place[:2] for trouble in wrong}
            files.append(replace(file, data=_without(file.data, places, hollow)) if wrong else file)
    return RuleSet(tuple(files), tuple(problems))


def _without(data: dict[str, Any], places: set[Place], hollow: bool) -> dict[str, Any]:
    """The data of a file without the keys, tables' keys and entries at these places."""
    kept: dict[str, Any] = {}
    for name, value in data.items():
        if (name,) in places:
            continue
        if _is_entries(value):
            bad = [(name, at) in places for at in range(len(value))]
            kept[name] = [{} if out else entry for entry, out in zip(value, bad, strict=True) if hollow or not out]
        elif isinstance(value, dict):
            kept[name] = {key: each for key, each in value.items() if (name, key) not in places}
        else:
            kept[name] = value
    return kept
