"""The documents against the program: each command that they show is there, and its options and values are read.

The same for the example in each command's own help, which every command has.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
import typer

from saidspec.cli.main import VERBS, app
from tests.readme import README, shown_anew

ROOT = Path(__file__).parents[1]
DOCUMENTS = [path for path in (README, ROOT / "DEVELOPERS.md") if path.exists()]
FENCE = re.compile(r"^```[^\n]*\n(.*?)^```", re.MULTILINE | re.DOTALL)
PROGRAM = re.compile(r"(?:^|(?<=[\s;&|(]))(?:\$ )?(?:\.venv/bin/)?saidspec (?P<rest>[^\n]+)")
INLINE = re.compile(r"`(?:\.venv/bin/)?saidspec ([^`]+)`")
EXAMPLE = re.compile(r"Example: saidspec (.+)")
WRONG = r"there is no command|needs a command|No such option|is not one of|not a valid|does not match|is no day|Missing"

for module, _ in VERBS.values():
    import_module(f"saidspec.cli.{module}")
PROGRAM_TREE: Any = typer.main.get_command(app)


def words_of(line: str) -> list[str]:
    """The words of a command up to what belongs to the shell: a pipe, a redirection, a next command, a remark."""
    lexer = shlex.shlex(line, posix=True, punctuation_chars="|>;&")
    lexer.whitespace_split = True
    words: list[str] = []
    for word in lexer:
        if set(word) <= set("|>;&"):
            break
        words.append(word)
    return words


def shown_in(text: str) -> Iterator[list[str]]:
    """The commands of a Markdown text: those in fenced blocks and those between backquotes."""
    for block in FENCE.findall(text):
        yield from (words_of(found["rest"]) for found in PROGRAM.finditer(block.replace("\\\n", " ")))
    yield from (words_of(found) for found in INLINE.findall(FENCE.sub("", text)))


def understood(words: list[str], *, whole: bool) -> None:
    """Read a command line as the program would, without running it; without `whole` a bare name of a command will do.

    Raises click's UsageError for an unknown command, option or value, or one that is missing.
    """
    command, rest, names = PROGRAM_TREE, list(words), ["saidspec"]
    while hasattr(command, "commands") and rest and not rest[0].startswith("-"):
        assert rest[0] in command.commands, f"there is no command {' '.join([*names, rest[0]])}"
        names.append(rest[0])
        command = command.commands[rest.pop(0)]
    if rest in (["--help"], ["--version"]) or (not rest and not whole):
        return
    assert not hasattr(command, "commands"), f"{' '.join(names)} needs a command"
    command.make_context(" ".join(names), rest)


def leaves(command: Any = PROGRAM_TREE, names: tuple[str, ...] = ()) -> Iterator[tuple[str, Any]]:
    """Each command that does something, by its words."""
    for name, inner in getattr(command, "commands", {}).items():
        yield from leaves(inner, (*names, name))
    if not hasattr(command, "commands"):
        yield " ".join(names), command


COMMANDS = dict(leaves())


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_the_commands_of_a_document_are_understood(path: Path) -> None:
    text = path.read_text("utf-8")
    shown = list(shown_in(text))
    assert shown
    for words in shown:
        understood(words, whole=False)


def test_the_outputs_in_the_readme_are_those_of_today() -> None:
    assert shown_anew() == README.read_text("utf-8"), "`python -m tests.readme` renews them"


def test_the_readme_names_every_command() -> None:
    shown = {words[0] for words in shown_in(README.read_text("utf-8")) if words}
    assert set(VERBS) <= shown


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_a_command_has_an_example_that_is_understood(name: str) -> None:
    command = COMMANDS[name]
    examples = EXAMPLE.findall(f"{command.help or ''}\n{command.epilog or ''}")
    assert examples, f"the help of {name} has no example"
    for example in examples:
        words = words_of(example)
        assert " ".join(words).startswith(name), example
        understood(words, whole=True)


@pytest.mark.parametrize("words", [
    "vanish", "log --vehicel Packhorse", "log --format poem", "due --today tomorrow", "vehicle sell", "decide accept",
])  # fmt: skip
def test_a_wrong_command_would_be_noticed(words: str) -> None:
    with pytest.raises(Exception, match=WRONG):
        understood(words.split(), whole=True)


def test_what_belongs_to_the_shell_is_left_out() -> None:
    text = ("```\n$ saidspec log --vehicle \"Hallam Drover\" > log.txt  # a remark\nmake && saidspec due | less\n```\n"
            "`saidspec find`")  # fmt: skip
    assert list(shown_in(text)) == [["log", "--vehicle", "Hallam Drover"], ["due"], ["find"]]
