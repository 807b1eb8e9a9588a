"""Which fluid a volume, a grade or a freezing point is of."""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.attach import Target
from saidspec.extract.mention import Mention, placed
from saidspec.extract.scene import Scene

POURED_LATELY = 40  # tokens in which a volume goes on about the fluid of the one before it
FUELLED = 12  # tokens in which a fuel is named before its volume: "old petrol out of the tank, 3 litres"
AHEAD = 6  # tokens from the value in which its fluid is named: "two litres of gear oil"
ADDITIVES = frozenset({"fuel-additive", "fuel-stabiliser", "biocide"})
CLEAN = frozenset({"the", "clean", "fresh"})  # said of a consumable between "of" and its name
READY_MIXED = ("petrol",)  # "premix" is of the fuel or of the coolant, as is spoken of
WITHOUT_PLUGS = ("brakes", "clutch", "steering", "climate")  # systems whose fluid no plug lets out
WITH_PLUGS = ("lubrication", "transmission", "driveline", "hydraulics", "outboard", "cooling")
LEGS = {"leg", "fork"}  # parts with a fluid of their own on each side
OF_FORKS = LEGS | {"damper", "stanchion"}
EACH_REACH = 4  # tokens from a volume to "in each"
FORKED = 12  # mentions in which a fork is spoken of
A_LEG = {("a", "leg"), ("per", "leg"), ("each", "leg")}  # "485 ml a leg"
FUELS = frozenset({"gas", "petrol", "diesel", "fuel"})
OWN_FLUIDS = ("steering", "hydraulics")  # systems that run on ATF all the same
OF_NO_FLUID = ("axle", "hub")  # what is filled with one fluid or another: "front axle, 3 pints"
NOT_BY_GRADE = ("motorcycle", "hydraulics", "suspension", "transmission")  # oils of their own under the same grades


def fluid_meant(scene: Scene, target: Target, at: int) -> Target:
    """The fluid: said beside the value, else of the part's system, else by its grade, else spoken of last."""
    mention = target.mention
    if target.manner in ("topic", "focus", "none") and any(
            tuple(scene.page.words(i, i + 2)) in A_LEG for i in range(at + 1, at + 4)):
        return Target(Mention(0, 0, ("fork", "oil"), (), "part", "motorcycle", False), "for", 0.8)
    named = _stuff_of(scene, at)
    if named is not None:
        return Target(named, "for", 0.85)
    stuff = _poured_in(scene, at) if target.manner in ("topic", "focus", "none") else None
    if stuff is not None:
        return Target(stuff, "for", 0.8)
    if mention is not None and mention.head == "water" and scene.attention.system == "cooling" and (
            target.manner in ("topic", "focus") and at - mention.end > 1):
        return Target(replace(mention, words=("coolant",), positions=(), system="cooling"), "focus", 0.7)
    if mention is not None and (is_fluid(scene, mention) or (target.manner == "modifier" and mention.head == "tank")):
        return target  # "a six gallon tank" is told of the tank
    said = _said_beside(scene, at)
    if said is not None:
        return said
    if mention is not None and mention.head in OF_NO_FLUID and target.manner in ("topic", "for") and (
            _by_grade(scene, at) is None):
        return target
    own = mention.system if mention is not None and target.manner != "focus" else ""
    name = _of_system(scene, own) or _by_grade(scene, at)
    drained = _by_a_plug(scene, mention)
    spoken = _spoken_lately(scene, target, at, drained) if name is None else None
    if spoken is not None:
        return spoken
    name = name or _of_the_work(scene, at, drained)
    if name:
        base = mention or Mention(0, 0, (), (), "part", own, False)
        return Target(replace(base, words=tuple(name.split()), positions=(), kind="part"), "focus", 0.7)
    earlier = next((item for item in scene.attention.recent() if item.head in scene.words.filled_fluids), None)
    return Target(earlier, "focus", 0.6) if earlier else target


def _spoken_lately(scene: Scene, target: Target, at: int, drained: bool) -> Target | None:
    """A fluid named, or poured, a little before the value."""
    mention = target.mention
    recent = next((item for item in scene.attention.recent(8) if item.head in scene.words.filled_fluids), None)
    if recent is not None and not (drained and recent.system in WITHOUT_PLUGS) and (
            mention is None or recent.system == mention.system or at - recent.end < 60):
        return Target(recent, "focus", 0.75)
    poured = next((draft for draft in reversed(scene.memory.recent) if draft.kind == "volume"), None)
    if poured is not None and poured.mention is not None and at - poured.end <= POURED_LATELY and (
            (is_fluid(scene, poured.mention) or poured.mention.head in FUELS) and (
                mention is None or target.manner == "focus")):
        return Target(poured.mention, "focus", 0.7)
    return None


def _of_the_work(scene: Scene, at: int, drained: bool) -> str | None:
    """The fluid of the system that is worked on; of what a plug lets out, of a system that has one."""
    attention = scene.attention
    name = None
    for system in (attention.leading_system(), attention.system, attention.job):
        name = name or (_of_system(scene, system) if not (drained and system in WITHOUT_PLUGS) else None)
    if name is None and drained:
        name = _of_system(scene, next((item.system for item in attention.recent() if item.system in WITH_PLUGS), ""))
        if name is None and "filter" in scene.page.words(at - 20, at + 8):
            name = "engine oil"
    if name is None and attention.system == "motorcycle" and any(
            OF_FORKS & {*item.words} for item in attention.recent(FORKED)):
        name = "fork oil"
    return name


def _stuff_of(scene: Scene, at: int) -> Mention | None:
    """"3.5 litres of distilled water": the consumable that is named behind "of", and not the fluid told before it."""
    page = scene.page
    of = next((i for i in range(at + 1, at + 4) if page.word(i) == "of"), None)
    if of is None or not page.same_sentence(at, of):
        return None
    found = next((item for i in range(of + 1, of + 4) if (item := page.starting("material", i))), None)
    said_of_it = page.classes.value_adjectives | page.classes.fluid_qualities | CLEAN
    if found is None or found.term.id in READY_MIXED or not said_of_it.issuperset(page.words(of + 1, found.start)):
        return None
    return Mention(found.start, found.end, tuple(page.norm[found.start : found.end]), (), "part", "", False)


def _poured_in(scene: Scene, at: int) -> Mention | None:
    """"20 ml of stabiliser", "biocide, about 2 ounces": what is put into a fluid, named right beside its volume."""
    page = scene.page
    found = next((item for i in (*range(at + 1, at + 5), *range(at - 4, at)) if (item := page.starting("material", i))
                  and item.term.id in ADDITIVES and page.same_sentence(at, i)), None)
    return None if found is None else Mention(
        found.start, found.end, tuple(page.norm[found.start : found.end]), (), "part", "fuel", False)


def of_the_leg(scene: Scene, target: Target, at: int) -> Target:
    """The fluid poured into or out of a fork leg, at the side of the leg spoken of: "right leg now, 350 came out"."""
    mention = target.mention
    if mention is None or not is_fluid(scene, mention):
        return target
    if _in_each(scene, at):
        return replace(target, mention=placed(mention, {a: b for a, b in mention.positions if a != "side"}))
    if mention.axis("side"):
        return target
    leg = next((item for item in scene.attention.recent(5) if LEGS & {*item.words} and item.axis("side")), None)
    if leg is None or scene.page.sentence[at] - scene.page.sentence[leg.start] > 2:
        return target
    return replace(target, mention=placed(mention, dict(mention.positions) | {"side": leg.axis("side") or ""}))


def _in_each(scene: Scene, at: int) -> bool:
    """"410 ml in each", "410 ml each": of both, whichever was spoken of last."""
    last = scene.memory.last
    if last is not None and last.rule == "count.containers":
        return False  # "two bottles of fork oil, one litre each"
    words = scene.page.words(at + 1, at + EACH_REACH)
    return words[1:2] == ["each"] or words[1:3] in (["in", "each"], ["into", "each"], ["in", "both"])


def is_fluid(scene: Scene, mention: Mention) -> bool:
    """Whether a phrase names a fluid."""
    return mention.head in scene.words.fluid_names


def _said_beside(scene: Scene, at: int) -> Target | None:
    """The fluid named behind the value ("2 litres of ATF") or before it in its sentence."""
    page, near = scene.page, scene.near
    named = next((found for i in range(at, at + AHEAD) if (found := page.starting("fluid", i))), None)
    for i in range(at + 1, at + 4):
        if page.word(i) == "of" and page.word(i + 1) in FUELS and page.same_sentence(at, i):
            return Target(Mention(i + 1, i + 2, (page.word(i + 1),), (), "part", "fuel", False), "for", 0.85)
    own = scene.attention.system in OWN_FLUIDS and any(
        page.starting("system", i) for i in range(max(page.sentence_start(at), at - 14), at))
    if named and own and page.norm[named.start] == "atf":
        return None  # "power steering was low, put in half a pint of ATF"
    if named and page.same_sentence(at, named.start) and "of" in page.words(at, named.start):
        words = tuple(page.norm[named.start : named.end])
        return Target(Mention(named.start, named.end, words, (), "part", "", False), "for", 0.8)
    before = next((found for found in reversed(page.found.get("fluid", ())) if 0 <= at - found.end <= FUELLED), None)
    if before is not None and before.term.meant and page.same_sentence(before.start, at) and (
            "with" in page.words(before.start - 2, before.start)):
        words = tuple(before.term.meant.split())  # "filled her with UTTO from the drum, 33 litres"
        return Target(Mention(before.start, before.end, words, (), "part", "", False), "topic", 0.8)
    fuel = next((page.word(i) for i in range(at - 1, max(page.sentence_start(at), at - FUELLED) - 1, -1)
                 if page.word(i) in page.classes.fuels), None)
    if fuel:
        return Target(Mention(0, 0, (fuel,), (), "part", "fuel", False), "topic", 0.8)
    beside = next((near.by_start[i] for i in range(at, at + AHEAD) if i in near.by_start), None)
    if beside and is_fluid(scene, beside) and page.same_sentence(at, beside.start):
        return Target(scene.attention.completed(beside), "for", 0.9)
    here = next((item for item in near.before(at) if is_fluid(scene, item) and item.head != "grease"), None)
    return Target(here, "topic", 0.85) if here else None


def _of_system(scene: Scene, system: str) -> str | None:
    found = scene.lexicon.systems.get(system)
    return found.fluid if found and found.fluid else None


def _by_a_plug(scene: Scene, mention: Mention | None) -> bool:
    """Whether the talk is of a drain or fill plug, or of an oil filter: no brake and no clutch has these."""
    heard = [*([mention] if mention is not None else []), *scene.attention.recent(3)]
    return any({"drain", "fill", "filler", "sump"} & {*item.words} and "plug" in item.words for item in heard)


def _by_grade(scene: Scene, at: int) -> str | None:
    """An engine oil or a gear oil by its viscosity grade nearby (SAE J300, SAE J306)."""
    page = scene.page
    if scene.attention.system in NOT_BY_GRADE:
        return None
    for i in range(max(0, at - 10), min(len(page), at + 10)):
        lex = page.lexemes[i]
        if lex.kind == "code" and lex.form == "viscosity" and "W-" in lex.text and page.same_sentence(at, i):
            return "engine oil" if int(float(lex.text.split("W")[0])) <= 20 else "gear oil"
    return None
