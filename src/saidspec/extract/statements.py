"""Facts that are words: operations, observations, materials, and fluids that are named without a figure."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.discourse.attach import Neighbours
from saidspec.discourse.attention import Attention
from saidspec.extract.components import ARTICLES, Mention
from saidspec.extract.draft import Draft
from saidspec.extract.lexicon import Lexicon
from saidspec.extract.passage import Found, Passage

LINKS = {"is", "'s", "are", "was", "were", "'re", "looks", "look", "looked", "feels", "felt", "seems", "seemed", "got", "has", "had", "have", "a", "bit", "of",
         "pretty", "quite", "very", "really", "kind", "kinda", "sort", "little", "all", "both", "still", "also", "and", "the", "now", "some", "just", "too", "it",
         "in", "on", "so", "there", "there's", "come", "came", "gone", "went", "getting", "starting", "to", "be", "been", "only", "slightly", "rather", "well",
         "totally", "completely", "around", "that", "which", "they", "no", "not", "any", "few", "couple", "lot", "lots", "signs", "out", "up", "at", "back", "edge",
         "end", "full", "covered", "nice", "good", "old", "one", "ones", "sign", "fairly", "super", "more", "than", "them", "those", "being", "what", "looking"}
PREPOSITIONS = {"on", "in", "around", "from", "at", "of", "round", "inside", "under", "behind", "between", "near", "to", "along", "across", "through", "off", "into"}
OFF = {"off", "out"}
ON = {"on", "in", "fitted"}


@dataclass(slots=True)
class StatementReader:
    """Reads the statements of a passage; attention moves along as for values."""

    page: Passage
    lexicon: Lexicon
    attention: Attention
    neighbours: Neighbours

    # -- operations
    def operation(self, found: Found) -> Draft | None:
        """The operation of a verb: with what follows it, else with what stands before it."""
        page = self.page
        if found.term.detail == "noun" and page.word(found.start - 1) in ("a", "the") and False:
            return None
        end, mention = found.end, None
        after = self._object(found.end)
        prior = self.neighbours.before(found.start, 10)
        passive = found.term.detail == "past" and (page.word(found.start - 1) in (
            "is", "was", "were", "are", "been", "got", "being", "'s") or bool(prior) and found.start - prior[0].end <= 1)
        if after and not (passive and prior):
            mention, end = self.attention.completed(after), max(end, after.end)
        elif prior and (passive or not after):
            mention = prior[0]
        elif self.attention.history:
            mention = self.attention.history[-1]
        return Draft("operation", found.start, end, found.start, mention, action=found.term.id, rule=f"action.{found.term.id}",
                     confidence=0.85, manner=found.term.detail)

    def _object(self, end: int) -> Mention | None:
        """The component phrase behind a verb: over articles, small words and a value."""
        page, at = self.page, end
        while at < len(page) and at - end < 7 and page.same_sentence(end - 1, at):
            item = self.neighbours.by_start.get(at)
            if item:
                return item if item.kind != "position" else None
            word = page.word(at)
            if word not in ARTICLES and word not in ("off", "out", "up", "down", "in", "on", "back", "of", "with", "all", "some", "new", "old", "two", "for", "around", "again",
                                                     "three", "four", "to", "over", "and", "it", "them", "under", "'s") and (
                    page.lexemes[at].kind != "number"):
                return None
            if word in ("it", "them", "and", "with", "to", "for"):
                return None
            at += 1
        return None

    def split_verbs(self) -> list[Draft]:
        """"Took the wheel off", "put the cap back on": a verb whose particle stands behind its object."""
        page, made = self.page, []
        starts: dict[str, list[str]] = {}
        for verb, particle in self.lexicon.split_verbs:
            starts.setdefault(verb, []).append(particle)
        for at in range(len(page)):
            particles = starts.get(page.norm[at])
            if not particles or page.inside("action", at) and page.starting("action", at) is None or page.inside("not:action", at):
                continue
            for place in range(at + 2, min(at + 7, page.sentence_end(at))):
                if page.norm[place] in particles and page.word(place + 1) not in ("the", "a", "my", "this"):
                    term = self.lexicon.split_verbs[(page.norm[at], page.norm[place])]
                    made.append(self.operation(Found(at, at + 1, term)))
                    break
                if page.lexemes[place].kind == "mark" or page.norm[place] in ("and", "then"):
                    break
        return [draft for draft in made if draft]

    def state(self, mention: Mention, full: Mention) -> Draft | None:
        """"Wheel is off", "cap back on", "new washer on", "plug is in": what was done, told by where the part is."""
        page, at = self.page, mention.end
        if mention.kind == "position":
            return None
        while page.word(at) in ("is", "'s", "are", "was", "were", "all", "now", "both", "back", "then", "have", "came", "come", "comes", "went", "goes", "already", "straight", "never", "has", "not"):
            at += 1
            if at - mention.end > 4:
                return None
        word, after = page.word(at), page.word(at + 1)
        if at >= len(page) or not page.same_sentence(mention.start, at) or word not in OFF | ON:
            return None
        if after in ("the", "a", "an", "my", "this", "it", "that", "there", "of", "place", "its", "top", "both", "each", "them", "these", "those", "here", "one", "front", "stock", "order", "to"):
            return None
        if at + 1 < len(page) and self.page.lexemes[at + 1].kind == "number" and page.word(at + 2) in ("mm", "mil", "psi", "bar", "good", "hour", "mile", "km", "cylinder"):
            if word not in OFF:
                return None
        action = "remove" if word in OFF else "replace" if mention.is_new else "install"
        draft = Draft("operation", mention.start, at + 1, at, full, action=action, rule=f"state.{word}", confidence=0.8)
        if {"never", "not"} & {*page.words(mention.end, at)}:
            draft.assertion, draft.cue = "negated", "negated-forward"
        return draft

    def renewed(self, mention: Mention, full: Mention) -> Draft | None:
        """"New copper washer": a new part in a statement of what was done is a replacement."""
        page = self.page
        new = mention.is_new or page.word(mention.start - 1) == "new" or page.word(mention.start - 1) in ("a", "the") and page.word(mention.start) == "new"
        before = page.word(mention.start - 1)
        if not new or mention.kind == "position" or before in ("need", "a", "order", "get", "buy", "want"):
            return None
        start = mention.start - 1 if before == "new" else mention.start
        return Draft("operation", start, mention.end, mention.start, full, action="replace", rule="state.new", confidence=0.75)

    # -- observations
    def observation(self, found: Found) -> Draft | None:
        """A finding and the part it is about: "leaks around the piston", "plug is tan", "green fuzz on the plus"."""
        page = self.page
        mention, manner = self._found_on(found)
        role = found.term.detail if found.term.detail in ("ok", "watch", "act") else "watch"
        words = " ".join(page.lower(i) for i in range(found.start, found.end))
        draft = Draft("observation", found.start, found.end, found.start, mention, finding=words, role=role,
                      rule=f"finding.{found.term.id}", confidence=0.85 if manner != "focus" else 0.6, manner=manner)
        return draft

    def _found_on(self, found: Found) -> tuple[Mention | None, str]:
        page, near = self.page, self.neighbours
        item = near.by_start.get(found.end)
        prior = near.before(found.start, 14)
        linked = bool(prior) and all(page.word(i) in LINKS or page.inside("finding", i) or page.lexemes[i].kind == "mark" for i in range(prior[0].end, found.start))
        if item and item.kind != "position" and not linked:
            return self.attention.completed(item), "modifier"
        at = found.end
        if page.word(at) in PREPOSITIONS and page.same_sentence(found.start, min(at, len(page) - 1)):
            place = at + 1
            while page.word(place) in ARTICLES | {"all", "of", "either"} and place - at < 4:
                place += 1
            item = near.by_start.get(place)
            if item and (item.kind != "position" or not linked):
                full = self.attention.completed(item)
                if not linked or not prior[0].words or prior[0].head in ("side",):
                    return full, "for"
        if prior and linked:
            return prior[0], "topic"
        if prior:
            return prior[0], "topic"
        if self.attention.history:
            return self.attention.history[-1], "focus"
        return None, "none"

    # -- materials and fluids
    def material(self, found: Found) -> Draft:
        """A consumable, with the words that qualify it, on the part it was used on."""
        page, start = self.page, found.start
        while start and page.inside("qualifier", start - 1) and page.same_sentence(start - 1, found.start):
            start -= 1
        name = " ".join(page.lower(i) for i in range(start, found.end))
        at = found.end
        if page.word(at) in PREPOSITIONS:
            place = at + 1
            while page.word(place) in ARTICLES | {"all", "of", "either", "both"} and place - at < 4:
                place += 1
            item = self.neighbours.by_start.get(place)
            if item:
                return Draft("material", start, found.end, found.start, self.attention.completed(item), code=name,
                             rule=f"material.{found.term.id}", confidence=0.9, manner="for")
        prior = [item for item in self.neighbours.before(found.start, 14) if not item.start <= found.start < item.end]
        mention = prior[0] if prior else self.attention.history[-1] if self.attention.history else None
        return Draft("material", start, found.end, found.start, mention, code=name, rule=f"material.{found.term.id}",
                     confidence=0.85 if prior else 0.6, manner="topic" if prior else "focus")
