"""What an amount of money was paid for."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.discourse.attach import Target
from saidspec.extract.costs import Amount, MoneyWords
from saidspec.extract.draft import Draft
from saidspec.extract.grammar import ARTICLES, PREPOSITIONS
from saidspec.extract.mention import Mention
from saidspec.extract.quantity import Quantity
from saidspec.extract.values import ValueReader

CONTAINERS = {"jug", "bottle", "drum", "can", "tin", "tub", "canister", "cartridge"}
FLUIDS = {"oil", "fluid", "coolant", "antifreeze", "grease", "lube", "lubricant"}
PIECES = set(range(2, 13))  # how many pieces a total may be of
LINKS = {",", "was", "is", "were", "at", "for", "'s", "it", "dash", "-", "–", "and", "they", "are", ":", "just",
    "only", "about", "came", "left", "right",
         "the", "rear", "front", "that", "cost", "me", "a", "price", "off", "of", "so", "to", "comes", "x", "i",
         "got", "paid", "@"}


@dataclass(slots=True)
class Purchases:
    """Finds the thing that was paid for; `found` are the prices read so far."""

    values: ValueReader
    words: MoneyWords
    numbers: dict[int, Quantity]
    found: list[Draft]

    def bought(self, money: Amount, role: str | None, drafts: list[Draft]) -> Target:
        """The thing that was paid for."""
        values, page, words = self.values, self.values.page, self.words
        if words.within(page, "services", money.end, money.end + 3):
            return Target(None, "none", 0.85)
        numbers = [draft for draft in drafts[-12:]
                   if draft.kind == "part_number" and 0 <= money.start - draft.end <= 20]
        if role == "total" and len(numbers) == 1 and money.start - numbers[0].end <= 6 and (
                page.same_sentence(numbers[0].anchor, money.start)) and numbers[0].mention is not None:
            return Target(numbers[0].mention, "topic", 0.85)  # "new sensor is LS-2240, 58.95 plus tax"
        if role == "total" and not words.within(page, "total-of", money.end, money.end + 2):
            last = self.found[-1] if self.found else None
            if last and last.role == "each" and money.start - last.end <= 14 and last.value and (
                    money.value / last.value in PIECES):
                return Target(last.mention, "topic", 0.85)
            if not self._about_one(money):
                return Target(None, "none", 0.85)
        end = money.end
        for name in ("each", "total-of"):
            end = words.at(page, name, end) or end
        if end > money.end or page.word(money.end) == "for":
            item = self._governed(end)
            if item:
                return Target(values.attention.completed(item), "for", 0.9)
        if any(words.at(page, "contents", at) for at in (money.end, money.end + 1)) and role == "each":
            return self._held(money, values.target(money.start, money.end, length=False))
        if any(page.word(at) in CONTAINERS and not page.inside("part", at)  # no brake drum
               for at in range(max(page.sentence_start(money.start), money.start - 3), money.start)):
            return self._held(money, values.target(money.start, money.end, length=False))
        kit = next((draft for draft in reversed(drafts[-12:]) if draft.kind == "part_number"), None)
        numbered = kit is not None and kit.end <= money.start and page.same_sentence(kit.anchor, money.start) and all(
            lex.kind != "number" for lex in page.lexemes[kit.end : money.start])
        if numbered and kit is not None and kit.mention is not None and kit.mention.head in ("kit", "set"):
            return Target(kit.mention, "topic", 0.85)  # "kit is CV-8834, boot and clamps and grease, 27 bucks"
        stuff = self._consumable(money.start, end)
        if stuff:
            return Target(stuff, "topic", 0.85)
        code = next((draft for draft in reversed(drafts[-12:]) if draft.kind == "part_number"), None)
        if code is not None and code.mention is not None and 0 <= money.start - code.end <= 6 and all(
                word in LINKS or word.isdigit() for word in page.words(code.end, money.start)):
            return Target(code.mention, "topic", 0.9)
        held = self.values.ends[-1] if self.values.ends else 0
        if page.word(money.start - 1) in ("@", "at", "for") and held in (money.start - 1, money.start - 2) and any(
                item.dimension == "volume" and item.end == held for item in (self.numbers.get(held - 2),
                self.numbers.get(held - 1)) if item):
            return self._held(money, values.target(money.start, money.end, length=False))
        if page.word(money.start - 1) in ("was", "'s", "were", "is", "cost",
            "'re") and page.word(money.start - 2) in ("it", "they", "that", "which", "kit", "set"):
            subject = self._subject(money.start)
            if subject:
                return Target(subject, "topic", 0.85)
        return values.fitting("cost", None, values.target(money.start, end, length=False), money.start)

    def _consumable(self, start: int, end: int) -> Mention | None:
        """A consumable or a kit that was bought: "thread locker was nine quid", "gasket set VG-1406, 22.50"."""
        page = self.values.page
        place = end + 1
        while page.word(place) in ARTICLES and place - end < 4:
            place += 1
        found = page.starting("material", place) if page.word(end) == "for" else None
        at, first = start, max(page.sentence_start(start), start - 8)
        while found is None and at > first and not page.inside("material", at - 1) and (
                page.norm[at - 1] in LINKS or page.lexemes[at - 1].kind == "code"):
            at -= 1
        if found is None and page.inside("material", at - 1):
            found = next((item for back in range(1, 6) if (item := page.starting("material", at - back))), None)
        if found is None:
            return None
        return Mention(found.start, found.end, tuple(page.norm[found.start : found.end]), (), "part", "", False)

    def _held(self, money: Amount, target: Target) -> Target:
        """The fluid that a container was bought with: the one spoken of last, else that of the system."""
        fluid = next((item for item in self.values.attention.recent(10) if item.words and item.head in FLUIDS), None)
        if fluid:
            return Target(fluid, target.manner, 0.8)
        return self.values.fitting("volume", "bought", target, money.start)

    def _about_one(self, money: Amount) -> bool:
        """A total right beside a single part: "four plugs, forty six quid total"."""
        page = self.values.page
        prior = self.values.neighbours.before(money.start, 3)
        return bool(prior) and all(page.word(at) in LINKS for at in range(prior[0].end,
            money.start)) and not (self.found and money.start - self.found[-1].end <= 40)

    def _governed(self, end: int) -> Mention | None:
        page = self.values.page
        if page.word(end) not in PREPOSITIONS:
            return None
        place = end + 1
        while place < len(page) and place - end < 5 and place not in self.values.neighbours.by_start and (
                page.word(place) in ARTICLES or page.word(place) in ("all", "of", "new", "both")
                or page.lexemes[place].kind == "number"):
            place += 1
        return self.values.neighbours.by_start.get(place)

    def _subject(self, start: int) -> Mention | None:
        """What "it" was: a kit or set named in the sentence, else the first part that the sentence speaks of."""
        page = self.values.page
        inside = [item for item in self.values.attention.recent(12) if item.words and item.end <= start
            and page.same_sentence(item.start, start)
                  and start - item.end < 30]
        if not inside:
            return None
        return next((item for item in inside if item.head in ("kit", "set")), inside[-1])
