"""Small notes for the tests of the reconciler, made by hand: sentences, and the facts that they state.

`Note` collects sentences with their facts and makes a Reading whose quotes stand in its text; `sheet` makes a sheet
from (component, kind, value) entries through the sheet reader itself, so that values are written as users write them.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from saidspec.model import Agreement, Fact, Flag, Note, Provenance, Reading, Sheet, Source, Utterance
from saidspec.reconcile.case import History
from saidspec.reconcile.run import reconcile
from saidspec.reference.sheets import read_toml

NUMBERS = ("value", "value_high", "angle")


class Spoken:
    """A note in the making."""

    def __init__(self, day: str | None = "2026-05-03") -> None:
        self.text = ""
        self.facts: list[Fact] = []
        self.day = date.fromisoformat(day) if day else None

    def say(self, sentence: str, *facts: dict[str, Any]) -> Spoken:
        """Add a sentence and its facts; each fact gives its `quote`, which stands in the sentence."""
        start = len(self.text)
        self.text += sentence + "\n"
        for told in facts:
            fields = dict(told)
            quote = fields.pop("quote", sentence)
            at = self.text.index(quote, start)
            for name in NUMBERS:
                if name in fields:
                    fields[name] = Decimal(str(fields[name]))
            where = Provenance(quote, at, at + len(quote))
            self.facts.append(Fact(len(self.facts) + 1, provenance=where, **fields))
        return self

    def reading(self) -> Reading:
        """The note as read."""
        note = Note(Source("note.txt", "0", "text"), self.text, (Utterance(0, len(self.text)),), date=self.day)
        return Reading(note, tuple(self.facts))


def sheet(*entries: tuple[str, str, str] | dict[str, str], vehicle: str = "") -> Sheet:
    """A sheet of (component, kind, value) entries or of whole ones."""
    lines = ["[vehicle]", 'name = "Hallam Drover"', vehicle]
    for entry in entries:
        fields = dict(zip(("component", "kind", "value"), entry, strict=True)) if isinstance(entry, tuple) else entry
        fields = {"source": '"workshop manual"'} | {
            key: value if value.startswith("[") else f'"{value}"' for key, value in fields.items()}
        lines += ["[[spec]]", *(f"{key} = {value}" for key, value in fields.items())]
    made, problems = read_toml("\n".join(lines), "sheet.toml")
    assert not problems, problems
    return made


def flags_of(spoken: Spoken, specs: Sheet, history: History | None = None) -> tuple[Flag, ...]:
    """The flags of a note."""
    return reconcile(spoken.reading(), specs, history)[0]


def agreed_of(spoken: Spoken, specs: Sheet) -> tuple[Agreement, ...]:
    """The agreements of a note."""
    return reconcile(spoken.reading(), specs)[1]


def checks_of(spoken: Spoken, specs: Sheet, history: History | None = None) -> list[tuple[str, str | None]]:
    """(check, likely) of each flag of a note."""
    return [(flag.check, flag.likely) for flag in flags_of(spoken, specs, history)]


def torque(component: str | None, value: object, unit: str = "N*m", **more: Any) -> dict[str, Any]:
    """A torque fact."""
    return {"kind": "torque", "component": component, "value": value, "unit": unit, **more}


def measured(component: str | None, value: object, unit: str, role: str | None = None, **more: Any) -> dict[str, Any]:
    """A measurement fact."""
    return {"kind": "measurement", "component": component, "value": value, "unit": unit, "role": role, **more}


def volume(component: str | None, value: object, unit: str = "L", role: str | None = "added", **more: Any
           ) -> dict[str, Any]:
    """A volume fact."""
    return {"kind": "volume", "component": component, "value": value, "unit": unit, "role": role, **more}


def done(action: str, component: str | None, **more: Any) -> dict[str, Any]:
    """An operation fact."""
    return {"kind": "operation", "component": component, "action": action, **more}
