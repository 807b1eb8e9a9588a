"""Which phrases tell where the work goes on, and which only tell of a value, of what is chocked, of the other side."""

from __future__ import annotations

from saidspec.extract.grammar import ARTICLES
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.mention import OPPOSITE, Mention
from saidspec.extract.passage import Passage

CHOCKED = frozenset({"chock", "chocked", "chocks", "chocking"})  # the wheels that nothing is done to
COMPARING = frozenset({"as", "than", "like", "and", "from", "with", "or"})
LEADING_ON = frozenset({"the", "on", "at", "for", "in"})  # between "as" and a place
SAME = frozenset({"same", "ditto", "likewise"})
SAME_REACH = 4  # tokens from "same" to the side it is told of
MOVING_ON = frozenset({"now", "next", "onto"})
BOTH_REACH = 8  # tokens between the two sides that are both told of
SIDED_ALONG = ("driveline", "trailer", "general")  # systems without sides whose parts lie at a corner all the same


def tells_of_another(page: Passage, before: Mention | None, said: Mention, axis: str = "side") -> bool:
    """"Left 4 mm, right 3 mm", "the same on the other side": both are told of, and the work is at neither.

    `before` is the completed phrase before the one that was `said`.
    """
    side = said.axis(axis)
    if said.words and (before is None or said.words != before.words[-len(said.words) :]):
        return False
    if not SAME.isdisjoint(page.words(max(said.start - SAME_REACH, page.sentence_start(said.start)), said.start)):
        return not compared(page, said)
    if page.word(said.end) in MOVING_ON or "side" in page.words(said.start, said.end + 1) or (
            not MOVING_ON.isdisjoint(page.words(said.start - 2, said.start))):
        return False  # "right side now", "now the right wheel"
    return before is not None and before.axis(axis) == OPPOSITE.get(side or "") and (
        page.same_sentence(before.start, said.start)) and said.start - before.end <= BOTH_REACH


def compared(page: Passage, said: Mention) -> bool:
    """"Same as the other side", "and the other side with it": spoken of, and not where the work goes on."""
    before = said.start - 2 if page.word(said.start - 1) in ARTICLES else said.start - 1
    return page.word(before) in COMPARING and said.start - page.sentence_start(said.start) > 3


def leaves_side(page: Passage, lexicon: Lexicon, full: Mention) -> bool:
    """"Left pads 3 mm ... battery 12.6 volts": another system, whose parts lie at no side, is now spoken of."""
    here = lexicon.systems.get(full.system)
    return here is not None and not here.sided and full.kind == "part" and not (
        full.oblique or full.system in SIDED_ALONG or full.head in page.classes.switched)


def says_corner(page: Passage, said: Mention) -> bool:
    """A wheel, a hub, a "side": there all is done."""
    return not page.classes.corner_parts.isdisjoint(said.words) or "side" in page.words(said.start, said.end + 1)


def opens_corner(page: Passage, said: Mention) -> bool:
    """A wheel, a hub or a "side", or a place that opens a sentence, says at which corner the work goes on.

    "New strut for the left is this, right one's that" is said of parts and not of where the work is.
    """
    opening = said.start - page.sentence_start(said.start) <= 2 and page.word(said.end) not in ("one", "ones")
    return opening or not page.punctuated or says_corner(page, said)


def chocked(page: Passage, mention: Mention) -> bool:
    """"Front wheels are chocked": what the vehicle stands on, and no place of work."""
    wheels = not mention.words or mention.head in ("wheel", "tyre")  # "fronts are chocked"
    return wheels and not CHOCKED.isdisjoint(page.words(mention.start - 2, mention.end + 3))


def source_of_values(page: Passage, mention: Mention) -> bool:
    """"Sizes as on the left", "27, same as the front": where a value comes from, and not what the talk is of now."""
    at = mention.start - 1
    while page.word(at) in LEADING_ON and mention.start - at < 4:
        at -= 1
    return page.word(at) == "as" and mention.kind == "position" and not mention.words


def in_another_entry(page: Passage, by: Mention, at: int) -> bool:
    """Whether a phrase stands in an entry of a list, and token `at` in another one."""
    said, number = page.note.utterances, page.utterance[by.start]
    return number != page.utterance[at] and number < len(said) and said[number].item


def goes_on_in_list(page: Passage, by: Mention | None, mention: Mention) -> bool:
    """Whether the side that the phrase `by` named in an entry of a list holds for a part in a later entry.

    An entry that begins with the part at that side tells of the work there ("- left caliper off"): what comes next of
    the same system is at that side, and behind a wheel, a hub or a mere place all that is there.  A side within an
    entry ("- 20 g on the rear, left side") is told of that entry alone.
    """
    if by is None or by.start - page.sentence_start(by.start) > 1:
        return False
    return by.system == mention.system or not by.words or by.head in page.classes.corner_parts
