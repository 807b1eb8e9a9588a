"""`saidspec words`: words of one's own, and which rule read what in a note."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from saidspec.cli.main import app
from saidspec.cli.options import WordsOption

words_app = typer.Typer(help="Add words of your own; see which rule read what in a note.",
                        no_args_is_help=True)  # fmt: skip
app.add_typer(words_app, name="words")
FolderArgument = Annotated[Path | None, typer.Argument(help="The folder; without one, that of your words.")]
SHOWN = 12  # longer phrases listed for a word


@words_app.command("new")
def new(folder: FolderArgument = None) -> None:
    """Write commented files to start words of your own from.

    Example: saidspec words new my-words
    """
    from saidspec.words.place import own_folder
    from saidspec.words.starter import start

    target = folder or own_folder()
    for path in start(target):
        print(f"written: {path}")
    print(f"take away the # before what you want to use, then: saidspec words check {target}")


@words_app.command("check")
def check_words(folder: FolderArgument = None) -> None:
    """Check words of your own: keys, values, clashes with the package's words, examples.

    Exit status 0 when nothing is wrong, 2 when something is.

    Example: saidspec words check my-words
    """
    from saidspec.words.check import check
    from saidspec.words.place import own_folder

    target = folder or own_folder()
    told = check(target)
    for trouble in told.troubles:
        print(trouble)
    looked = f"{told.files} files, {told.forms} words and phrases, {told.examples} examples"
    print(f"{target}: {looked}; {f'{len(told.troubles)} to put right' if told.troubles else 'nothing wrong'}")
    raise typer.Exit(2 if told.troubles else 0)


@words_app.command("show")
def show(
    note: Annotated[Path, typer.Argument(help="The note: text, captions, chat or transcript; - for standard input.")],
    date: Annotated[str | None, typer.Option(help="Day the note was spoken, YYYY-MM-DD.")] = None,
    words: WordsOption = None,
) -> None:
    """Show a note with what was read of it marked, which rule read it, and what no rule claimed.

    In colour on a terminal, in brackets elsewhere and where NO_COLOR is set.

    Example: saidspec words show pads.txt
    """
    import os
    import shutil
    import sys

    from saidspec.cli.hearing import note_of_file
    from saidspec.cli.options import day_of, use_words
    from saidspec.extract.rules import load_rules
    from saidspec.words.marks import marked
    from saidspec.words.show import lines

    use_words(words)
    colour = sys.stdout.isatty() and not os.environ.get("NO_COLOR")
    told = marked(note_of_file(note, day_of(date)), load_rules())
    for line in lines(told, colour=colour, width=min(100, shutil.get_terminal_size((100, 24)).columns)):
        print(line)


@words_app.command("list")
def list_words(
    word: Annotated[list[str] | None, typer.Argument(help="A word or phrase; without one, files are listed.")] = None,
    words: WordsOption = None,
) -> None:
    """Tell what a word means and where that is written, or list the rule files.

    Example: saidspec words list bleed nipple
    """
    from saidspec.cli.options import use_words
    from saidspec.words.place import file_lines, word_lines

    use_words(words)
    for line in word_lines(" ".join(word), SHOWN) if word else file_lines():
        print(line)
