"""Checks a folder of words of one's own: `check(folder)` tells all that is wrong, each with what to write instead."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from saidspec.extract.rules import load_rules
from saidspec.model import UnusableInput
from saidspec.patterns import rule_set
from saidspec.rule_formats import Trouble, troubles, usable
from saidspec.toml_lines import Place, lines_of
from saidspec.words.clashes import clashes, unknown_names, unlike
from saidspec.words.examples import examples, wrong_examples
from saidspec.words.meanings import meanings


@dataclass(frozen=True, slots=True)
class Checked:
    """What was looked at, in numbers, and what is wrong with it."""

    files: int
    forms: int
    examples: int
    troubles: tuple[Trouble, ...]


def check(folder: Path) -> Checked:
    """All that is wrong in the files of a folder, file by file.  Raises UnusableInput where there is no such folder."""
    if not folder.is_dir():
        raise UnusableInput(f"{folder}: no such folder; `saidspec words new {folder}` makes one to start from")
    broken = [wrong for path in sorted(folder.rglob("*.toml")) if (wrong := unreadable(path))]
    package, found = rule_set(), usable(rule_set(folder), hollow=True)
    own = [file for file in found.files if file.path.is_relative_to(folder)]
    every = [file for file in rule_set(folder).files if file.path.is_relative_to(folder)]
    told = [*broken, *(trouble for file in every for trouble in troubles(file))]
    told += _placed([*clashes(own, package.files), *unlike(own, package)])
    count = sum(1 for file in own for _ in examples(file))
    if count or any({"short", "measures"} & file.data.keys() for file in own):
        rules = load_rules(folder)
        told += _placed([*unknown_names(own, rules.lexicon.terms), *wrong_examples(own, rules)])
    ordered = sorted(dict.fromkeys(told), key=lambda trouble: (trouble.path, trouble.line))
    return Checked(len(broken) + len(every), sum(1 for _ in meanings(own)), count, tuple(ordered))


def unreadable(path: Path) -> Trouble | None:
    """What keeps a file from being read as TOML, with its line."""
    try:
        tomllib.loads(path.read_bytes().decode("utf-8"))
    except tomllib.TOMLDecodeError as error:
        at = re.search(r"\s*\((?:at line (\d+).*|at end of document)\)$", str(error))
        line = int(at[1]) if at and at[1] else len(path.read_text("utf-8").splitlines()) or 1
        told = str(error)[: at.start()] if at else str(error)
        return Trouble(path, line, f'no TOML: {told[:1].lower()}{told[1:]}; a line reads like: said = "one, another"')
    except UnicodeDecodeError as error:
        return Trouble(path, 1, f"byte {error.start} is not UTF-8; save the file as UTF-8 text")
    except OSError as error:
        return Trouble(path, 1, f"cannot be read ({error.strerror}); check its permissions")
    return None


def _placed(found: Iterable[Trouble]) -> Iterator[Trouble]:
    """The troubles with the lines of their places."""
    lines: dict[Path, dict[Place, int]] = {}
    for trouble in found:
        known = lines.setdefault(trouble.path, lines_of(trouble.path))
        places = (trouble.place[:size] for size in range(len(trouble.place), 0, -1))
        yield replace(trouble, line=next((known[place] for place in places if place in known), 1))
