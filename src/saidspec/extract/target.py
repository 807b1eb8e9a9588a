"""Which component stands beside a value: by the words right around it, else what the sentence and the note speak of."""

from __future__ import annotations

from dataclasses import replace

from saidspec.discourse.attach import Target
from saidspec.discourse.attention import NOUNS_OF_MEASURE
from saidspec.discourse.completion import leans, of_both
from saidspec.extract.grammar import ARTICLES, BE
from saidspec.extract.mention import OPPOSITE, Mention, placed
from saidspec.extract.scene import Scene

ASKING = frozenset({"takes", "wants", "needs", "take", "need", "want"})
ONE_OF_THE_NEW = frozenset({"one", "pair", "set", "unit"})
FORGOTTEN = 25  # tokens behind a part that is replaced, in text without stops
JUST_OFF = 12  # tokens in which "the new one" takes the place of the part that came off
SAYING = frozenset({"say", "says", "said", "stamped", "reads", "marked"})
SHOWING = frozenset({"made", "makes", "gave", "gives", "showed", "shows", "pulled", "held", "holds", "measured"})
ENDS_OF_A_BOLT = (("head",), ("nut",))  # "strut bolts, 19 on the head and 18 on the nut"
GAUGED = frozenset({"port", "gauge", "tester", "dial", "meter"})
AWAY = frozenset({"off", "from", "above", "below"})
LEVELS = frozenset({"floor", "ground", "deck", "bulkhead", "carpet"})  # what a height is told from
LEAST_TIGHTENED = 5  # below it a figure may count: "the bolts at 4 corners"
LISTED_REACH = 8  # tokens from a value to the next one of its list
PARTING = frozenset({"and", ",", ";"})


def beside(scene: Scene, start: int, end: int, length: bool, bare: bool = False) -> Target:
    """The component that stands beside tokens start..end.

    `length` allows "10 mm bolts", where the phrase right behind the value is its part; of a `bare` figure only a
    fastener or a plural is ("four pads", not "two caliper"), and of "one" a single thing.
    """
    near, completed = scene.near, scene.attention.completed
    prior = [other for other in near.before(start) if other.words not in NOUNS_OF_MEASURE]
    listed = _listed_place(scene, end)
    if listed is not None:
        return listed
    item = near.modified(start, end) if length and not (bare and tightened_to(scene, prior, start)) else None
    value = scene.page.lexemes[start].value if start < len(scene.page) else None
    counted = not bare or ((item is not None and (item.fastener or item.plural)) and (
        value is None or value == int(value))) or _one(scene, start)  # "coil two 0.9 plug wires fine": no count
    if item and item.words not in NOUNS_OF_MEASURE and counted:
        return Target(completed(item), "modifier", 0.85)
    item = near.named_after(end)
    if item:
        return Target(completed(item), "copula", 0.95)
    item = near.placed_after(start, end)
    if item:
        return Target(_at_place(scene, item, prior), "place", 0.9)
    item = near.governed(end)
    if item and not prior and _read_off(scene, start):
        return _in_focus(scene, start)
    if item:
        return _governed(scene, item, prior, start)
    found = _replacing(scene, prior, start) or _spoken_of(scene, prior, start) or _in_focus(scene, start)
    held = near.lasting(found.mention, start) if found.mention is not None else None
    return found if held is found.mention else replace(found, mention=held)


def tightened_to(scene: Scene, prior: list[Mention], start: int) -> bool:
    """"Slider bolts to 28 new pads fitted": a figure behind a fastener and "to" or "at" is no count of what follows."""
    page = scene.page
    if page.words(start + 1, start + 3) in (["new", "one"], ["of", "them"]):
        return False  # "swapped the bolts to ten new ones"
    if page.word(start - 1) == "to" and _told_to_tighten(scene, start - 2) and (
            page.lexemes[start].value or 0) >= LEAST_TIGHTENED:
        return True
    return page.word(start - 1) in ("to", "at") and bool(prior) and prior[0].fastener and (
        start - 1 - prior[0].end <= 1) and (page.lexemes[start].value or 0) >= LEAST_TIGHTENED


def _told_to_tighten(scene: Scene, at: int) -> bool:
    """"Bolts greased and torqued to | 44 tyre pressures checked", "done up to", "nipped them up to"."""
    page, verbs = scene.page, scene.words.tightening
    if page.word(at) == "up":
        at -= 1 + (page.word(at - 1) in ("them", "it", "those"))
        return page.word(at) in verbs or page.word(at) in ("done", "did")
    return page.word(at) in verbs


def _listed_place(scene: Scene, end: int) -> Target | None:
    """"2.5 mil nearside 3 mil offside handbrake cable stretched": a value behind one with a mere place has one, too.

    The part named behind the place begins the next statement, unless it is the same part again.
    """
    last, page, near = scene.memory.last, scene.page, scene.near
    if last is None or last.kind != "measurement" or last.mention is None or end - last.end > LISTED_REACH:
        return None
    first = _mere_place(scene, last.end)
    place = end + 1 if page.word(end) in ("on", "at") else end
    item = near.by_start.get(place + 1 if page.word(place) == "the" else place)
    if first is None or item is None or not item.words or {*item.words} & {*last.mention.words}:
        return None
    axis = next((axis for axis, said in first.positions if item.axis(axis) == OPPOSITE.get(said)), None)
    if axis is None or item.end - item.start < 2:
        return None
    return Target(placed(last.mention, dict(last.mention.positions) | {axis: item.axis(axis) or ""}), "place", 0.85)


def _mere_place(scene: Scene, at: int) -> Mention | None:
    """The position alone that stands right behind a value: "4 mil inner", "4 mil on the inner"."""
    while scene.page.word(at) in ("on", "at", "the"):
        at += 1
    item = scene.near.by_start.get(at)
    return item if item is not None and item.kind == "position" else None


def _one(scene: Scene, at: int) -> bool:
    """Whether a token is the word "one"."""
    lex = scene.page.lexemes[at]
    return scene.page.word(at) == "one" or (lex.kind == "number" and lex.value == 1 and lex.form == "words")


def _governed(scene: Scene, item: Mention, prior: list[Mention], start: int) -> Target:
    """The phrase behind "for" or "on", unless that only says where: "drain plug takes 24 for the sump"."""
    last = scene.memory.last
    if item.words in (*ENDS_OF_A_BOLT, ("bolt",)) and last is not None and last.mention is not None and (
            start - last.end <= 6 and not {"head", "nut"}.isdisjoint(scene.page.words(last.end, start))):
        return Target(last.mention, "topic", 0.8)  # the second of the two, "18 on the nut"
    full = _at_place(scene, item, prior)
    if prior and item.words in ENDS_OF_A_BOLT and prior[0].fastener:
        return Target(prior[0], "topic", 0.85)
    page = scene.page
    led = page.word(item.start - 2) if page.word(item.start - 1) in ARTICLES else page.word(item.start - 1)
    if prior and led in AWAY and item.kind == "part" and not prior[0].fastener and start - prior[0].end <= 4 and (
            item.head in LEVELS):
        return Target(prior[0], "topic", 0.85)  # "the pedal bites about 40 mm off the floor"
    if prior and item.kind == "part" and _only_where(scene, item, prior[0], start):
        return Target(prior[0], "topic", 0.85)
    if prior and item.kind == "part":
        asking = not ASKING.isdisjoint(scene.page.words(prior[0].end, start))
        named = scene.near.by_start.get(prior[0].start, prior[0]).words  # "lock nuts are 9 mm on the intakes"
        loosely = prior[0].fastener and named and scene.page.classes.loosely_named.issuperset(named[:-1])
        if loosely and not asking and not item.fastener and named[-1] not in (*item.words, "plug", "cap") and (
                _touching(scene, prior[0], start)):
            return Target(replace(full, words=(*full.words, *named), kind="fastener"), "for", 0.9)
        if asking or (prior[0].fastener and _touching(scene, prior[0], start)):
            places = {axis: place for axis, place in item.positions if axis in ("end", "height")}
            held = placed(prior[0], places | dict(prior[0].positions))  # "flange nuts 25 on the front pipe"
            return Target(held if prior[0].fastener else prior[0], "topic", 0.9)
    return Target(full, "for", 0.85)


def _read_off(scene: Scene, start: int) -> bool:
    """"It says MIN TH 4.0 on the carrier": of what was spoken of, wherever it is written."""
    page = scene.page
    first = page.sentence_start(start)
    return page.word(first) == "it" and bool(scene.attention.history) and (
        not SAYING.isdisjoint(page.words(first, start)))


def _only_where(scene: Scene, item: Mention, subject: Mention, start: int) -> bool:
    """"The left blade is down to 2.1 mm at the wing", "it says minimum 4.5 on the carrier": no more than a place."""
    page = scene.page
    between = page.words(subject.end, start)
    told = not (SAYING | BE | SHOWING).isdisjoint(between)
    before = page.word(item.start - 2) if page.word(item.start - 1) in ARTICLES else page.word(item.start - 1)
    gauged = before == "at" or item.head in GAUGED  # "it made 175 bar on the test port"
    return told and (gauged or not SAYING.isdisjoint(between)) and not leans(page, subject)


def _at_place(scene: Scene, item: Mention, prior: list[Mention]) -> Mention:
    """A phrase completed; a mere position is that of the part named before it in the sentence."""
    full = scene.attention.completed(item)
    if item.kind != "position" or not prior or not prior[0].words or full.words == prior[0].words:
        return full
    near = next((other for other in prior if not leans(scene.page, other)), prior[0])
    said = scene.attention.completed(replace(item, words=near.words, kind=near.kind))
    return placed(near, dict(near.positions) | dict(said.positions))


def _touching(scene: Scene, mention: Mention, start: int) -> bool:
    return start - mention.end <= 3 and PARTING.isdisjoint(scene.page.words(mention.end, start))


def _replacing(scene: Scene, prior: list[Mention], start: int) -> Target | None:
    """"New pair is RS-4471", after "the old shocks": the part that the new one takes the place of."""
    page = scene.page
    if ONE_OF_THE_NEW.isdisjoint(page.words(start - 4, start)) or "new" not in page.words(start - 6, start):
        return None
    removed = scene.attention.removed
    replaced = removed if removed is not None and start - removed.end <= JUST_OFF else next(
        (other for other in scene.attention.recent(15) if other.is_old and other.words), None)
    if replaced is None or any(other.start >= start - 4 and not other.general for other in prior):
        return None
    last = scene.attention.history[-1] if scene.attention.history else replaced
    if last.start > replaced.start and _turned_to(scene, last, replaced, start):
        return None  # "the old gasket is hard. Right, the tensioner. New one is TN-0372"
    return Target(replaced, "focus", 0.75)


def _turned_to(scene: Scene, last: Mention, replaced: Mention, start: int) -> bool:
    """Whether the talk has turned from the part that is replaced to another one."""
    page = scene.page
    if not last.plural and not {"pair", "ones", "set"}.isdisjoint({*page.words(start - 4, start)}):
        return False  # "dust gaiter is all right. New pair is RS-4471"
    away = page.sentence[start] - page.sentence[replaced.start] > 1 or start - replaced.end > FORGOTTEN
    return away and last.kind == "part" and last.words != replaced.words and not (
        last.oblique or leans(page, last) or last.head in page.classes.loose)


def _spoken_of(scene: Scene, prior: list[Mention], start: int) -> Target | None:
    """The part named before the value in its sentence; one that only says where ("off the knuckle") comes last."""
    if not prior:
        return None
    if prior[0].oblique:
        plain = next((other for other in prior if not other.oblique), None)
        if plain is not None:
            return Target(plain, "topic", 0.8)
        page = scene.page
        earlier = next((other for other in scene.attention.recent(4) if not other.oblique and other.words), None)
        if earlier and start - prior[0].end > 2 and page.sentence[start] - page.sentence[earlier.start] <= 1:
            return Target(earlier, "focus", 0.7)
    if len(prior) > 1 and _lies_at(scene, prior[1], prior[0], start):
        said = scene.near.by_start.get(prior[1].start, prior[1])
        return Target(placed(prior[1], dict(prior[1].positions) | dict(prior[0].positions) | dict(said.positions)),
                      "topic", 0.8)
    return Target(prior[0], "topic", 0.9 if start - prior[0].end < 8 else 0.8)


def _lies_at(scene: Scene, part: Mention, place: Mention, start: int) -> bool:
    """"The cooler line at the radiator was weeping, that's a 5/8": of the line, which lies at the radiator."""
    page = scene.page
    told = page.word(place.end) in BE or place.end == start  # "bulb in the right indicator 21 W"
    return leans(page, place) and told and place.start - part.end <= 2 and bool(part.words) and (
        not part.general and part.head not in page.classes.measured)


def _in_focus(scene: Scene, start: int) -> Target:
    """What attention is on where the sentence names no part."""
    attention, sentence = scene.attention, scene.page.sentence
    main = attention.main(start)
    if main is not None:
        return Target(main, "focus", 0.55)
    if attention.history:
        last = of_both(scene.page, attention.recent(3), _subject(scene, attention.history[-1]))
        return Target(last, "focus", 0.8 if sentence[start] - sentence[last.start] <= 1 else 0.6)
    return Target(None, "none", 0.5)


def _subject(scene: Scene, last: Mention) -> Mention:
    """The part that a sentence is about, where it ends with a mere place: "the cable is frayed at the clip"."""
    page = scene.page
    if not (last.oblique or leans(page, last)) or last.head in page.classes.fluids:
        return last
    here = [item for item in scene.attention.recent(6) if page.same_sentence(item.start, last.start)]
    told = scene.memory.recent[-1] if scene.memory.recent else None
    if len(here) == 1 and told is not None and told.mention is not None and last.oblique and (
            page.same_sentence(told.anchor, last.start) and told.end <= last.start):
        return told.mention  # "new one is TN-55, 46 quid with its sealing ring. The old one was TN-50"
    return next((item for item in here if item.words and not item.oblique and not leans(page, item) and (
        item.head not in page.classes.fluids and item.head not in page.classes.instruments)), last)
