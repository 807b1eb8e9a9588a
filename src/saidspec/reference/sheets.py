"""Reads reference sheets: TOML (one vehicle a file) and CSV with the same column names.

    sheet, problems = read_sheet(path)    # everything that is wrong, as values
    sheet = load_sheet(path)              # raises UnusableInput with the first of them

Every problem is one line that names the file, the entry and its line, and what to write instead.
"""

from __future__ import annotations

import csv
import io
import re
import tomllib
from pathlib import Path
from typing import Any

from saidspec.model import Sheet, UnusableInput, Vehicle
from saidspec.reference.entries import REQUIRED, SPEC_KEYS, read_entry, read_vehicle, suggestion

OTHER_NAMES = {
    "component": ("part", "name", "item", "description"), "kind": ("type", "what", "quantity"),
    "value": ("spec", "specification", "amount", "figure", "setting"), "source": ("reference", "ref", "book", "manual"),
    "only": ("option", "variant", "applies_to"), "replaces": ("supersedes", "old_number"), "tolerance": ("tol", "+/-"),
}  # what spreadsheets call the columns
CSV_VEHICLE = ("vehicle", "year", "options", "odometer_unit", "volume_system")


def read_file(path: Path) -> str:
    """The text of a sheet; UnusableInput where there is no such file or it is no UTF-8 text."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise UnusableInput(f"{path}: no such reference sheet; give the path of a .toml or .csv file") from None
    except IsADirectoryError:
        raise UnusableInput(f"{path}: is a folder; give the path of one .toml or .csv sheet") from None
    except UnicodeDecodeError as error:
        raise UnusableInput(f"{path}: byte {error.start} is not UTF-8; save the sheet as UTF-8 text "
                            "(in a spreadsheet: 'CSV UTF-8')") from None
    except OSError as error:
        raise UnusableInput(f"{path}: cannot be read ({error.strerror}); check the path and its permissions") from None


def entry_lines(text: str) -> list[int]:
    """The line number of each `[[spec]]` header."""
    return [number for number, line in enumerate(text.splitlines(), 1) if re.match(r"\s*\[\[\s*spec\s*\]\]", line)]


def key_line(text: str, header: int, key: str) -> int:
    """The line of a key below a header's line, else the header's own."""
    for number, line in enumerate(text.splitlines()[header:], header + 1):
        if re.match(r"\s*\[", line):
            break
        if re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", line):
            return number
    return header


def read_toml(text: str, path: str) -> tuple[Sheet, list[str]]:
    """A sheet from TOML and every problem in it."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise UnusableInput(f"{path}: not valid TOML: {error}; texts stand in quotes, an entry begins with [[spec]]"
                            ) from None
    problems = [f"{path}: unknown table '{key}'{suggestion(key, ('vehicle', 'spec'))}" for key in data
                if key not in ("vehicle", "spec")]
    vehicle, wrong = read_vehicle(data.get("vehicle"), f"{path}: [vehicle]")
    problems += wrong
    entries, lines, specs = data.get("spec", []), entry_lines(text), []
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise UnusableInput(f"{path}: each specification begins with [[spec]] in double brackets, not [spec]")
    for number, entry in enumerate(entries, 1):
        line = lines[number - 1] if len(lines) == len(entries) else 0
        place = f"entry {number}" + (f", line {line}" if line else "")
        spec, wrongs = read_entry(entry, place)
        problems += [f"{path}: entry {number}" + (f", line {key_line(text, line, key)}" if line else "") + f": {wrong}"
                     for key, wrong in wrongs]
        specs += [spec] if spec else []
    if not entries:
        problems.append(f"{path}: no [[spec]] entry; write at least one")
    return Sheet(vehicle, tuple(specs), path), problems


def meant(name: str) -> str:
    """Which column a spreadsheet's own word for one means; empty where that is not known."""
    column = next((column for column, words in OTHER_NAMES.items() if name in words), None)
    return f"; call it '{column}'" if column else ""


def csv_header(names: list[str], path: str) -> list[str]:
    """What is wrong with the header of a CSV sheet."""
    known = (*SPEC_KEYS, *CSV_VEHICLE)
    problems = [f"{path}: line 1: column {number} has no name; name it or remove it"
                for number, name in enumerate(names, 1) if not name]
    problems += [f"{path}: line 1: unknown column '{name}'{meant(name) or suggestion(name, known)}"
                 for name in names if name and name not in known]
    problems += [f"{path}: line 1: column '{name}' stands {names.count(name)} times; keep one"
                 for name in dict.fromkeys(names) if name and names.count(name) > 1]
    problems += [f"{path}: line 1: column '{name}' is missing; the header needs {', '.join(REQUIRED)}"
                 for name in REQUIRED if name not in names]
    return problems


def csv_vehicle(rows: list[tuple[int, dict[str, str]]], path: str) -> tuple[Vehicle, list[str]]:
    """The vehicle of a CSV sheet: the first value in each of its columns; its name else that of the file."""
    table: dict[str, Any] = {"name": Path(path).stem}
    problems: list[str] = []
    for column in CSV_VEHICLE:
        told = [(line, row[column]) for line, row in rows if row.get(column)]
        if not told:
            continue
        line, first = told[0]
        problems += [f"{path}: line {other}: {column} '{text}' is not '{first}' of line {line}; a sheet is one vehicle"
                     for other, text in told[1:] if text != first]
        if column == "options":
            table["options"] = [option.strip() for option in re.split(r"[;|]", first) if option.strip()]
        elif column == "year":
            table["year"] = int(first) if first.isdigit() else first
        else:
            table["name" if column == "vehicle" else column] = first
    vehicle, wrong = read_vehicle(table, f"{path}: vehicle columns")
    return vehicle, problems + wrong


def read_csv(text: str, path: str) -> tuple[Sheet, list[str]]:
    """A sheet from CSV, commas or semicolons between the columns, and every problem in it."""
    first = text.lstrip().partition("\n")[0]
    separator = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text.lstrip("\n")), delimiter=separator)
    lines = [(reader.line_num, [cell.strip() for cell in row]) for row in reader]
    if not lines:
        raise UnusableInput(f"{path}: the sheet is empty; its first line must be {','.join(SPEC_KEYS)}")
    names = [name.lower().replace(" ", "_") for name in lines[0][1]]
    problems = csv_header(names, path)
    if not set(REQUIRED) <= set(names):
        return Sheet(Vehicle(Path(path).stem), (), path), problems
    rows: list[tuple[int, dict[str, str]]] = []
    for line, cells in lines[1:]:
        if not any(cells):
            continue
        if len(cells) > len(names):
            problems.append(f"{path}: line {line}: {len(cells)} cells under {len(names)} columns; "
                            f"put a value that holds '{separator}' in double quotes")
        rows.append((line, dict(zip(names, cells, strict=False))))
    vehicle, wrong = csv_vehicle(rows, path)
    problems += wrong
    specs = []
    for line, row in rows:
        entry: dict[str, Any] = {key: row[key] for key in SPEC_KEYS if row.get(key)}
        if "replaces" in entry:
            entry["replaces"] = [code.strip() for code in re.split(r"[;|]", entry["replaces"]) if code.strip()]
        spec, wrongs = read_entry(entry, f"line {line}")
        problems += [f"{path}: line {line}: {wrong}" for _, wrong in wrongs]
        specs += [spec] if spec else []
    return Sheet(vehicle, tuple(specs), path), problems


def doubled(sheet: Sheet) -> list[str]:
    """Entries that say the same thing twice over with the same value; differing ones are left to be `ambiguous`."""
    seen: dict[tuple[object, ...], str] = {}
    found = []
    for spec in sheet.specifications:
        key = (spec.component.casefold(), spec.kind, spec.value, spec.value_high, spec.unit, spec.code, spec.only,
               spec.role, spec.bound, spec.angle)
        if key in seen:
            found.append(f"{sheet.path}: {spec.place}: the same as {seen[key]} ({spec.component}, {spec.kind}); "
                         "remove one")
        seen.setdefault(key, spec.place)
    return found


def read_sheet(path: str | Path) -> tuple[Sheet, tuple[str, ...]]:
    """A sheet with the entries that can be read, and one line for each that cannot or is doubtful.

    Raises UnusableInput where the file as a whole cannot be read: missing, no text, no TOML, an unknown suffix.
    """
    file = Path(path)
    text = read_file(file)
    suffix = file.suffix.lower()
    if suffix not in (".toml", ".csv"):
        raise UnusableInput(f"{path}: a reference sheet is a .toml or a .csv file; rename or convert it")
    sheet, problems = (read_toml if suffix == ".toml" else read_csv)(text, str(path))
    return sheet, (*problems, *doubled(sheet))


def load_sheet(path: str | Path) -> Sheet:
    """A sheet without any problem; else UnusableInput with the first problem and how many more there are."""
    sheet, problems = read_sheet(path)
    serious = [problem for problem in problems if problem not in doubled(sheet)]
    if serious:
        more = len(serious) - 1
        raise UnusableInput(serious[0] + (f" (and {more} more; `saidspec sheet validate` lists all)" if more else ""))
    return sheet
