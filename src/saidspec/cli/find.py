"""`saidspec find`: answers from the record."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated, Any

import typer

from saidspec.cli.main import app
from saidspec.cli.options import FormatOption, check_format
from saidspec.cli.reporting import RecordOption, VehicleOption, opened

AROUND = 80  # characters shown on each side of the words that are meant

if TYPE_CHECKING:
    from saidspec.record.entries import Entry
    from saidspec.record.find import Found
    from saidspec.record.queries import Passage, Reference


@app.command("find")
def find_command(
    words: Annotated[list[str], typer.Argument(help="The question: words of the part, and what of it.")],
    vehicle: VehicleOption = None,
    most: Annotated[int, typer.Option("--limit", min=1, help="How many answers and passages at most.")] = 5,
    form: FormatOption = "text",
    record: RecordOption = None,
) -> None:  # fmt: skip
    """Find what was said: answers first, then sheets, then passages.

    Exit status 1 for nothing.

    Example: saidspec find which socket for the caliper bracket
    """
    from saidspec.record.components import components
    from saidspec.record.find import find
    from saidspec.record.report_queries import vehicle_named

    check_format(form, "find")
    conn = opened(record)
    about = vehicle_named(conn, vehicle).id if vehicle else None
    found = find(conn, " ".join(words), vehicle=about, most=most, same_part=components().names_for)
    if form == "json":
        import json

        print(json.dumps(_object(" ".join(words), found), indent=1, ensure_ascii=False))
    else:
        print("\n".join(_text(found)))
    if not (found.answers or found.references or found.passages):
        raise typer.Exit(1)


def _text(found: Found) -> list[str]:
    lines: list[str] = []
    if found.left_out:
        lines += [f'Nothing fits "{found.left_out}"; without it:', ""]
    for entry in found.answers:
        lines += [*_answer(entry), ""]
    if found.references:
        lines.append("What the reference sheets say:")
        for one in found.references:
            spec = one.specification
            says = phrase_of_specification(spec)
            lines.append(f"  {spec.component}, {spec.kind.replace('_', ' ')}: {says}  ({one.vehicle}; {spec.source})")
        lines.append("")
    if found.passages:
        lines.append("Passages:")
        lines += [f"  {_marked(one)}  ({_place(one)})" for one in found.passages]
    return lines or ["nothing found"]


def phrase_of_specification(spec: Any) -> str:
    """What a specification says, in both units where there are two."""
    from saidspec.report.wording import quantity

    parts = [quantity(spec), spec.code or "", f"only with {spec.only}" if spec.only else ""]
    return ", ".join(part for part in parts if part)


def _answer(entry: Entry) -> list[str]:
    """An answer in two lines: what it says with where it is from, and the words behind it."""
    from saidspec.report.lines import line
    from saidspec.report.wording import clock, day_shown, distance

    told = line(entry)
    fact = entry.fact
    parts = [day_shown(entry.day)]
    if entry.odometer is not None and entry.odometer_unit:
        parts.append(distance(entry.odometer, entry.odometer_unit))
    parts += [entry.vehicle, standing(entry)]
    at = f" at {clock(fact.provenance.time)}" if fact.provenance.time is not None else ""
    start, end = (place - entry.context_start for place in (fact.provenance.start, fact.provenance.end))
    context = window(entry.context, start, end) or fact.provenance.quote
    who = f"{entry.speaker}: " if entry.speaker else ""
    return [f"{told.text}", f"  {', '.join(parts)}  [fact {fact.id}]", f"  {who}\"{context}\"  ({entry.note}{at})"]


def window(text: str, start: int, end: int) -> str:
    """The words of a text around a span, in one line: whole, or cut at words with an ellipsis where it is long."""
    first, last = max(0, start - AROUND), min(len(text), end + AROUND)
    if first:
        first = text.find(" ", first, start) + 1 or first
    if last < len(text):
        last = max(text.rfind(" ", end, last), end)
    cut = " ".join(text[first:last].split())
    return f"{'… ' if first else ''}{cut}{' …' if last < len(text) else ''}"


def standing(entry: Entry) -> str:
    """How far an answer can be trusted: what a person said of it, else how it was said."""
    verdict = entry.decision.verdict if entry.decision else "not confirmed"
    fact = entry.fact
    if fact.assertion == "stated":
        return verdict
    said = f"taken back, now fact {fact.replaced_by}" if fact.assertion == "retracted" and fact.replaced_by else (
        "taken back" if fact.assertion == "retracted" else fact.assertion)
    return f"{said}, {verdict}"


def _marked(one: Passage) -> str:
    """The passage with the words found in bold on a terminal, plain elsewhere."""
    from saidspec.record.queries import CLOSING, OPENING

    bold = ("\x1b[1m", "\x1b[0m") if sys.stdout.isatty() else ("", "")
    marks = [at for at, letter in enumerate(one.marked) if letter in (OPENING, CLOSING)] or [0]
    text = window(one.marked, marks[0], min(marks[-1] + 1, marks[0] + AROUND)).replace("\x1b", "")
    return text.replace(OPENING, bold[0]).replace(CLOSING, bold[1]) + bold[1]


def _place(one: Passage) -> str:
    from saidspec.report.wording import clock, day_shown

    at = f" at {clock(one.time)}" if one.time is not None else ""
    return f"{one.note}{at}, {one.vehicle}, {day_shown(one.day)}"


def _object(text: str, found: Found) -> dict[str, Any]:
    asked = found.question
    return {
        "schema": "saidspec/find-1", "query": text,
        "understood": {"kind": asked.kind, "role": asked.role, "words": [list(group) for group in asked.groups],
                       "vehicle": found.vehicle},
        "left_out": found.left_out,
        "answers": [entry_object(entry) for entry in found.answers],
        "reference": [_reference_object(one) for one in found.references],
        "passages": [{"text": one.text, "note": one.note, "note_id": one.note_id, "vehicle": one.vehicle,
                      "date": one.day.isoformat() if one.day else None, "start": one.start, "time": one.time,
                      "speaker": one.speaker} for one in found.passages],
    }  # fmt: skip


def entry_object(entry: Entry) -> dict[str, Any]:
    """A fact of the record as an object: the fields of the output contract, and where it stands in the record."""
    from saidspec.model import fact_object, plain_number

    decision = entry.decision
    return fact_object(entry.fact) | {
        "vehicle": entry.vehicle, "date": entry.day.isoformat() if entry.day else None, "system": entry.system,
        "odometer": plain_number(entry.odometer), "odometer_unit": entry.odometer_unit, "note": entry.note,
        "note_id": entry.note_id, "context": entry.context, "context_start": entry.context_start,
        "speaker": entry.speaker, "confirmed": entry.reviewed, "decision": decision and {
            "verdict": decision.verdict, "when": decision.when, "who": decision.who, "reason": decision.reason,
            "done_on": decision.done_on.isoformat() if decision.done_on else None},
    }  # fmt: skip


def _reference_object(one: Reference) -> dict[str, Any]:
    from saidspec.model import plain_number

    spec = one.specification
    return {"vehicle": one.vehicle, "component": spec.component, "kind": spec.kind, "role": spec.role,
            "value": plain_number(spec.value), "value_high": plain_number(spec.value_high), "unit": spec.unit,
            "code": spec.code, "angle": plain_number(spec.angle), "bound": spec.bound, "only": spec.only,
            "source": spec.source}  # fmt: skip
