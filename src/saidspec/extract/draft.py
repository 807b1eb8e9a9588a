"""A fact in the making: what is found at some tokens, before its standing and its place in the note are settled."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from saidspec.extract.mention import Mention
from saidspec.model import Kind


@dataclass(slots=True)
class Draft:
    """A fact at tokens start..end (exclusive).  `anchor` is the token that says it (the number, the verb, the finding).

    `manner` tells how the component was found: modifier, for, copula, topic, place, focus or none.
    `bare` marks a unit that was not said but taken from the context.
    """

    kind: Kind
    start: int
    end: int
    anchor: int
    mention: Mention | None = None
    value: Decimal | None = None
    high: Decimal | None = None
    unit: str | None = None
    code: str | None = None
    angle: Decimal | None = None
    role: str | None = None
    action: str | None = None
    finding: str | None = None
    assertion: str = "stated"
    approximate: bool = False
    confidence: float = 0.95
    rule: str = ""
    cue: str | None = None
    manner: str = "none"
    bare: bool = False
    replaced_by: Draft | None = None
    dropped: bool = False  # said, but no fact of this vehicle
    back: bool = False  # carried over by a back reference
