"""One direction of imports; a command line that loads nothing heavy; a table of verbs that says what the verbs say."""

from __future__ import annotations

import ast
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from saidspec.cli.main import VERBS

SOURCE = Path(__file__).parents[1] / "src/saidspec"
RULES = ("patterns", "toml_lines", "rule_values", "rule_formats")  # the rule files: found, read and checked
READING = ("sources", "normalise", "extract", "discourse")
# Package or module → what of ours it may import, in the order of the flow.  `extract` and `discourse` import each
# other: what is being talked about decides what a value belongs to while the passage is read, so the reader of extract
# asks discourse, and discourse works on the passages, mentions and drafts of extract.  Their modules have no cycle.
MAY = {
    "model": (),
    **dict.fromkeys(RULES, ("model", *RULES)),
    "sources": ("model", *RULES),
    "normalise": ("model", *RULES),
    "extract": ("model", *RULES, "normalise", "discourse"),
    "discourse": ("model", *RULES, "normalise", "extract"),
    "reference": ("model", *RULES),
    "heard": ("model", *RULES, "sources", "reference"),
    "pipeline": ("model", *RULES, *READING, "heard"),
    "record": ("model", *RULES, "sources", "pipeline", "reference"),
    "reconcile": ("model", *RULES, "record", "reference", "heard"),
    "report": ("model", *RULES, "record", "reference", "reconcile"),
    "words": ("model", *RULES, *READING, "heard", "pipeline", "report"),
    "demo": ("model",),
    "web": ("model", "record", "reference", "report"),
    "cli": ("model", *RULES, "sources", "extract", "pipeline", "record", "reference", "reconcile", "report", "words",
            "demo", "web"),
    "__main__": ("cli",),
}  # fmt: skip
HEAVY = ("spacy", "pint", "dateparser", "sqlite_utils", "numpy", "jinja2")


def name_of(path: Path) -> str:
    parts = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" and len(parts) > 1 else parts)


FILES = {name_of(path): path for path in sorted(SOURCE.rglob("*.py")) if path != SOURCE / "__init__.py"}


def imported(path: Path) -> Iterator[str]:
    """The modules of ours that a file imports anywhere, without the package's name."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written out in full"
            names = [node.module or "", *(f"{node.module}.{alias.name}" for alias in node.names)]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        for name in names:
            if name.startswith("saidspec."):
                yield name.removeprefix("saidspec.")


def test_every_package_has_its_place() -> None:
    assert {name.partition(".")[0] for name in FILES} == set(MAY)


@pytest.mark.parametrize("package", MAY)
def test_a_package_imports_only_what_comes_before_it(package: str) -> None:
    allowed = {*MAY[package], package}
    strange = {(name, other) for name, path in FILES.items() if name.partition(".")[0] == package
               for other in imported(path) if other.partition(".")[0] not in allowed}  # fmt: skip
    assert not strange


def cycle(graph: dict[str, set[str]]) -> list[str]:
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_packages_have_no_cycle_but_that_of_extract_and_discourse() -> None:
    graph = {name: set(others) - {name} for name, others in MAY.items() if name not in RULES}
    graph["discourse"].discard("extract")
    assert cycle(graph) == []


def test_modules_have_no_cycle() -> None:
    graph = {name: {other for other in imported(path) if other in FILES} - {name} for name, path in FILES.items()}
    graph["cli.main"] = set()  # imports the module of a verb by its name, when it is called
    assert cycle(graph) == []


def answer(code: str) -> object:
    """What a fresh process prints as JSON."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def test_no_command_module_loads_anything_heavy() -> None:
    modules = sorted(name for name in FILES if name.startswith("cli."))
    code = f"""
import importlib, json, sys
found = {{}}
for name in {modules!r}:
    importlib.import_module("saidspec." + name)
    for heavy in {HEAVY!r}:
        if heavy in sys.modules and heavy not in found:
            found[heavy] = name
print(json.dumps(found))
"""
    assert answer(code) == {}


def test_the_table_of_verbs_names_each_command_with_the_first_line_of_its_help() -> None:
    code = f"""
import importlib, json, typer
from saidspec.cli.main import app
for module in {sorted({module for module, _ in VERBS.values()})!r}:
    importlib.import_module("saidspec.cli." + module)
commands = typer.main.get_command(app).commands
print(json.dumps({{name: [command.callback.__module__ if command.callback else None, command.help.splitlines()[0]]
                   for name, command in commands.items()}}))
"""
    told = answer(code)
    assert isinstance(told, dict)
    assert {name: line for name, (_, line) in told.items()} == {name: line for name, (_, line) in VERBS.items()}
    for name, (module, _) in told.items():
        assert module in (None, f"saidspec.cli.{VERBS[name][0]}")


def test_every_module_that_registers_a_command_is_in_the_table() -> None:
    registering = {name.removeprefix("cli.") for name, path in FILES.items() if name.startswith("cli.")
                   and any(call in path.read_text("utf-8") for call in ("@app.command(", "app.add_typer("))}
    assert registering == {module for module, _ in VERBS.values()}


def test_the_list_of_verbs_is_that_of_the_table() -> None:
    command = [sys.executable, "-m", "saidspec", "--help"]
    narrow = {**os.environ, "COLUMNS": "80"}
    done = subprocess.run(command, capture_output=True, text=True, check=True, env=narrow)
    shown = done.stdout.partition("Commands:")[2]
    assert [line for line in shown.splitlines() if line.endswith("...")] == []  # no line is cut off
    assert [line.split()[0] for line in shown.splitlines() if line[2:3].strip()] == list(VERBS)
