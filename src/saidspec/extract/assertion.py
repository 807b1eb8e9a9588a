"""The standing of a value by the cues around it: quoted, planned, possible, historical, negated or stated."""

from __future__ import annotations

from saidspec.extract.cues_said import Cue, Cues
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage

VALUE_KINDS = frozenset({"torque", "volume", "size", "part_number", "fluid", "measurement", "odometer", "interval",
                         "cost", "date", "duration", "count"})
RANK = ("condition", "negated", "historical", "planned", "possible", "quoted")  # the first of them decides
ASKING = frozenset({"is", "was", "are", "isn't", "wasn't", "what", "did", "does", "do", "which", "how", "could",
                    "should", "were"})
# What a value of some kinds is not, whatever is said around it: the size of a nut is read off the nut, a part number
# off the part, a reading off the meter.  Only what is to be bought is a plan, only what a list says is quoted.
NEVER = {"size": ("quoted", "planned", "historical"), "part_number": ("quoted", "planned", "historical"),
         "odometer": ("planned",), "fluid": ("planned",)}
BUYING = frozenset({"order", "buy", "get", "ordering", "buying", "getting", "picking", "pick", "collecting", "collect"})
LISTS = frozenset({"book", "manual", "catalogue", "catalog", "list", "sheet", "chart", "diagram"})
SAID_OF = {("size", "planned"): BUYING, ("part_number", "planned"): BUYING, ("fluid", "planned"): BUYING,
           ("part_number", "quoted"): LISTS}
PRESENT = frozenset({"is", "'s", "are", "'re", "reads", "makes", "at"})
MINE = frozenset({"mine", "this", "ours", "i", "but"})

SOURCES = ("by-source", "source-says", "source-heads", "hearsay", "part-says")  # cues that name who says it
DUTY = frozenset({"should", "ought", "must", "wants", "supposed"})
BEFORE_DENIED = frozenset({"the", "a", "an", "at", "to", "that"})  # between "not" and the value
RIGHT = frozenset({",", "right", "yeah", "eh", "correct", "yes", "ok"})  # "18 newton metres, right?"
MODALS = frozenset({"would", "could", "should", "might"})  # "would that be 27"
# Words with which the speaker begins to doubt what was just said: "27, but I'm not sure", "if I've read that right".
DOUBTING = frozenset({"i", "i'm", "i'd", "i've", "i'll", "not", "don't", "can't", "couldn't", "if", "unless", "need",
                      "needs", "have", "would", "but", "though", "although", "as", "from", "so"})
SPEAKER = frozenset({"i", "i'm", "i'd", "i've", "i'll", "not", "can't", "don't", "need", "have", "memory"})
DOUBT_REACH = 10  # tokens of such a clause
WILL = frozenset({"will", "'ll", "i'll", "it'll"})
ROUNDS = frozenset({"to start with", "to begin with", "at first", "initially", "first thing"})
TOLD_ALL = frozenset({"told", "altogether", "total"})
SAID_SO = ("", ",", ".", "then", "\n")  # behind "M6 it is"
SHORT_QUESTION = 6  # tokens behind the value of a question that begins with it
ASKED_AS = (["was", "it"], ["was", "that"], ["is", "it"], ["is", "that"], ["were", "they"], ["are", "they"])

WANTING = frozenset({"wants", "want"})
NOBODY = Cue(0, 0, "quoted", "wants", False, 0, 0)  # what a part wants is said on nobody's word
TODAY_REACH = 8  # tokens from a value to the day it is of
BEHIND_TODAY = ("", ".", ";", "\n", "with", "and")  # "today" ends a statement; in "today I put six in" it begins one
JOINED = frozenset({"and", "but", "so", "then"})

Near = dict[str, tuple[int, Cue]]  # category → (tokens away, the cue)


def standing(cues: Cues, draft: Draft) -> tuple[str, str | None]:
    """(assertion, id of the cue) of a draft; a cue that stands nearer wins within one rank."""
    page, near = cues.page, _nearest(cues, draft)
    if "other" in near and MINE.isdisjoint(page.words(near["other"][1].end, draft.anchor)):
        return "other", near["other"][1].id
    if not near and draft.kind in VALUE_KINDS and _asked(page, draft):
        return "possible", "question"
    if not near and draft.kind in VALUE_KINDS and _hedged(page, draft):
        return "possible", "hedge-behind"
    _reread(cues, draft, near)
    if draft.kind in VALUE_KINDS and "planned" in near and "possible" in near and (
            near["planned"][1].end == near["possible"][1].start) and page.word(near["planned"][1].end - 1) in WILL:
        near.pop("planned")  # "it'll probably take 5 litres"
    for category in RANK:
        if category not in near:
            continue
        away, cue = near[category]
        if category == "possible" and "quoted" in near and near["quoted"][0] < away and not cue.backward:
            continue
        if category == "historical" and "quoted" in near and _newer(cues.page, cue, near["quoted"][1]):
            continue
        if category == "historical" and draft.kind in ("interval", "duration") and (
                draft.role not in ("since last", None)):
            continue
        return "possible" if category == "condition" else category, cue.id
    return "stated", None


def _newer(page: Passage, past: Cue, quoted: Cue) -> bool:
    """"Old gaps were 35, spec is 25": behind a value of the past another source is named."""
    return not past.backward and not quoted.backward and past.end <= quoted.start and any(
        lex.kind == "number" for lex in page.lexemes[past.end : quoted.start])


def _nearest(cues: Cues, draft: Draft) -> Near:
    """The nearest cue of each category that governs a draft."""
    near: Near = {}
    for cue in cues.by_token.get(draft.anchor, ()):
        if cue.category == "negated" and draft.kind in VALUE_KINDS and not _denied(cues.page, cue, draft):
            continue
        if cue.category == "historical" and cue.backward and draft.kind == "odometer" and (
                cues.page.word(cue.start) == "before"):
            continue
        away = cue.scope_end - draft.anchor if cue.backward else draft.anchor - cue.scope_start
        if cue.category not in near or away < near[cue.category][0]:
            near[cue.category] = (away, cue)
    return near


def _denied(page: Passage, cue: Cue, draft: Draft) -> bool:
    """"54, not 45", "instead of 45", "it wasn't 45": a "no" right before a value denies it; others are of a finding."""
    said, before = " ".join(page.words(cue.start, cue.end)), cue.start - 1
    if page.inside("part", before) and not page.inside("fastener", before):
        return False  # "strut not 70": a nut, misheard
    return not cue.backward and 0 <= draft.start - cue.end <= 2 and said in page.classes.denying and (
        all(word in BEFORE_DENIED for word in page.words(cue.end, draft.start)))


def _reread(cues: Cues, draft: Draft, near: Near) -> None:
    """What a cue means beside a value of some kinds: a price is never quoted, a wanted size or torque is no plan."""
    page = cues.page
    if draft.kind == "cost" and "quoted" in near and "planned" not in near:
        near["possible"] = near.pop("quoted")
    if draft.kind == "fluid" and "quoted" in near and page.word(near["quoted"][1].start) == "new":
        near.pop("quoted")  # "the new one is 5W-30": filled, and not what it should be
    for category in NEVER.get(draft.kind, ()):
        if SAID_OF.get((draft.kind, category), frozenset()).isdisjoint(page.words(draft.start - 8, draft.start)):
            near.pop(category, None)
    if "historical" in near and not near["historical"][1].backward and _is_now(page, draft):
        near.pop("historical")
    for category in ("quoted", "possible"):
        if category in near and not near[category][1].backward and _is_now(page, draft) and any(
                lex.kind == "number" for lex in page.lexemes[near[category][1].end : draft.start]):
            near.pop(category)  # "supposed to be 3/8, bent the tang and it's 3/8 now"
    if page.words(draft.end, draft.end + 2) == ["it", "is"] and page.word(draft.end + 2) in SAID_SO:
        near.pop("possible", None)  # "M8 I thought, M6 it is"
        near.pop("quoted", None)
    if "historical" in near and draft.kind == "torque" and " ".join(
            page.words(near["historical"][1].start, near["historical"][1].end)) in ROUNDS:
        near.pop("historical")  # "15 newton metres to start with, then 22"
    if draft.kind == "duration" and not TOLD_ALL.isdisjoint(page.words(draft.end, draft.end + 2)):
        near.pop("historical", None)  # "five hours all told"
        near.pop("planned", None)
    if "quoted" in near and _on_an_instrument(page, draft):
        near.pop("quoted")
    if draft.kind == "measurement" and "quoted" not in near and not WANTING.isdisjoint(
            page.lower(at) for at in (draft.start - 1, draft.start - 2)):
        near["quoted"] = near.pop("planned", (1, NOBODY))  # "belt deflects 12 mm, wants 10 to 15"
    if "planned" in near and "quoted" in near and near["planned"][1].end == near["quoted"][1].end:
        near.pop("planned")  # "the book wants a gap of 2 mm"
    if "planned" in near:
        _no_plan(cues, draft, near)


def _no_plan(cues: Cues, draft: Draft, near: Near) -> None:
    """What a source asks for or a part wants is what it should be, and no plan."""
    page, cue = cues.page, near["planned"][1]
    if page.word(cue.start) in DUTY and any(told.id in SOURCES for told in cues.by_token.get(draft.anchor, ())):
        near.pop("planned")  # "should get 70, going by the sheet"
        return
    if draft.kind in ("torque", "measurement", "volume") and page.word(cue.start) in ("want", "wants", "needs") and (
            draft.anchor - cue.end <= 2) and {"a", "an", "to"}.isdisjoint(page.words(cue.start, cue.end + 1)):
        near["quoted"] = near.pop("planned")  # "it wants sixty"


def _is_now(page: Passage, draft: Draft) -> bool:
    """"Before I started ... and it's 1.6 bar now": the present verb before and the "now" behind settle it.

    So does a "today" that ends the statement: "last time the plug was tight, five litres went in today".
    """
    return _ends_today(page, draft) or ("now" in page.words(draft.end, draft.end + 3) and not PRESENT.isdisjoint(
        page.words(draft.start - 3, draft.start)))


def _ends_today(page: Passage, draft: Draft) -> bool:
    """"Five litres of 5W-30 went in today": the day is named behind its value, and no other number between."""
    if draft.kind not in ("volume", "fluid", "operation"):
        return False
    for at in range(draft.end, min(draft.end + TODAY_REACH, page.sentence_end(draft.anchor))):
        if page.word(at) == "today":
            return page.word(at + 1) in BEHIND_TODAY
        if page.lexemes[at].kind in ("number", "mark") or page.word(at) in JOINED:
            return False
    return False


def _on_an_instrument(page: Passage, draft: Draft) -> bool:
    """"5.9 on the kitchen scales", "30 with the dial gauge": read off, and not out of a book."""
    last = min(draft.end + 5, page.sentence_end(draft.anchor))
    behind = page.words(draft.end, last)
    return bool(behind) and behind[0] in ("on", "with", "by") and behind[1:2] in (["the"], ["my"], ["a"]) and any(
        page.word(at) in page.classes.instruments and not _narrows(page, at) for at in range(draft.end, last))


def _narrows(page: Passage, at: int) -> bool:
    """"On the caliper bracket bolts": the word only narrows the part behind it."""
    return any(page.inside(name, at + 1) for name in ("part", "fastener", "head"))


def _hedged(page: Passage, draft: Draft) -> bool:
    """"27 newton metres, but I'm not a hundred percent": a clause behind the value doubts it and tells no more."""
    at = draft.end + (page.word(draft.end) in (",", "-", "–", "—", "("))
    last = min(at + DOUBT_REACH, page.sentence_end(draft.anchor))
    if page.word(at) not in DOUBTING or SPEAKER.isdisjoint(page.words(at, at + 4)):
        return False
    for place in range(at, last):
        if page.word(place) == "," and place > at:
            return False
        said = next((length for length in (1, 2, 3) if " ".join(
            page.words(place, place + length)) in page.classes.hedging), 0)
        if said:
            rest = page.lexemes[place + said : last]
            return not any(page.inside("part", i) or page.inside("fastener", i) for i in range(at, last)) and not any(
                lex.kind == "number" and lex.text != "100" for lex in rest)
    return False


def _asked(page: Passage, draft: Draft) -> bool:
    """The sentence of a value is a question: by its mark, or "was it 25 or 30"."""
    before = page.words(draft.start - 3, draft.start)
    if before[1:] in ASKED_AS or (before[2:] == ["be"] and before[:1] != [] and before[0] in MODALS and (
            before[1] in ("that", "it", "they"))):
        return True
    end = page.sentence_end(draft.anchor)
    first = page.sentence_start(draft.anchor)
    if page.word(end - 1) == "?" and (RIGHT.issuperset(page.words(draft.end, end - 1)) or (
            draft.start - first <= 1 and end - draft.end <= SHORT_QUESTION)):  # "30 newton metres on the drain plug?"
        return True
    return page.word(end - 1) == "?" and (
        page.word(page.sentence_start(draft.anchor)) in ASKING or end - draft.end <= 2)
