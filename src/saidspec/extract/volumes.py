"""What was done with a volume: filled in, drained, bought, left over, or held in all."""

from __future__ import annotations

from saidspec.extract.passage import Passage
from saidspec.extract.quantity import Quantity, number_at
from saidspec.extract.roles import Hint
from saidspec.extract.scene import Scene
from saidspec.extract.sorts import Sort

ENDING_A_PHRASE = frozenset({",", ".", ";", "\n", "and", "so"})
HEADING = frozenset({":", ",", ".", "\n", ";", "oil", "fluid", "coolant", "and"})
IN_OR_OUT = {"out": "drained", "in": "added"}
LEFT = frozenset({"left", "remaining", "leftover", "spare"})
LEAVING = frozenset({"leaf", "leaving"})  # "that leaves", in its normal form
UNTIL = frozenset({"till", "until", "'til", "til", "before"})
OF_THE_FLUID = frozenset({"of", "the", "fresh", "new", "semi", "synthetic", "fully", "mineral", "oil", "coolant",
                          "went", "goes", "go", "straight"})
OF_OLD = (["of", "old"], ["of", "the", "old"], ["of", "used"], ["of", "dirty"])
LISTED_REACH = 8  # tokens between two volumes of one list
HELD_BY = 12  # tokens from a number of containers to what each holds
AGAIN = frozenset({",", ";", "and", "then", "\n", "."})  # another volume may be told behind these
ENDS = frozenset({".", ",", ";", "", "\n", "and", "then"})
SIDE_AHEAD = ("one", "side", "hand", "gave")  # behind "left" as a side
FALLING = ("dropped", "fell", "sank")
OTHER_SIDE = 8  # tokens from "left" to "right"
ABOUT = ("only", "about", "just", "around", "nearly")
SIDE_BEHIND = frozenset({"the", "front", "rear", "upper", "lower", "inner", "outer"})  # before "left" as a side
ANOTHER_REACH = 15  # tokens from a volume to "another"
NOT_DRAINED = frozenset({"run", "find", "of"})  # before "out": "run out", "find out", "out of"


def volume(scene: Scene, item: Quantity, hints: list[Hint]) -> Sort:
    """A volume by the words right behind it, else by the nearest word of pouring before or after."""
    page = scene.page
    after = _until_number(page, item.end, 6)
    if after[:1] and after[0] in scene.words.engines:
        return Sort(None, rule="engine.size", no_fact=True)
    roles = [hint for hint in hints if hint.kind == "volume" and not names_a_side(page, hint.start) and (
        not _ends_a_name(page, hint.start))]
    own = any(hint.start < item.start for hint in roles)
    roles = [hint for hint in roles if not (own and _of_the_next(page, item, hint))]
    if _fell(page, item.start) and not any(hint.role == "added" for hint in roles):
        return Sort(None, rule="volume.fell")  # by how much it is low is neither in nor out: it is asked
    role = _role(scene, item, roles, after)
    return Sort("volume", role, item.unit, f"volume.{role.replace(' ', '-')}")


def _role(scene: Scene, item: Quantity, roles: list[Hint], after: list[str]) -> str:
    """The role, by the words of pouring (`roles`, nearest first) and the words behind the volume."""
    page = scene.page
    if page.word(item.start - 1) == "another":
        last = scene.memory.last
        drained = last is not None and last.kind == "volume" and last.role == "drained" and (
            item.start - last.end <= ANOTHER_REACH and not any(hint.role == "added" for hint in roles))
        return "drained" if drained else "added"
    if gave_out(page, item.start):
        return "drained"
    if page.word(item.start - 1) == ":" and page.word(item.start - 2) in IN_OR_OUT:
        return IN_OR_OUT[page.word(item.start - 2)]  # "old oil out: 430 ml"
    if after[:1] == ["rest"] and page.word(item.end + 1) in ENDS:
        return "left over"
    if not LEAVING.isdisjoint(scene.page.words(item.start - 3, item.start)):
        return "left over"
    left = LEFT.intersection(after[:5]) and not any(names_a_side(page, item.end + i) for i in range(len(after[:5])))
    if left and "to" not in after[:2]:
        return "left over"
    if _goes_in(page, item.end):
        return "added"
    if page.words(item.end, item.end + 3) in OF_OLD or page.words(item.end, item.end + 2) in OF_OLD:
        put = next((hint for hint in roles if hint.role == "added" and hint.start < item.start), None)
        return "drained" if put is None or page.word(put.start) == "gave" else "added"  # "gave 460 ml of old oil"
    last = scene.memory.last
    if "each" in after[:2] and not roles and last is not None and last.rule == "count.containers" and last.role and (
            item.start - last.end <= HELD_BY):
        return last.role  # "two bottles of fork oil, 10W, one litre each"
    if not roles and last is not None and last.kind == "volume" and last.role == "bought" and (
            item.start - last.end <= LISTED_REACH and _listed(page, last.end, item.start)):
        return "bought"  # "bought five litres of engine oil and a litre of gear oil"
    until = next((at for at in range(item.end, item.end + 8) if page.word(at) in UNTIL), None)
    roles = [hint for hint in roles if until is None or hint.start < until]
    nearest = roles[0].role if roles else "added"
    if (after[:1] and after[0] in scene.words.containers) or ("each" in after[:2] and nearest == "bought"):
        return "bought"
    if scene.page.word(item.start - 2) in HEADING and scene.page.word(item.start - 1) in IN_OR_OUT:
        return IN_OR_OUT[scene.page.word(item.start - 1)]  # "out 3.8 litres, in 4.0 litres"
    if _comes_out(item, roles, after, scene.words.containers):
        return "drained"
    if nearest == "bought" and roles[0].start > item.start and roles[0].distance >= 2 and len(roles) > 1:
        return roles[1].role  # "put in four litres, bought five"
    return nearest


def _ends_a_name(page: Passage, at: int) -> bool:
    """"The washer bottle": a word of buying that is the last one of a part's name."""
    before = (page.at.get("part", {}).get(at - back) for back in (1, 2))
    return any(item is not None and item.end == at + 1 for item in before)


def _listed(page: Passage, start: int, end: int) -> bool:
    """Only the fluid of the volume before, and what joins a list, stands between two volumes."""
    return not AGAIN.isdisjoint(page.words(start, end)) and all(
        page.word(at) in ("of", "and", ",", "plus") or page.lexemes[at].kind == "code" or any(
            page.inside(name, at) for name in ("part", "fluid", "material")) for at in range(start, end))


def _fell(page: Passage, start: int) -> bool:
    """"The level dropped about half a litre"."""
    at = start - 1
    while page.word(at) in (*ABOUT, "by", "maybe") and start - at < 4:
        at -= 1
    return page.word(at) in FALLING and "level" in page.words(at - 3, at)


def _of_the_next(page: Passage, item: Quantity, hint: Hint) -> bool:
    """"Drained 4.2 litres, | put in | 4.5 litres": behind a mark and right before a number, a word of the next one."""
    between = page.words(item.end, hint.start)
    return hint.start >= item.end and not AGAIN.isdisjoint(between) and any(
        number_at(page, at) for at in range(hint.end, hint.end + 3))


def _goes_in(page: Passage, at: int) -> bool:
    """"Drained the oil, 4.3 litres of 5W-30 in": the words and the grade of the fluid, and "in" at the end."""
    last = min(at + 7, page.sentence_end(at - 1))
    while at < last and (page.word(at) in OF_THE_FLUID or page.lexemes[at].kind == "code" or (
            page.inside("fluid", at) or page.inside("material", at) or page.inside("part", at))):
        at += 1
    if page.word(at) == "back" and page.word(at + 1) == "in":
        at += 1
    return page.word(at) == "in" and page.word(at + 1) in ENDS and page.word(at - 1) not in ("came", "left")


def names_a_side(page: Passage, at: int) -> bool:
    """"410 ml, left leg 455", "disc on the left": the left one, and nothing that is left."""
    return page.word(at) == "left" and (page.word(at + 1) in SIDE_AHEAD or page.word(
        at - 1) in SIDE_BEHIND or _one_of_two(page, at) or any(
        page.inside(name, at + 1) for name in ("part", "fastener", "head", "modifier")))


def _one_of_two(page: Passage, at: int) -> bool:
    """"Left 380 ml, right 350": two sides told in one way, each before its figure."""
    if not number_at(page, at + 1):
        return False
    other = next((i for i in range(at + 2, at + OTHER_SIDE) if page.word(i) == "right"), None)
    return other is not None and any(number_at(page, i) for i in (other + 1, other + 2)) and (
        page.same_sentence(at, other))


def gave_out(page: Passage, start: int) -> bool:
    """"Left leg gave 380 ml", "the right one only gave 350": what a part gave came out of it; not "gave it 350"."""
    gave = start - 1 - (page.word(start - 1) in ABOUT)
    giver = gave - 1 - (page.word(gave - 1) in ABOUT)
    return page.word(gave) == "gave" and page.same_sentence(giver, gave) and (page.word(giver) == "one" or any(
        page.inside(name, giver) for name in ("part", "head", "position", "fastener")))


def _comes_out(item: Quantity, roles: list[Hint], after: list[str], containers: frozenset[str]) -> bool:
    """"4.1 litres came out"; not where filling in is told right behind it, nor "out of the new can"."""
    if "out" not in after:
        return False
    at = after.index("out")
    if not UNTIL.isdisjoint(after[:at]) or (after[at + 1 : at + 2] == ["of"] and not containers.isdisjoint(after[at:])):
        return False  # "pumped in 14 ounces till it came out of the vent"
    behind = next((hint.role for hint in roles if hint.start >= item.end and hint.distance <= 2), None)
    return (at == 0 or after[at - 1] not in NOT_DRAINED) and behind != "added"


def _until_number(page: Passage, at: int, reach: int) -> list[str]:
    """The words from a token on, up to the next number or mark."""
    words: list[str] = []
    for i in range(at, min(at + reach, len(page))):
        if page.lexemes[i].kind in ("number", "code") or page.word(i) in ENDING_A_PHRASE:
            break
        words.append(page.norm[i])
    return words
