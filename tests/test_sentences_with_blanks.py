"""Sentences with blanks, filled with parts, values and units: what each tells is known, whatever it is filled with.

`corpus/sentences.toml` holds them; `KNOWN` those that are read wrongly with some filling, each with the reason.
"""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from saidspec.model import Fact
from saidspec.pipeline import read
from saidspec.sources.read import read_text
from tests.phrase_corpus import CORE, CORPUS, squash

DAY = date(2026, 5, 9)
DATA = tomllib.loads((CORPUS / "sentences.toml").read_text(encoding="utf-8"))
BEFORE = "The water pump is back on with three 12 mm bolts, 22 Nm. "
FASTENERS = ("drain plug", "caliper bracket bolt", "wheel nut", "axle nut", "rocker cover bolt", "banjo bolt")
OTHERS = ("fill plug", "guide pin", "hub nut", "coil bolt", "tie rod nut", "pivot bolt")
PARTS = ("oil filter", "thermostat", "water pump", "alternator", "fuel filter", "starter motor")
FLUIDS = ("engine oil", "coolant", "gearbox oil", "brake fluid", "fork oil")
# What is measured, words of the component, unit as said and as kept, figure, words.
MEASURED = (
    ("front pads", "pad", "mm", "mm", "4", "four"), ("brake disc", "disc", "mm", "mm", "21.4", "twenty one point four"),
    ("spark plug gap", "plug", "mm", "mm", "0.8", "point eight"), ("chain slack", "chain", "mm", "mm", "30", "thirty"),
    ("rear tyre pressure", "tyre", "psi", "psi", "32", "thirty two"),
    ("battery voltage", "battery", "volts", "V", "12.6", "twelve point six"),
    ("intake valve clearance", "intake", "thou", "thou", "8", "eight"),
    ("injector resistance", "injector", "ohms", "ohm", "14.2", "fourteen point two"),
)  # fmt: skip
TORQUES = (("24", "twenty four", "Nm", "N*m"), ("110", "a hundred and ten", "newton metres", "N*m"),
           ("47", "forty seven", "foot pounds", "lbf*ft"), ("24", "twenty four", "ft-lb", "lbf*ft"))
SIZES = (("10", "ten", "mm", "mm"), ("17", "seventeen", "mil", "mm"), ("13", "thirteen", "millimetre", "mm"))
VOLUMES = (("4", "four", "litres", "L"), ("2.5", "two and a half", "L", "L"), ("5", "five", "quarts", "qt"))
NUMBERS = ("RS-4471", "TH-88213", "40-1187")
KNOWN = {
    "set the torque wrench at {w} {u} and did the {pp}": "the part behind the value is another statement's",
    "{v} on the {p}": "a bare figure on a part is a size or a torque",
    "{p} fill was {v} {u}": "\"fork oil fill\" is read as another fluid",
    "there's {v} {u} of {p} left for next time": "\"next time\" makes a plan of what is left",
    "47 for the {a} and 28 for the {b}, newton metres that is": "the unit comes after both",
    "mate's van has 52 Nm on the {a}, ours is 47 Nm": "\"mate's\" is no cue of another vehicle",
}


def fillings(kind: str) -> Iterator[dict[str, str]]:
    """All that stands in the blanks of a kind's sentences; `value`, `kept` and `words` are what the fact must have."""
    if kind == "part_number":
        for part, number in zip(PARTS, itertools.cycle(NUMBERS)):
            yield {"p": part, "n": number, "words": part, "value": number}
    elif kind == "measurement":
        for what, words, unit, kept, figure, spoken in MEASURED:
            yield {"p": what, "v": figure, "w": spoken, "u": unit, "value": figure, "kept": kept, "words": words}
    else:
        pool = {"torque": (FASTENERS, TORQUES), "size": (FASTENERS, SIZES), "volume": (FLUIDS, VOLUMES)}[kind]
        for part, (figure, spoken, unit, kept) in zip(pool[0], itertools.cycle(pool[1])):
            words = part.split()[-1] if kind == "volume" else part
            yield {"p": part, "pp": part + "s", "v": figure, "w": spoken, "u": unit, "value": figure, "kept": kept,
                   "words": words}


def told(text: str) -> list[Fact]:
    """The facts of judged kinds in a text that are not taken back."""
    facts = read(read_text(text.encode(), "said.txt", day=DAY), DAY).facts
    return [fact for fact in facts if fact.kind in CORE and fact.assertion != "retracted"]


def agrees(fact: Fact, kind: str, value: str, unit: str, words: str) -> bool:
    """Whether a fact is of a kind, a value or code, a unit ("-" for any) and a part."""
    said = squash(fact.code or "") == squash(value) or (
        value[0].isdigit() and value[-1].isdigit() and fact.value is not None and fact.value == Decimal(value))
    mine = (fact.component or "").split()
    return fact.kind == kind and said and unit in ("-", fact.unit) and all(word in mine for word in words.split())


def cases(name: str, key: str = "say") -> Iterator[Any]:
    for table in DATA[name]:
        for say in table[key] if isinstance(table[key], list) else [table[key]]:
            marks = [pytest.mark.xfail(strict=True, reason=KNOWN[say])] if say in KNOWN else []
            yield pytest.param(table, say, id=say[:60].replace("\n", " "), marks=marks)


@pytest.mark.parametrize(("table", "say"), [*cases("sentences")])
def test_a_sentence_tells_one_value(table: dict[str, Any], say: str) -> None:
    for filling in fillings(table["filling"]):
        for before in ("", BEFORE):
            facts = [fact for fact in told(before + say.format(**filling)) if fact.provenance.start >= len(before)]
            facts = [fact for fact in facts if table["kind"] != "volume" or fact.kind != "fluid"]
            assert [fact.kind for fact in facts] == [table["kind"]], say.format(**filling)
            assert agrees(facts[0], table["kind"], filling["value"], filling.get("kept", "-"), filling["words"])
            assert facts[0].assertion == table.get("assertion", facts[0].assertion)
            assert facts[0].role == table.get("role", facts[0].role)


@pytest.mark.parametrize(("table", "say"), [*cases("stories")])
def test_a_story_tells_each_value_of_its_part(table: dict[str, Any], say: str) -> None:
    for one, other, part in zip(FASTENERS, OTHERS, PARTS, strict=True):
        blanks = {"a": one, "aa": one + "s", "b": other, "bb": other + "s", "p": part}
        left = told(say.format(**blanks))
        for expected in table["tell"]:
            kind, value, unit, *words = expected.format(**blanks).split()
            standing = words.pop().split("|") if words and words[-1] in STANDINGS else ["stated"]
            found = [fact for fact in left if agrees(fact, kind, value, unit, " ".join(words))]
            assert found, (say.format(**blanks), expected)
            assert found[0].assertion in standing
            left.remove(found[0])
        assert not [fact for fact in left if fact.kind != "fluid"], say.format(**blanks)


STANDINGS = ("quoted", "historical", "planned|possible")
