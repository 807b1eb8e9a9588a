"""The values that pass between the stages.  Imports nothing of ours; every value is frozen.

Offsets are characters of `Note.text`, the note as stored and decoded (a byte order mark not counted).
Numbers are Decimal from the words to the comparison; times are seconds into the recording.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Literal, get_args

Kind = Literal[
    "torque", "volume", "size", "part_number", "fluid", "measurement", "odometer", "date", "interval", "duration",
    "count", "cost", "trouble_code", "material", "operation", "observation", "follow_up",
]  # fmt: skip
Assertion = Literal["stated", "quoted", "planned", "possible", "historical", "negated", "retracted"]
Action = Literal[
    "drain", "fill", "remove", "install", "replace", "clean", "inspect", "tighten", "loosen", "lubricate", "adjust",
    "bleed", "flush", "test", "measure", "repair", "rotate", "reset",
]  # fmt: skip
Check = Literal[
    "differs", "over-limit", "outside-limit", "contradiction", "missing", "ambiguous", "balance", "odometer", "overdue",
]  # fmt: skip
Cause = Literal["unit", "neighbour", "misheard", "decimal", "transposed", "imperial-quart", "old-part"]
Severity = Literal["danger", "wrong", "look"]

KINDS: tuple[Kind, ...] = get_args(Kind)
ASSERTIONS: tuple[Assertion, ...] = get_args(Assertion)
ACTIONS: tuple[Action, ...] = get_args(Action)
# The roles of each kind; a kind that is not named has none.
ROLES: dict[Kind, tuple[str, ...]] = {
    "volume": ("capacity", "added", "drained", "bought", "left over"),
    "size": ("tool", "thread", "tube", "tyre", "part"),
    "part_number": ("installed", "removed", "bought"),
    "measurement": (
        "thickness", "gap", "clearance", "play", "slack", "deflection", "depth", "runout", "diameter", "width",
        "travel", "height", "length", "pressure", "compression", "temperature", "voltage", "current", "resistance",
        "capacity", "power", "speed", "angle", "weight", "density", "share",
    ),
    "interval": ("since last", "every", "until"),
    "count": ("bought", "left over", "used"),
    "cost": ("each", "total"),
    "observation": ("ok", "watch", "act"),
}  # fmt: skip


class UnusableInput(Exception):  # noqa: N818 - it names the input, not a fault of the program
    """Input that cannot be used.  Its text is one line: what is wrong, where, and what to do about it."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be read, as a value: the rest of the note is read all the same."""

    message: str
    start: int | None = None
    end: int | None = None


@dataclass(frozen=True, slots=True)
class Word:
    """A word of a recogniser's transcript: its characters in the note, its seconds, and how sure it was (0 to 1)."""

    start: int
    end: int
    time: float
    time_end: float
    probability: float | None = None


@dataclass(frozen=True, slots=True)
class Utterance:
    """A stretch of the note that one person said in one go: a line, a caption, a message, a paragraph.

    `start` and `end` enclose the spoken text alone, without stamps, senders, bullets and marks.
    """

    start: int
    end: int
    time: float | None = None
    time_end: float | None = None
    speaker: str | None = None
    sent: datetime | None = None  # when a chat message was sent
    heading: int = 0  # level of a heading, 0 for what is none
    item: bool = False  # an entry of a list
    continues: bool = False  # goes on where the former one stopped: only markup lies between the two
    words: tuple[Word, ...] = ()


@dataclass(frozen=True, slots=True)
class Source:
    """Where a note came from.  A source is its content: `sha256` is that of the bytes as read."""

    name: str
    sha256: str
    format: str


@dataclass(frozen=True, slots=True)
class Transcript:
    """How the text of a recording came about: the speech model by name and hash, its settings, its raw answer
    (JSON).
    """

    model: str
    model_sha256: str | None = None
    settings: str = "{}"  # JSON object
    raw: str | None = None


@dataclass(frozen=True, slots=True)
class Note:
    """One note as stored and decoded, and what was said in it, in order."""

    source: Source
    text: str
    utterances: tuple[Utterance, ...]
    problems: tuple[Problem, ...] = ()
    date: date | None = None  # the day it was spoken, where known
    transcript: Transcript | None = None  # of a recording: how it was made into text


@dataclass(frozen=True, slots=True)
class Provenance:
    """The words that a fact rests on and the rules that read them; quote == text[start:end]."""

    quote: str
    start: int
    end: int
    time: float | None = None
    time_end: float | None = None
    rule: str = ""
    cue: str | None = None  # id of the cue that decided the assertion
    confidence: float = 1.0


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that the note says.  The fields are those of the output contract."""

    id: int
    kind: Kind
    provenance: Provenance
    component: str | None = None
    value: Decimal | None = None
    value_high: Decimal | None = None
    unit: str | None = None
    code: str | None = None
    angle: Decimal | None = None
    role: str | None = None
    action: str | None = None
    finding: str | None = None
    assertion: Assertion = "stated"
    approximate: bool = False
    replaced_by: int | None = None

    def but(self, **changes: Any) -> Fact:
        """The same fact with some fields changed."""
        return replace(self, **changes)


@dataclass(frozen=True, slots=True)
class Unclaimed:
    """A number of the note that no rule claims, neither as a fact nor as known to be none."""

    quote: str
    start: int
    end: int
    time: float | None = None


@dataclass(frozen=True, slots=True)
class Known:
    """A number of the note that a rule knows to be no fact of the vehicle; `rule` is the rule's id."""

    quote: str
    start: int
    end: int
    rule: str
    time: float | None = None

    @property
    def is_word(self) -> bool:
        """Whether it is a mere word, such as the pronoun "one": told to programs, not worth a line for a person."""
        return self.rule.startswith("word.")


@dataclass(frozen=True, slots=True)
class Reading:
    """All that was read from one note.

    Each number of the note is within a fact that carries it, or unclaimed, or known: exactly one of the three.
    """

    note: Note
    facts: tuple[Fact, ...]
    unclaimed: tuple[Unclaimed, ...] = ()
    problems: tuple[Problem, ...] = ()
    known: tuple[Known, ...] = ()


def plain_number(value: Decimal | None) -> int | float | None:
    """A Decimal as the JSON number that prints the same digits: 107, 1.74."""
    if value is None:
        return None
    return int(value) if value == value.to_integral_value() else float(value)


def fact_object(fact: Fact) -> dict[str, Any]:
    """A fact as the object of the output contract, key by key."""
    told = {name: getattr(fact, name) for name in (
        "id", "kind", "component", "value", "value_high", "unit", "code", "angle", "role", "action", "finding",
        "assertion", "approximate", "replaced_by")}  # fmt: skip
    for name in ("value", "value_high", "angle"):
        told[name] = plain_number(told[name])
    words = asdict(fact.provenance)
    return told | {name: words[name] for name in ("quote", "start", "end", "time", "confidence", "rule", "cue")}


@dataclass(frozen=True, slots=True)
class Vehicle:
    """The vehicle of a reference sheet."""

    name: str
    year: int | None = None
    options: tuple[str, ...] = ()
    odometer_unit: str | None = None
    volume_system: Literal["imperial", "us"] | None = None


@dataclass(frozen=True, slots=True)
class Specification:
    """One reference value.  `bound` says that `value` is a service limit and not a nominal value.

    An interval of distance and time ("60000 km or 48 month") keeps the second one in `or_value` and `or_unit`.
    """

    component: str
    kind: Kind
    source: str
    value: Decimal | None = None
    value_high: Decimal | None = None
    unit: str | None = None
    code: str | None = None
    angle: Decimal | None = None
    bound: Literal["min", "max"] | None = None
    or_value: Decimal | None = None
    or_unit: str | None = None
    role: str | None = None
    tolerance: Decimal | None = None
    tolerance_unit: str | None = None  # "%" or a unit
    only: str | None = None
    replaces: tuple[str, ...] = ()
    place: str = ""  # where in the sheet it stands: "entry 4, line 27"


@dataclass(frozen=True, slots=True)
class Sheet:
    """The reference specifications of one vehicle."""

    vehicle: Vehicle
    specifications: tuple[Specification, ...]
    path: str = ""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One side of a flag: what was said, or what the reference says."""

    value: Decimal | None = None
    value_high: Decimal | None = None
    unit: str | None = None
    code: str | None = None
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Flag:
    """A disagreement, a limit passed, or something never said; the fields are those of the output contract."""

    check: Check
    severity: Severity
    message: str
    component: str | None
    kind: Kind
    fact: int | None = None
    said: Quantity = Quantity()
    reference: Quantity | None = None
    likely: Cause | None = None
    also_likely: tuple[Cause, ...] = ()
    tolerance: str | None = None  # the tolerance used, in words


@dataclass(frozen=True, slots=True)
class Agreement:
    """A fact that agrees with a specification; `why` says how the two were matched and which tolerance was used."""

    component: str
    kind: Kind
    fact: int
    spec: str
    why: str = ""
    said: Quantity = Quantity()
