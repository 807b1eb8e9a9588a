"""What a value is a fact of."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.model import Kind


@dataclass(frozen=True, slots=True)
class Sort:
    """The kind of a value, its role and its unit; `no_fact` where a rule knows that it is none.

    `assertion` other than "stated" is one that the value's own words settle, whatever cue stands around it.
    """

    kind: Kind | None
    role: str | None = None
    unit: str | None = None
    rule: str = ""
    no_fact: bool = False
    assertion: str = "stated"
