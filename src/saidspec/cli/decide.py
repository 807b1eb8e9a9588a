"""`saidspec decide`: what you confirm, correct, reject or accept; it survives every new reading of the notes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from saidspec.cli.main import app
from saidspec.cli.options import DAY, a_day
from saidspec.cli.reporting import RecordOption, opened

if TYPE_CHECKING:
    import sqlite3

decide_app = typer.Typer(help="Confirm, correct or reject facts; accept flags with a reason.", no_args_is_help=True)
app.add_typer(decide_app, name="decide")

FactsArgument = Annotated[list[int], typer.Argument(help="Numbers of facts, as `saidspec find` shows them.")]
FlagArgument = Annotated[int, typer.Argument(help="The number of a flag, as `saidspec reconcile` shows it.")]
ReasonOption = Annotated[str | None, typer.Option("--reason", help="Why; it shows in the log.")]
DoneOption = Annotated[datetime | None, typer.Option(
    "--date", parser=a_day, metavar=DAY, help="The day on which it was done.", show_default=False)]
PersonOption = Annotated[str | None, typer.Option("--by", envvar="SAIDSPEC_PERSON", help="Who decides.")]


@decide_app.command("confirm")
def confirm(facts: FactsArgument, reason: ReasonOption = None, by: PersonOption = None,
            record: RecordOption = None) -> None:  # fmt: skip
    """Confirm facts as they stand.

    Example: saidspec decide confirm 12 13 --by Wanda
    """
    _decide(record, facts, "confirmed", {}, reason, by)


@decide_app.command("reject")
def reject(facts: FactsArgument, reason: ReasonOption = None, by: PersonOption = None,
           record: RecordOption = None) -> None:  # fmt: skip
    """Say that these were misread and are no facts.

    Example: saidspec decide reject 12 --reason "that was the radio"
    """
    _decide(record, facts, "rejected", {}, reason, by)


@decide_app.command("done")
def done(facts: FactsArgument, day: DoneOption = None, reason: ReasonOption = None, by: PersonOption = None,
         record: RecordOption = None) -> None:  # fmt: skip
    """Say that follow-ups are done.

    Example: saidspec decide done 31 --date 2026-05-03
    """
    _decide(record, facts, "done", {}, reason, by, day.date() if day else None)


@decide_app.command("correct")
def correct(
    fact: Annotated[int, typer.Argument(help="The number of a fact, as `saidspec find` shows it.")],
    value: Annotated[str | None, typer.Option("--value", help="The right number.")] = None,
    value_high: Annotated[str | None, typer.Option("--value-high", help="The upper end of a range.")] = None,
    unit: Annotated[str | None, typer.Option("--unit", help="The right unit: N*m, lbf*ft, L, qt, mm ...")] = None,
    component: Annotated[str | None, typer.Option("--component", help="The part that it is about.")] = None,
    code: Annotated[str | None, typer.Option("--code", help="The right code, number or date.")] = None,
    angle: Annotated[str | None, typer.Option("--angle", help="Degrees of turn after the torque.")] = None,
    role: Annotated[str | None, typer.Option("--role", help="What it is: drained, tool, gap ...")] = None,
    action: Annotated[str | None, typer.Option("--action", help="What was done.")] = None,
    finding: Annotated[str | None, typer.Option("--finding", help="What was found.")] = None,
    assertion: Annotated[str | None, typer.Option("--assertion", help="stated, quoted, planned ...")] = None,
    reason: ReasonOption = None, by: PersonOption = None, record: RecordOption = None,
) -> None:  # fmt: skip
    """Correct fields of a fact.

    An empty value removes what a field holds.

    Example: saidspec decide correct 12 --value 107 --unit "N*m" --reason "read off the wrench"
    """
    from saidspec.model import UnusableInput

    given = {"value": _number(value), "value_high": _number(value_high), "angle": _number(angle), "unit": unit,
             "component": component, "code": code, "role": role, "action": action, "finding": finding,
             "assertion": assertion}  # fmt: skip
    changes = {name: None if told == "" else told for name, told in given.items() if told is not None}
    if not changes:
        raise UnusableInput(f"what of fact {fact} is to be corrected? Give --value, --unit, --component ...")
    _decide(record, [fact], "corrected", changes, reason, by)


@decide_app.command("undo")
def undo(facts: FactsArgument, record: RecordOption = None) -> None:
    """Take back what was decided about facts.

    Example: saidspec decide undo 12
    """
    from saidspec.record.decisions import withdraw

    conn = _opened(record)
    with _flags_kept(conn, facts):
        for fact in facts:
            print(f"fact {fact}: {'taken back' if withdraw(conn, fact) else 'nothing was decided'}")


@decide_app.command("accept")
def accept(flag: FlagArgument, reason: Annotated[str, typer.Option("--reason", help="Why it may stand.")],
           by: PersonOption = None, record: RecordOption = None) -> None:  # fmt: skip
    """Accept a flag: the difference may stand, for a reason.

    Example: saidspec decide accept 4 --reason "aftermarket bolts, maker's leaflet says 90"
    """
    from saidspec.record.decisions import decide_flag

    decide_flag(_opened(record), flag, "accepted", reason=reason, person=by)
    print(f"flag {flag}: accepted")


@decide_app.command("leave")
def leave(flag: FlagArgument, reason: ReasonOption = None, by: PersonOption = None,
          record: RecordOption = None) -> None:  # fmt: skip
    """Leave a flag open, having looked at it.

    Example: saidspec decide leave 4 --reason "ask the dealer on Monday"
    """
    from saidspec.record.decisions import decide_flag

    decide_flag(_opened(record), flag, "left", reason=reason, person=by)
    print(f"flag {flag}: left open")


@decide_app.command("list")
def list_decisions(record: RecordOption = None) -> None:
    """List what was decided.

    What has lost its words, since the note was changed, has no fact and needs a look.

    Example: saidspec decide list
    """
    from saidspec.record.queries import decisions

    told = decisions(opened(record))
    for one in told:
        about = f"fact {one.fact}" if one.fact else "no fact now"
        if one.flag:
            about = f"flag on {one.component or one.kind}"
        who = f" by {one.person}" if one.person else ""
        why = f": {one.reason}" if one.reason else ""
        words = f', "{one.quote}"' if one.quote else ""
        note = f" ({one.note})" if one.note else ""
        on = f" on {one.done_on}" if one.done_on else ""
        print(f"{one.when[:10]} {one.verdict}{on}{who}, {about}{words}{note}{why}")
    if not told:
        print("nothing was decided yet")


def _decide(record: Path | None, facts: list[int], verdict: Any, changes: dict[str, Any], reason: str | None,
            person: str | None, done_on: date | None = None) -> None:  # fmt: skip
    from saidspec.record.decisions import decide_fact
    from saidspec.record.place import at_once
    from saidspec.record.queries import entries_of
    from saidspec.report.lines import line

    conn = _opened(record)
    with _flags_kept(conn, facts):
        with at_once(conn):
            for fact in facts:
                decide_fact(conn, fact, verdict, changes, reason=reason, person=person, done_on=done_on)
        for entry in entries_of(conn, facts):
            print(f"fact {entry.fact.id}: {verdict}: {line(entry).text}")


@contextmanager
def _flags_kept(conn: sqlite3.Connection, facts: list[int]) -> Iterator[None]:
    """Compare the notes of facts anew once something was decided about these, and tell which flags came and went."""
    from saidspec.record.review_queries import note_of_fact
    from saidspec.report.keeping import open_flags, renew_flags

    notes = {note for fact in facts if (note := note_of_fact(conn, fact)) is not None}
    before = {one.key: one.flag.message for one in open_flags(conn, notes)}
    yield
    renew_flags(conn, notes)
    after = {one.key: one.flag.message for one in open_flags(conn, notes)}
    for told, some, others in (("no longer flagged", before, after), ("now flagged", after, before)):
        for key in some.keys() - others.keys():
            print(f"{told}: {some[key]}")


def _number(text: str | None) -> Any:
    """A number given on the command line; "" stays as it is.  Raises UnusableInput for what is none."""
    from decimal import Decimal, InvalidOperation

    from saidspec.model import UnusableInput

    if not text:
        return text
    try:
        told = Decimal(text)
    except InvalidOperation:
        told = Decimal("NaN")
    if not told.is_finite():
        raise UnusableInput(f'"{text}" is no number: write it with figures and a point, such as 1.74')
    return told


def _opened(record: Path | None) -> sqlite3.Connection:
    from saidspec.record.place import open_record, record_path

    return open_record(record_path(record), create=False)
