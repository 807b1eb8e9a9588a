"""Finds, reads and checks the rule files: those of the package, of the repository, and the user's own folder.

Rule files are TOML.  A list of surface forms is one string, comma separated.  Problems are values; a broken file of
the user does not keep the others from being read.
"""

from __future__ import annotations

import os
import tomllib
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from saidspec.model import Problem

USER_FOLDER = "SAIDSPEC_WORDS"


@dataclass(frozen=True, slots=True)
class RuleFile:
    """One TOML file of rules: its path below `patterns/` without the ending, its data, and where it lies."""

    name: str
    data: dict[str, Any]
    path: Path


@dataclass(frozen=True, slots=True)
class RuleSet:
    """All rule files that were found, in the order package, then the user's own."""

    files: tuple[RuleFile, ...]
    problems: tuple[Problem, ...] = ()
    _by_name: dict[str, list[RuleFile]] = field(default_factory=dict, compare=False, repr=False)

    def named(self, name: str) -> list[RuleFile]:
        """The files of that name (package's and user's)."""
        return [file for file in self.files if file.name == name]

    def under(self, folder: str) -> list[RuleFile]:
        """The files of that folder of `patterns/`."""
        return [file for file in self.files if file.name.startswith(folder + "/")]

    def entries(self, name: str, table: str) -> list[dict[str, Any]]:
        """The entries [[table]] of all files of that name."""
        return [entry for file in self.named(name) for entry in file.data.get(table, [])]


def package_folder() -> Path:
    """The rule files that come with the program: inside the wheel, or in the repository it runs from."""
    inside = Path(__file__).parent / "patterns_data"
    return inside if inside.is_dir() else Path(__file__).parents[2] / "patterns"


def user_folder() -> Path | None:
    """The user's own rule files: the folder that SAIDSPEC_WORDS names, else `words` in the user's config folder."""
    named = os.environ.get(USER_FOLDER)
    if named:
        return Path(named)
    from platformdirs import user_config_path

    folder = user_config_path("saidspec") / "words"
    return folder if folder.is_dir() else None


def read_folder(folder: Path, name: str = "*.toml") -> tuple[list[RuleFile], list[Problem]]:
    """The TOML files of a folder and its folders, in order of name; what is no TOML is a problem."""
    files, problems = [], []
    for path in sorted(folder.rglob(name)):
        name = path.relative_to(folder).with_suffix("").as_posix()
        try:
            files.append(RuleFile(name, tomllib.loads(path.read_text("utf-8")), path))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError, OSError) as error:
            problems.append(Problem(f"{path}: cannot be read as TOML ({error}); the other files are used"))
    return files, problems


@lru_cache(maxsize=4)
def rule_set(own: Path | None = None) -> RuleSet:
    """The package's rules and those of the folder `own`, if any."""
    files, problems = read_folder(package_folder())
    if own is not None and own.is_dir():
        more, troubles = read_folder(own)
        files, problems = files + more, problems + troubles
    elif own is not None:
        problems.append(Problem(f"{own}: no such folder of words; only the package's own are used"))
    return RuleSet(tuple(files), tuple(problems))


def listed(forms: str | None) -> list[str]:
    """The surface forms of a comma-separated list."""
    return [form for form in (part.strip() for part in (forms or "").split(",")) if form]


def paired(forms: str) -> dict[str, str]:
    """A list of "word value" pairs as a mapping."""
    return dict(tuple(form.rsplit(" ", 1)) for form in listed(forms))  # type: ignore[misc]
