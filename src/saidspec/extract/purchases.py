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


COSTING = frozenset({"was", "'s", "were", "is", "cost", "'re"})  # "it was 40"
SPOKEN_OF = frozenset({"it", "they", "that", "which", "kit", "set"})


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
        codes = [draft for draft in drafts[-12:] if draft.kind == "part_number"]
        total = self._in_total(money, codes) if role == "total" else None
        if total is not None:
            return total
        end = money.end
        for name in ("each", "total-of"):
            end = words.at(page, name, end) or end
        item = self._governed(end) if end > money.end or page.word(money.end) == "for" else None
        if item:
            return Target(values.attention.completed(item), "for", 0.9)
        if self._of_contents(money, role):
            return self._held(money, values.target(money.start, money.end, length=False))
        named = self._of_a_kit(money, codes) or self._consumable(money.start, end) or (
            self._numbered(money, codes))
        if named is not None:
            return named if isinstance(named, Target) else Target(named, "topic", 0.85)
        if self._behind_volume(money):
            return self._held(money, values.target(money.start, money.end, length=False))
        if page.word(money.start - 1) in COSTING and page.word(money.start - 2) in SPOKEN_OF:
            subject = self._subject(money.start)
            if subject:
                return Target(subject, "topic", 0.85)
        return values.fitting("cost", None, values.target(money.start, end, length=False), money.start)

    def _in_total(self, money: Amount, codes: list[Draft]) -> Target | None:
        """What a total is of: the one part whose number stands before it, the thing priced each, else nothing."""
        page = self.values.page
        numbers = [draft for draft in codes if 0 <= money.start - draft.end <= 20]
        if len(numbers) == 1 and money.start - numbers[0].end <= 6 and numbers[0].mention is not None and (
                page.same_sentence(numbers[0].anchor, money.start)):
            return Target(numbers[0].mention, "topic", 0.85)  # "new sensor is LS-2240, 58.95 plus tax"
        if self.words.within(page, "total-of", money.end, money.end + 2):
            return None
        last = self.found[-1] if self.found else None
        if last and last.role == "each" and money.start - last.end <= 14 and last.value and (
                money.value / last.value in PIECES):
            return Target(last.mention, "topic", 0.85)
        return None if self._about_one(money) else Target(None, "none", 0.85)

    def _of_contents(self, money: Amount, role: str | None) -> bool:
        """Whether the price is of what a container holds: "9 quid a litre", "the can was 12"."""
        page = self.values.page
        if role == "each" and any(self.words.at(page, "contents", at) for at in (money.end, money.end + 1)):
            return True
        first = max(page.sentence_start(money.start), money.start - 3)
        return any(page.word(at) in CONTAINERS and not page.inside("part", at)  # no brake drum
                   for at in range(first, money.start))

    def _of_a_kit(self, money: Amount, codes: list[Draft]) -> Target | None:
        """"Kit is CV-8834, boot and clamps and grease, 27 bucks": the kit, with no figure between."""
        page, kit = self.values.page, codes[-1] if codes else None
        if kit is None or kit.end > money.start or not page.same_sentence(kit.anchor, money.start) or any(
                lex.kind == "number" for lex in page.lexemes[kit.end : money.start]):
            return None
        return Target(kit.mention, "topic", 0.85) if kit.mention and kit.mention.head in ("kit", "set") else None

    def _numbered(self, money: Amount, codes: list[Draft]) -> Target | None:
        """The part whose number stands right before the price."""
        page, code = self.values.page, codes[-1] if codes else None
        if code is None or code.mention is None or not 0 <= money.start - code.end <= 6:
            return None
        linked = all(word in LINKS or word.isdigit() for word in page.words(code.end, money.start))
        return Target(code.mention, "topic", 0.9) if linked else None

    def _behind_volume(self, money: Amount) -> bool:
        """"5 litres at 22": the price of a volume."""
        page, ends = self.values.page, self.values.ends
        held = ends[-1] if ends else 0
        if page.word(money.start - 1) not in ("@", "at", "for") or held not in (money.start - 1, money.start - 2):
            return False
        near = (self.numbers.get(held - 2), self.numbers.get(held - 1))
        return any(item.dimension == "volume" and item.end == held for item in near if item)

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
