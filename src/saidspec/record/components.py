"""What the pattern files say of parts: which system each belongs to, and which names mean the same part."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from saidspec.model import Fact
from saidspec.patterns import listed, package_folder

GENERAL = "general"  # the file of words that belong to every system
LONGEST = 5  # words of a part's name
Words = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Components:
    """Names of parts as their words, lower case and singular: the systems of each, and the names that mean the same."""

    systems: Mapping[Words, frozenset[str]]
    same: Mapping[Words, frozenset[str]]

    def systems_of(self, fact: Fact) -> frozenset[str]:
        """The systems that the fact's component may be of: those of the longest name in it, of several the last."""
        words = _singular(fact.component or "")
        for length in range(min(LONGEST, len(words)), 0, -1):
            for start in range(len(words) - length, -1, -1):
                if systems := self.systems.get(words[start : start + length]):
                    return systems
        return frozenset()

    def words(self) -> frozenset[str]:
        """Every word of every name."""
        return frozenset(word for name in (*self.systems, *self.same) for word in name)

    def names_for(self, words: Words) -> frozenset[str]:
        """All names of the part that these words of a question name; empty where they name none."""
        return self.same.get(_singular(" ".join(words)), frozenset())


@cache
def components() -> Components:
    """The names in `patterns/components` of the package, and in the user's own folder of words."""
    from saidspec.patterns import user_folder

    folders = [folder / "components" for folder in (package_folder(), user_folder()) if folder]
    return gathered(_tables(path) for folder in folders for path in sorted(folder.glob("*.toml")))


def gathered(files: Iterable[Mapping[str, Any]]) -> Components:
    """Components from the data of files."""
    claims: dict[Words, set[str]] = {}
    same: dict[Words, set[str]] = {}
    for data in files:
        system = data.get("system", "")
        for table in ("parts", "fasteners"):
            for name, others in data.get(table, {}).items():
                group = {name, *listed(others)} if isinstance(others, str) else {name}
                for one in group:
                    same.setdefault(_singular(one), set()).update(group)
                    if system and system != GENERAL:
                        claims.setdefault(_singular(one), set()).add(system)
        for one in (data.get("name", ""), data.get("fluid", ""), *listed(data.get("says"))):
            if one and system != GENERAL:
                claims.setdefault(_singular(one), set()).add(system)
    systems = {words: frozenset(those) for words, those in claims.items() if words}
    return Components(systems, {words: frozenset(names) for words, names in same.items() if len(names) > 1})


def _tables(path: Any) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, OSError):
        return {}  # `saidspec words` tells of broken files; a search goes on without this one


def _singular(phrase: str) -> Words:
    """The words of a phrase in lower case and singular, hyphens parted; rough, but the same on both sides."""
    words = re.findall(r"\w+", phrase.casefold())
    return tuple(word[:-1] if len(word) > 3 and word.endswith("s") and word[-2] not in "su" else word for word in words)
