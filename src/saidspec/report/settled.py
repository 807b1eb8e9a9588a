"""Whether a follow-up looks done: what later notes tell of the same part, in whatever words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from saidspec.record.entries import Entry
from saidspec.report.lines import line
from saidspec.report.parts import is_fluid, may_be

LOOKED = frozenset({"inspect", "test", "measure", "adjust", "tighten", "repair", "replace", "rotate"})
# What was to be done -> the work that does it, or makes it needless.
DOES: dict[str, frozenset[str]] = {
    "inspect": LOOKED, "test": LOOKED, "measure": LOOKED,
    "tighten": frozenset({"tighten", "inspect", "repair", "replace"}),
    "adjust": frozenset({"adjust", "repair", "replace"}),
    "clean": frozenset({"clean", "flush", "repair", "replace"}), "lubricate": frozenset({"lubricate", "replace"}),
    "install": frozenset({"install", "repair", "replace"}), "replace": frozenset({"install", "repair", "replace"}),
    "repair": frozenset({"install", "repair", "replace"}), "bleed": frozenset({"bleed", "flush", "replace"}),
    "flush": frozenset({"bleed", "flush", "replace", "drain"}), "drain": frozenset({"drain", "flush", "replace"}),
}  # fmt: skip
RENEWED = frozenset({"replace", "drain", "flush", "bleed"})  # a fluid
CHECKED = frozenset({"inspect", "test", "measure"})


def settled(follow_up: Entry, said: Mapping[str, Sequence[Entry]]) -> Entry | None:
    """The first entry of a later day that shows a follow-up done; a person is asked to confirm it.

    `said` are the entries by component, in order of time.  To have checked a thing is to have worked on it, found
    something of it, or measured or torqued it again.
    """
    component, day = follow_up.fact.component, follow_up.day
    if not component or not day:
        return None
    own = (one for name, some in said.items() if may_be(name, component, "operation") for one in some)
    later = [one for one in own if one.day and one.day > day and _shows(follow_up, one)]
    return min(later, key=lambda one: (one.day or day, one.fact.id), default=None)


def by_component(entries: Iterable[Entry]) -> dict[str, list[Entry]]:
    """Entries by component, in their order."""
    told: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.fact.component:
            told.setdefault(entry.fact.component, []).append(entry)
    return told


def told(entry: Entry) -> str:
    """What shows that it is done, in words: "inspected wheel nut on 2026-05-09"."""
    return f"{line(entry).text} on {entry.day.isoformat() if entry.day else ''}"


def _shows(follow_up: Entry, other: Entry) -> bool:
    """Whether the kind of an entry is one by which a follow-up may be done."""
    wanted, fact = follow_up.fact.action or "", other.fact
    if other.rejected or fact.assertion != "stated":
        # "no leaks" tells that somebody looked
        return wanted in CHECKED and fact.kind == "observation" and fact.assertion == "negated" and not other.rejected
    if fact.kind == "operation":
        fluid = wanted in RENEWED and is_fluid(follow_up.fact.component or "")
        return not wanted or fact.action in DOES.get(wanted, {wanted}) or (fluid and fact.action in RENEWED)
    if fact.kind == "part_number":
        return wanted in ("replace", "install") and fact.role in ("installed", None)
    if fact.kind == "torque":
        return wanted in CHECKED or wanted == "tighten"
    if fact.kind == "volume":
        return fact.role == "added" and (wanted == "fill" or (wanted in CHECKED and is_fluid(fact.component or "")))
    return fact.kind in ("observation", "measurement") and wanted in CHECKED
