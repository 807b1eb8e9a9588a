"""What was done: an action told by a verb or by a noun, with the part it was done to."""

from __future__ import annotations

from dataclasses import replace

from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES, MANY, ONE
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Found, Passage
from saidspec.extract.quantity import number_at
from saidspec.extract.surroundings import Surroundings
from saidspec.extract.verbs import SMALL, verbal

BE = frozenset({"is", "was", "were", "are", "been", "got", "get", "gets", "being", "'s", "be", "had", "has", "have",
                "getting", "'re", "both", "all", "now", "already"})
ANOTHER = frozenset({"and", "then", "so", "but", "after", "i", "we", ","})  # the verb has a subject of its own
NO_SUBJECT = ("the", "my")  # behind a verb whose subject did it: "kit was 40, scraped the old gasket off"
OVER = ARTICLES | SMALL  # between a verb and its object
ONTO = frozenset({"on", "onto", "to", "in", "into", "down", "over", "around", "between", "behind"})
OBJECT_REACH = 8
FLUID_ACTIONS = ("drain", "fill")
MEASURING = ("adjust", "measure", "inspect", "test", "reset", "install", "replace")  # what may be done to a measure
WHOLE_ACTIONS = ("drain", "fill", "flush", "bleed")
TURN_REACH = 4  # tokens from a verb to the turns that were given
TURNED, TURNED_AT = frozenset({"turn", "flat", "notch"}), frozenset({"at", "on"})


def operation(around: Surroundings, found: Found) -> Draft | None:
    """The operation of a verb: with what follows it, else with what stands before it, else with what is meant."""
    if not verbal(around, found):
        return None
    first = found.start + (found.term.detail != "noun")
    inner = next((item for at in range(first, found.end) if (item := around.near.by_start.get(at))), None)
    mention, end, manner = _about(around, found, _greased(around, found, inner or _object(around, found.end)))
    if found.term.id in WHOLE_ACTIONS:
        mention = _whole(around, found.term.id, mention, manner)
    if mention is not None and found.term.id not in MEASURING and len(mention.words) > 1 and (
            mention.head in around.page.classes.measured):
        mention = replace(mention, words=mention.words[:-1])  # "chain slack 48 mm. Cleaned it": the chain
    made = Draft("operation", found.start, max(found.end, end), found.start, mention, action=found.term.id,
                 rule=f"action.{found.term.id}", confidence=0.85 if manner != "focus" else 0.65,
                 manner=found.term.detail)
    told = found.term.detail == "past"
    if told and "nothing" in (around.page.word(found.start - 1), around.page.word(found.end)):  # "nothing adjusted"
        made.assertion, made.cue = "negated", "negated-forward"
    return made


def _greased(around: Surroundings, found: Found, item: Mention | None) -> Mention | None:
    """What oil is put on, and not the oil: "put a drop of oil on the hinge"."""
    page = around.page
    if found.term.id != "lubricate" or item is None or item.head not in page.classes.fluids or (
            page.word(item.end) not in ONTO):
        return item
    return _object(around, item.end + 1) or item


def _about(around: Surroundings, found: Found, after: Mention | None) -> tuple[Mention | None, int, str]:
    """(part, end of the words, how it was found) of a verb; `after` is the phrase behind it."""
    page = around.page
    prior = [item for item in around.near.before(found.start, 10) if item.words]
    if page.word(found.end - 1) == "with" and found.term.id != "replace":
        after = None  # "cleared it with a wire": what it was done with
    if found.term.id == "tighten" and after is not None and not after.fastener and _to_a_figure(page, found.end):
        after = None  # "greased and torqued to 44 tyre pressures checked"
    if found.term.id == "lubricate" and found.term.detail == "noun" and prior and after is not None and (
            after.start == found.end):
        after = None  # "terminals five and a smear of grease alternator puts out 14.3"
    passive = found.term.detail == "past" and bool(prior) and page.word(found.end) not in NO_SUBJECT and (
        _passive(page, found, prior[0]))
    if after and not passive:
        return around.attention.completed(after), after.end, "object"
    usual = around.lexicon.told.get((found.term.id, "usual"), ())
    word, place = _pronoun(page, found)
    if word and not passive:
        return around.meant(found.start, word, usual), place + 1, "pronoun"
    turned = None if passive else _turned_at(around, found.end)
    if turned:
        return around.attention.completed(turned), turned.end, "object"
    if passive or (prior and page.word(prior[0].end) in ("i", "we", "'s", "is")):
        return prior[0], found.end, "topic"
    nearest = prior[0] if prior else None
    meant = around.meant(found.start, "", usual)
    return (meant or nearest if usual else nearest or meant), found.end, "focus"


def _to_a_figure(page: Passage, end: int) -> bool:
    """"Torqued to 44": a figure stands behind the verb and "to"."""
    at = end if page.word(end - 1) == "to" else end + 1
    return page.word(at - 1) == "to" and number_at(page, at)


def _passive(page: Passage, found: Found, prior: Mention) -> bool:
    """The part stands before its verb: "bolts tightened", "the cover was cleaned".

    "Caliper, then cleaned the bracket" is active.
    """
    between = page.words(prior.end, found.start)
    if not between:
        return True
    return ANOTHER.isdisjoint(between) and (
        page.word(found.start - 1) in BE or (between[0] in BE and len(between) <= 3))


def _turned_at(around: Surroundings, end: int) -> Mention | None:
    """"Adjusted two turns at the cable": the part at which it was turned."""
    page = around.page
    at = next((at for at in range(end, end + TURN_REACH) if page.word(at) in TURNED), None)
    numbered = at is not None and any(lex.kind == "number" for lex in page.lexemes[end:at])
    return around.governed(at + 1, TURNED_AT) if numbered and at is not None else None


def _pronoun(page: Passage, found: Found) -> tuple[str, int]:
    """The pronoun inside or right behind a verb and its particle, and its place."""
    for at in (*range(found.start + 1, found.end), found.end, found.end + 1):
        word = page.word(at)
        if (word in ONE or word in MANY) and page.word(at + 1) not in ("one", "side", "end") and (
                at <= found.end or page.word(found.end) in SMALL):
            return word, at
    return "", found.end


def _object(around: Surroundings, end: int) -> Mention | None:
    """The component phrase behind a verb: over articles, adjectives, small words and a value."""
    page, by_start = around.page, around.near.by_start
    for at in range(end, min(end + OBJECT_REACH, len(page))):
        if not page.same_sentence(end - 1, at):
            return None
        item = by_start.get(at)
        if item is not None:
            return item if item.words or page.word(item.end - 1) != "back" else None
        term = page.starting("system", at) or (page.inside("doubtful", at) and page.starting("part", at)) or None
        if term:
            return Mention(at, term.end, tuple(page.words(at, term.end)), (), "part", term.term.system, False)
        if page.word(at) not in OVER and page.lexemes[at].kind != "number" and (
                not page.inside("finding", at) and not page.inside("material", at)):
            return None
    return None


def _whole(around: Surroundings, action: str, mention: Mention | None, manner: str) -> Mention | None:
    """What is drained or filled is the fluid or its vessel, not the plug that was named last."""
    if mention is not None:
        classes = around.page.classes
        if mention.head in classes.fluids or mention.head in classes.fuels or mention.head == "concentrate":
            return mention
        vessel = manner in ("object", "topic") and not mention.fastener and bool(mention.words)
        if vessel and (action not in FLUID_ACTIONS or manner == "object"):
            return mention
    fluid = around.fluid()
    if fluid is None:
        return mention
    return replace(fluid, words=fluid.words[:1]) if action == "bleed" and len(fluid.words) > 1 else fluid
