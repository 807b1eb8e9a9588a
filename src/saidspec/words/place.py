"""Where words of one's own lie, and what the files there and in the package hold, as lines to print."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from saidspec.model import UnusableInput
from saidspec.patterns import RuleFile, package_folder, rule_set, user_folder
from saidspec.rule_formats import format_of, usable
from saidspec.toml_lines import lines_of
from saidspec.words.meanings import Meaning, meanings, said_by, told


def own_folder() -> Path:
    """The folder of the user's words, whether it is there or not."""
    from platformdirs import user_config_path

    return user_folder() or user_config_path("saidspec") / "words"


def file_lines() -> Iterator[str]:
    """A line a rule file: how many words it holds, and what of; the user's own last."""
    found = usable(rule_set(user_folder()))
    counts = Counter(meaning.file.path for meaning in meanings(found.files))
    for file in found.files:
        form = format_of(file.name)
        if form and counts[file.path]:
            own = "" if file.path.is_relative_to(package_folder()) else f"  ({file.path})"
            about = file.data["name"] if form.name.endswith("/*") and "name" in file.data else form.about
            yield f"{counts[file.path]:>6}  {file.name:<24} {about}{own}"
    folder = own_folder()
    there = folder.is_dir()
    yield f"your own words: {folder}" if there else f"no words of your own yet; `saidspec words new` starts {folder}"


def word_lines(word: str, limit: int) -> Iterator[str]:
    """What a word means, a line a meaning with its file and line; then longer phrases with it, at most `limit`.

    Raises UnusableInput where no rule file has it.
    """
    whole, longer = said_by(word, meanings(usable(rule_set(user_folder())).files))
    if not whole and not longer:
        raise UnusableInput(f"no rule file has {word!r}; `saidspec words new` starts files of your own")
    lines: dict[Path, dict[tuple[str | int, ...], int]] = {}
    for meaning in {(meaning.form, told(meaning), meaning.place): meaning for meaning in whole}.values():
        yield f"{meaning.form!r} is {told(meaning)}{_context(meaning)}  ({where(meaning, lines)})"
    if not whole:
        yield f"{word!r} alone means nothing; it is said in:"
    others = list({(meaning.form, told(meaning)): None for meaning in longer})
    for form, what in others[:limit]:
        yield f"  {form}: {what}"
    if len(others) > limit:
        yield f"  and {len(others) - limit} more phrases"


def _context(meaning: Meaning) -> str:
    return "" if meaning.sure else " among certain other words"


def where(meaning: Meaning, lines: dict[Path, dict[tuple[str | int, ...], int]]) -> str:
    """The file and line of a meaning: components/brakes.toml:12, with the whole path where it is the user's own."""
    file: RuleFile = meaning.file
    known = lines.setdefault(file.path, lines_of(file.path))
    places = (meaning.place[:size] for size in range(len(meaning.place), 0, -1))
    at = next((known[place] for place in places if place in known), 1)
    name = f"{file.name}.toml" if file.path.is_relative_to(package_folder()) else str(file.path)
    return f"{name}:{at}"
