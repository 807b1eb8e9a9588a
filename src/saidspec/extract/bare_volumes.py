"""Volumes without a unit: by words of pouring, of what is left, and by what was poured before."""

from __future__ import annotations

from saidspec.extract.place import Place
from saidspec.extract.sorts import Sort

OUT_VERBS = frozenset({"got", "had", "caught", "drew", "sucked", "tipped", "poured"})
IN_VERBS = frozenset({"put", "got", "poured", "tipped", "stuck", "had"})
ABOUT = frozenset({"about", "only", "maybe", "roughly", "around", "another"})
SMALL_VOLUMES = ("mL", "floz")
LEAVING = frozenset({"leaf", "leave", "leaving", "rest"})  # "that leaves", in its normal forms
RECENT, LATELY = 40, 120  # tokens since the last volume: for words of pouring, and for a verb with its "in" or "out"


def volume(place: Place) -> Sort | None:
    """"4.3 in total", "takes 3.5", "0.7 left" after a volume with its unit."""
    item = place.item
    unit = place.memory.unit("volume", None, item.value)
    if unit is None or place.article or item.form == "plural" or (item.value > 60 and unit not in SMALL_VOLUMES):
        return None
    after = place.after(3)
    if place.counts_things() or item.value <= 0 or place.names_another(None):
        return None
    if place.lead in LEAVING and place.memory.since("volume", item.start) <= RECENT:
        return Sort("volume", "left over", unit, "volume.bare")  # "one bottle of a litre, so that leaves 580"
    if place.lead == "bought" and place.memory.since("volume", item.start) <= RECENT:
        return Sort("volume", "bought", unit, "volume.bare")
    if {*after[:1]} & {"left", "remaining", "leftover", "remain"} and after[1:2] not in (["and"], ["hand"], ["side"]):
        return Sort("volume", "left over", unit, "volume.bare")
    if place.hint("measurement", 2):
        return None
    since = place.memory.since("volume", item.start)
    role = _poured(place) or _filled(after) if since <= RECENT else None
    role = role or (_moved(place, after) if since <= LATELY else None)
    if role is None:
        return None
    return Sort("volume", role, unit, "volume.bare")


def _poured(place: Place) -> str | None:
    """The role by the one or two words right before: "takes", "poured in", "out came"."""
    words, before = place.scene.words, place.before(2)
    said = {" ".join(before), *before[-1:]}
    for role, forms in (("capacity", words.before_capacity), ("added", words.before_added),
                        ("drained", words.before_drained)):
        if said & forms:
            return role
    return None


def _moved(place: Place, after: list[str]) -> str | None:
    """"Only got 350 out", "put 467 in again", "467 has gone in": a verb before and where it went behind."""
    verb = place.lead if place.lead not in ABOUT else (place.before(2) or [""])[0]
    if verb in OUT_VERBS and after[:1] == ["out"]:
        return "drained"
    if verb in IN_VERBS and after[:1] in (["in"], ["back"]):
        return "added"
    said_before = ("volume", place.item.value) in place.memory.values
    return "added" if said_before and after in (["has", "gone", "in"], ["go", "in"], ["went", "in", "."]) else None


def _filled(after: list[str]) -> str | None:
    """Filled in, by the words right behind: "went in", "in total"."""
    if {*after[:2]} & {"total", "altogether"} or after[:2] in (["went", "in"], ["went", "back"], ["to", "fill"]):
        return "added"
    return "added" if after[:1] == ["in"] and after[1:2] in (["."], [","], ["and"]) else None
