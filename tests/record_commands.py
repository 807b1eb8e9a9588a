"""Running commands of the record in tests, with a pipeline that reads a few plain facts."""

from __future__ import annotations

import re
import sys
import types
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from saidspec.model import Fact, Note, Provenance, Reading
from tests.command_line import Shell

TORQUE = re.compile(r"(?P<part>[a-z]+(?: [a-z]+)*) at (?P<value>\d+(?:\.\d+)?) newton metres")


def read(note: Note, day: date | None) -> Reading:
    """Torques said as "PART at N newton metres", and "odometer N"."""
    note = replace(note, date=day)
    facts = []
    for found in re.finditer(rf"{TORQUE.pattern}|odometer (?P<reading>\d+)", note.text):
        words = Provenance(found.group(), found.start(), found.end(), rule="test")
        number = len(facts) + 1
        if found["reading"]:
            facts.append(Fact(number, "odometer", words, value=Decimal(found["reading"]), unit="km"))
        else:
            facts.append(Fact(number, "torque", words, component=found["part"], value=Decimal(found["value"]),
                              unit="N*m"))  # fmt: skip
    return Reading(note, tuple(facts))


class Commands(Shell):
    """Runs commands on one record, whose notes are read by `read`."""

    def __init__(self, record: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        super().__init__(monkeypatch, capsys)
        self.record = record
        pipeline = types.ModuleType("saidspec.pipeline")
        pipeline.read = read  # type: ignore[attr-defined]
        monkeypatch.setitem(sys.modules, "saidspec.pipeline", pipeline)
        monkeypatch.setenv("SAIDSPEC_RECORD", str(record))
