"""A fact against a specification as its kind asks: as text, as a quoted claim, or as a number."""

from __future__ import annotations

import re

from saidspec.model import Fact, Specification
from saidspec.reconcile.compare import Verdict, compare_claim, compare_numbers

# ISO 4000-1 and ISO 4223: width / profile, construction, rim (recalled from memory).
TYRE = re.compile(r"^(?:LT|P|ST)?(\d{2,3}(?:\.\d+)?)(?:/(\d{2,3}))?\s?(ZR|R|B|D|-)?\s?(\d{1,2}(?:\.5)?)(?!\d)")
RADIAL = re.compile(r"\d\s?z?r\s?\d|\br\b|\bare\b|radial")


def compare(fact: Fact, spec: Specification) -> Verdict | None:
    """A fact against a specification: a claim where the note quotes it, a measurement or setting otherwise."""
    if spec.code is not None or fact.code is not None:
        return compare_designations(fact, spec)
    return compare_claim(fact, spec) if fact.assertion == "quoted" else compare_numbers(fact, spec)


def tyre_size(code: str) -> tuple[str, ...] | None:
    """Width, profile and rim of a tyre's designation, and its construction or ""; load and speed left aside."""
    found = TYRE.match(code.upper())
    return (*found.group(1, 2, 4), (found[3] or "").strip("- ")) if found else None


def compare_designations(fact: Fact, spec: Specification) -> Verdict | None:
    """A designation against the sheet's, as far as both say: `M6` agrees with `M6x1`; 130/70R12 with 130/70-12 where
    nobody said the R.
    """
    if not fact.code or not spec.code:
        return None
    tyre, other = tyre_size(fact.code), tyre_size(spec.code)
    if tyre and other:
        alike = tyre == other or (tyre[:3] == other[:3] and not RADIAL.search(fact.provenance.quote.lower()))
        return Verdict(alike, "the same" if alike else "another designation", "none: designations are equal or not")
    said, wanted = (re.sub(r"[\s\-]", "", code).upper().replace("×", "X") for code in (fact.code, spec.code))
    if said[:1] != wanted[:1]:
        return None  # a star bit says nothing against a thread
    shorter, longer = sorted((said, wanted), key=len)
    agrees = said == wanted or (said[:1] == "M" and longer.startswith(shorter + "X"))
    return Verdict(agrees, "the same" if agrees else "another designation", "none: designations are equal or not")
