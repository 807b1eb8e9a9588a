"""What a measurement is of where no part is named: told by what was being done, or by the figure itself."""

from __future__ import annotations

from decimal import Decimal

from saidspec.discourse.attach import Target
from saidspec.extract.mention import Mention, Positions
from saidspec.extract.passage import Passage
from saidspec.extract.scene import Scene

UNNAMED = {"compression": "cylinder", "speed": "engine"}  # what is measured where no part is named
WIRED = ("electrical", "lighting", "ignition", "fuel", "trailer", "intake", "exhaust")  # systems with voltages
CHARGING = (Decimal("13.2"), Decimal("15"))  # volts that only a charging system gives (common practice)
PRESSURES_REACH = 16  # tokens from "pressures" to the last figure of their list
SAG_REACH = 10  # tokens from "sag" to its figures
MAKERS = ("alternator", "stator", "dynamo")


def unnamed_part(scene: Scene, role: str, target: Target, fits: bool, start: int) -> Target | None:
    """The part of a measurement at token `start` that no phrase names; `fits`: the target is measured so."""
    mention, loose = target.mention, target.manner == "focus"
    if role in UNNAMED and (mention is None or (not fits and (loose or mention.fastener))):
        return _of(UNNAMED[role], "engine", 0.6)
    if role == "temperature" and not fits and target.manner != "modifier" and (
            "engine" in scene.page.words(start - 8, start)):
        return _of("engine", "engine", 0.75)
    said = scene.near.by_start.get(mention.start) if mention is not None else None
    ends = said is not None and said.kind == "position" and (  # "fronts 32, rears 35", "left front was 19 psi"
        said.plural or {"side", "end"} <= dict(said.positions).keys())
    if role == "pressure" and not fits and (ends or pressures_said(scene.page, start)):
        places = said.positions if said is not None and said.kind == "position" else ()
        return Target(Mention(0, 0, ("tyre",), places, "part", "wheels", False), "focus", 0.7)
    if role == "slack" and not fits and target.manner != "for" and _sags(scene, mention, start):
        places = said.positions if said is not None and said.kind == "position" else ()
        held = places or (_places_of_last(scene, role) if loose or mention is None or mention.fastener else ())
        return Target(Mention(0, 0, ("suspension",), held, "part", "suspension", False), "focus", 0.65)
    if role == "voltage":
        return _wired(scene, target, fits, start)
    tested = "tester" in scene.page.words(start - 6, start) and "cooling" in (
        scene.attention.system, scene.attention.job)
    return _of("cooling system", "cooling", 0.75) if role == "pressure" and tested and (loose or not fits) else None


def pressures_said(page: Passage, start: int) -> bool:
    """"Pressures left front 31, right front 30": several pressures without a part are those of the tyres."""
    first = max(page.sentence_start(start), start - PRESSURES_REACH)
    return any(page.lexemes[at].text.lower() == "pressures" for at in range(first, start))


def _sags(scene: Scene, mention: Mention | None, start: int) -> bool:
    """"Axle nut 60, sag was 42 front": of the suspension, where no part is named right before it or since."""
    page = scene.page
    first = max(page.sentence_start(start), start - SAG_REACH)
    at = next((at for at in range(start - 1, first - 1, -1) if page.word(at) == "sag"), None)
    if at is None:
        return False
    said = scene.near.by_start.get(mention.start) if mention is not None else None
    if mention is None or said is None or said.kind == "position":
        return True
    return mention.end < at


def _places_of_last(scene: Scene, role: str) -> Positions:
    """The places of the value of that role that was told right before: "sag was 42 front, want 35"."""
    last = scene.memory.last
    told = last is not None and last.role == role and last.mention is not None and last.mention.head == "suspension"
    return last.mention.positions if told and last is not None and last.mention is not None else ()


def _of(name: str, system: str, confidence: float) -> Target:
    return Target(Mention(0, 0, tuple(name.split()), (), "part", system, False), "focus", confidence)


def _wired(scene: Scene, target: Target, fits: bool, start: int) -> Target | None:
    """"10.2 cranking", "charging at 14.1", "14.1 volts with everything on": of the battery, of what charges it."""
    page, mention, loose = scene.page, target.mention, target.manner == "focus"
    said = {*page.words(max(page.sentence_start(start), start - 8), start + 6)}
    if loose or not (fits or target.manner == "for"):
        if said & scene.words.battery_states:
            return _of("battery", "electrical", 0.7)
        if not said.isdisjoint(("charging", "charge")):
            return _of("charging system", "electrical", 0.7)
    value = page.lexemes[start].value
    if not loose or fits or (mention is not None and mention.system in WIRED) or value is None or not (
            CHARGING[0] <= value <= CHARGING[1]):
        return None
    maker = next((item for item in scene.attention.recent(20) if item.head in MAKERS), None)
    return Target(maker, "focus", 0.7) if maker else _of("charging system", "electrical", 0.6)
