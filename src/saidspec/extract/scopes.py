"""How far a cue reaches: the tokens that it governs, forward or backward.

A forward scope ends with the sentence, at a word that turns away ("but", "so"), and, once it has governed a value,
where the speaker starts anew: with "I", or with another topic.  A backward scope goes back over at most one value.
"""

from __future__ import annotations

from saidspec.extract.cues_said import Cues
from saidspec.extract.grammar import BE
from saidspec.extract.passage import Passage

# Tokens that a cue of a category reaches forward and back (common practice, tried on the development notes).
REACH = {"quoted": 16, "planned": 14, "possible": 10, "historical": 16, "negated": 7, "condition": 16, "other": 14}
BACK = {"condition": 12, "other": 0, "quoted": 12, "planned": 12, "possible": 9, "historical": 8, "negated": 6}
QUOTED_FURTHER = 10  # more of these for a quotation in a text with marks, whose sentences end it
GUESSED = 3  # tokens of a guess that is complete by itself
OPENING = 1  # tokens from the start of a sentence to a cue that opens it
FRESH = frozenset({"i", "we", "i've", "mine", "today", "now"})
DEEDS = frozenset({"did", "torqued", "set", "got", "went", "gave", "put"})
STANDS = frozenset({"gets", "got", "comes", "runs", "reads", "makes", "sits", "measures", "holds", "has", "had"})
MAKES = frozenset({"makes", "make", "made", "got", "'s", "is", "are", "'re", "was", "were", "has", "had", "sits",
                   "measures", "measured", "came"})
QUANTITIES = frozenset({"torque", "compression", "clearance", "gap", "pressure", "play", "slack", "voltage", "runout"})
MILEAGE = frozenset({"hour", "kilometre", "km", "mile", "mi", "k"})  # units of a reading
WISHES = frozenset({"get", "gets", "getting", "be", "have", "having", "need", "needs", "want", "wants", "wanted"})
ARTICLES_OF_TOPICS = frozenset({"the", "a", "an", "my", "both", "each", "new", "old"})
LINKING = frozenset({"for", "on", "of", "in", "to", "at", "around", "from", "per", "with", "or"})
SUBJECTS = frozenset({"they", "it", "these", "those", "there", "i", "we"})
CONJUNCTIONS = frozenset({"that", "if", "of", "where", "because", "until", "when", "what", "like", "whether"})
SAID_OF = BE | {"looks", "feels", "seems"}  # "didn't do the cable, bushing looks ok"; but "doesn't look ok"
DONE_VERBS = BE | {"got", "went", "gets", "took", "had", "'re", "torqued", "done"}
OVER_ARTICLES = frozenset({"the", "a", "my", "both", "all", "then", "those", "these", "new"})
HEDGED_BY = frozenset({"but", "though", "although", "however"})
DONE_TO = frozenset({"it", "that", "this", "them"})  # "did it" is a deed told in full
LISTING = frozenset({",", ";", ":", "-", "and"})


def forward_end(made: Cues, start: int, at: int, category: str, name: str) -> int:
    """The end of the scope of a cue at tokens start..at; `name` is the cue's id."""
    page = made.page
    if page.word(at) == ":" and category in ("planned", "quoted"):
        return page.sentence_end(at)
    reach = REACH[category] + (QUOTED_FURTHER if page.punctuated and category == "quoted" else 0)
    at += category == "possible" and page.word(at) == "but"  # "couldn't say exactly but 34"
    last = min(page.sentence_end(at) if at < len(page) else at, at + reach)
    governed = False
    for place in range(at, last):
        if place > at and (_turns_away(made, place, category) or (category == "planned" and (
                _done_next(made, place) or (place - at > 2 and _told(made, at, place))))):
            return place
        if _anew(made, at, place, category, governed) or (
                category == "historical" and governed and page.word(place) == "," and (
                    start - page.sentence_start(start) > OPENING)):
            return place
        if category == "historical" and (_behind_reading(page, place, at) or _poured_anew(page, place)):
            return place
        if page.lexemes[place].kind in ("number", "code"):
            governed = True
            if category == "negated" or ((category == "possible" or name == "part-says") and not (
                    _ranges_on(page, place))):
                return place + 1
    return last


def _behind_reading(page: Passage, at: int, first: int) -> bool:
    """"Last time was at 2200 hours five gallons went in": behind a reading another value or a deed begins anew."""
    reading = at - 2 >= first and page.word(at - 1) in MILEAGE and page.lexemes[at - 2].kind == "number"
    return reading and (page.lexemes[at].kind == "number" or page.word(at) in DEEDS)


def _poured_anew(page: Passage, at: int) -> bool:
    """"Last garage did it five litres in with the filter": what others did is told in full, and a fill is told next."""
    told = page.word(at - 2) == "did" and page.word(at - 1) in DONE_TO
    return told and page.lexemes[at].kind == "number" and page.word(at + 1) in page.classes.poured_by


def _turns_away(made: Cues, at: int, category: str) -> bool:
    """A word that ends any scope ("right" as a place and "ok" as a finding do not), or a mark behind a "no"."""
    page, word = made.page, made.page.word(at)
    if category == "negated" and (word in (",", ";", "and", "just", "only") or (
            word in made.enders and page.word(at - 1) in SAID_OF) or _deed_of_its_own(page, at) or (
            _subject(page, at) or _looks(made, at))):
        return True
    return made.ends(at)


def _anew(made: Cues, start: int, at: int, category: str, governed: bool) -> bool:
    """The speaker starts anew: with a deed of their own, or, behind a value, with "I" or another topic."""
    page = made.page
    if not governed:
        if category == "possible" and page.word(at) == ",":
            return at - start >= GUESSED and _topic_behind(made, at)  # "I think that went well, cover bolts at 10"
        return category == "quoted" and _deed(page, at)  # "as the book says I torqued them to 110"
    if category == "quoted" and (_acted(page, at) or _next_subject(page, at) or _new_sentence(page, at) or (
            _another_quantity(page, at)) or (page.word(at) == "and" and _subject_of_its_own(page, at + 1))):
        return True
    if category == "quoted" and _further_range(made, at):
        return False
    return page.word(at) in FRESH or (at in made.topics and _starts_topic(page, at))


def _further_range(made: Cues, at: int) -> bool:
    """"Spec is intake 0.08 to 0.12 and exhaust 0.13 to 0.17": a range joined to a range is of the same source."""
    page, value = made.page, made.next_value(at)
    joined = page.word(at - 1) == "and" and not {"to", "-"}.isdisjoint(page.words(at - 5, at - 1))
    return joined and at in made.topics and value is not None and (
        value - at <= 3 and page.word(value + 1) in ("to", "-"))


def _topic_behind(made: Cues, at: int) -> bool:
    """A component phrase stands behind a mark, over articles."""
    place = at + 1
    while made.page.word(place) in OVER_ARTICLES and place not in made.topics:
        place += 1
    return place in made.topics


def _new_sentence(page: Passage, at: int) -> bool:
    """"Book says 45-55 ft-lb. 50 on both.": a stop behind a unit that is taken for an abbreviation ends a quotation."""
    following = page.lexemes[at + 1] if at + 1 < len(page) else None
    return page.word(at) == "." and following is not None and page.lexemes[at].end < following.start and (
        following.kind == "number" or page.said(at + 1)[:1].isupper())


def _another_quantity(page: Passage, at: int) -> bool:
    """"Spec 0.9 to 1.1 torque 18 Nm", in a text without marks: the next quantity is told by its name."""
    return not page.punctuated and page.word(at) in QUANTITIES and page.lexemes[at + 1 : at + 2] != [] and (
        page.lexemes[at + 1].kind == "number")


def _subject_of_its_own(page: Passage, at: int) -> bool:
    """"Book wants 1.0 and it makes 3.9": a pronoun with a verb of what is so."""
    return page.word(at) in ("it", "they", "mine", "ours") and page.word(at + 1) in MAKES


def _next_subject(page: Passage, at: int) -> bool:
    """Behind the limit that was told the next thing is measured: "limit is two bell is 112.4"."""
    following = page.lexemes[at + 1] if at + 1 < len(page) else None
    return page.word(at) in BE and following is not None and following.kind == "number" and (
        page.lexemes[at - 2].kind == "number" and page.lexemes[at - 1].kind == "word")


def _deed_of_its_own(page: Passage, at: int) -> bool:
    """"No grease near the pads wiped the disc": a verb in the past with an object of its own."""
    found = page.starting("action", at)
    return found is not None and found.term.detail == "past" and page.word(found.end) in OVER_ARTICLES | {"it", "them"}


def _subject(page: Passage, at: int) -> bool:
    """"Did not touch the hoses they look good": a pronoun with a verb of its own begins another clause."""
    return page.word(at) in SUBJECTS and page.word(at - 1) not in CONJUNCTIONS and (
        page.word(at + 1) in BE or page.word(at + 1) in page.classes.finding_copulas)


def _looks(made: Cues, at: int) -> bool:
    """"Didn't rebuild the thing the needle seat looks good": a component with a verb of looking of its own."""
    page = made.page
    return at in made.topics and page.word(at - 1) in ("the", "my") and page.word(at - 2) not in CONJUNCTIONS and any(
        page.word(verb) in ("looks", "look", "feels", "feel", "seems") for verb in range(at + 1, at + 4))


def _deed(page: Passage, at: int) -> bool:
    """"I torqued": the speaker's own deed, told in the past."""
    found = page.starting("action", at + 1)
    return page.word(at) in ("i", "we") and (page.word(at + 1) in DEEDS or (
        found is not None and found.term.detail == "past"))


def _done_next(made: Cues, at: int) -> bool:
    """Behind a mark or "and" it is told what was done: "order a belt, the drain plug is done at 30"."""
    page = made.page
    if page.word(at) not in (",", "and", ";", "-"):
        return False
    place = at + 1
    while page.word(place) in OVER_ARTICLES and place not in made.topics:
        place += 1
    if _deed(page, place) or _acted(page, place):
        return True
    return place in made.topics and any(page.word(verb) in DONE_VERBS or _acted(page, verb)
                                        for verb in range(place + 1, place + 5))


def _told(made: Cues, at: int, place: int) -> bool:
    """What is told of now ends a plan: another part with its verb, or a deed that is no wish ("get it torqued")."""
    page = made.page
    if place in made.topics and _states(page, place):
        return True
    return _acted(page, place) and WISHES.isdisjoint(page.words(at - 3, place)) and page.word(place - 1) != "to"


def _states(page: Passage, at: int) -> bool:
    """A component phrase with a verb of its own in the present: "housing bolts are 12 foot pounds"."""
    return any((page.word(verb) in BE or page.word(verb) in STANDS) and any(
        lex.kind in ("number", "code") for lex in page.lexemes[verb + 1 : verb + 4]) for verb in range(at + 1, at + 5))


def _acted(page: Passage, at: int) -> bool:
    """A deed ends what the book says: "manual says 54, torqued them to 54"."""
    found = page.starting("action", at)
    return page.word(at) in DEEDS or (found is not None and found.term.detail == "past")


def _ranges_on(page: Passage, at: int) -> bool:
    return page.word(at + 1) in ("to", "or", "-", "and")


def _starts_topic(page: Passage, at: int) -> bool:
    """A component phrase opens a statement where nothing links it to what stands before."""
    before, further = page.word(at - 1), page.word(at - 2)
    if page.punctuated and before not in LISTING and further not in LISTING and further != ">":
        return False
    return (further if before in ARTICLES_OF_TOPICS else before) not in LINKING


def backward_start(made: Cues, at: int, category: str) -> int:
    """Back to the start of the statement: over at most one value (or a range), not over a turning word."""
    page = made.page
    first = max(page.sentence_start(at), at - BACK[category])
    place, seen = at - (category == "possible" and page.word(at - 1) in HEDGED_BY), 0  # "a 17, but don't hold me to it"
    while place > first:
        word = page.word(place - 1)
        if (word != "right" and made.ends(place - 1)) or word in (";", ":"):
            return place
        if page.lexemes[place - 1].kind in ("number", "code"):
            seen += 1
            if seen > 1 and page.word(place) not in ("to", "-", "or", "and") and page.word(place + 1) != "or":
                return place
        place -= 1
    return first


def subject_start(made: Cues, first: int, at: int) -> int:
    """Where the part begins that a cue at token `at` is said of, not before `first`: "full of leaves glow plugs I left
    alone"."""
    return next((place for place in range(at - 1, first - 1, -1) if place in made.topics), first)
