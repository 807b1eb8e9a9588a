"""Prices: amounts of money with what they were paid for, each or in total."""

from __future__ import annotations

from saidspec.extract.components import Mention
from saidspec.extract.costs import Amount
from saidspec.extract.draft import Draft
from saidspec.extract.passage import Passage
from saidspec.extract.quantities import Quantity
from saidspec.extract.values import ValueReader


def cost(values: ValueReader, money: Amount) -> Draft:
    """The fact of an amount of money."""
    page = values.page
    target = values.target(money.start, money.end, length=False)
    target = values.fitting("cost", None, target, money.start)
    hints = values.roles.hints(page, money.start - 4, money.end + 5, money.start, money.end)
    role = next((hint.role for hint in hints if hint.kind == "cost" and hint.distance <= 3), None)
    draft = Draft("cost", money.start, money.end, money.number, target.mention, money.value, code=money.currency, role=role,
                  rule="cost.amount", confidence=target.confidence, manner=target.manner)
    values.ends.append(money.end)
    values.memory.last = draft
    return draft


def listed_prices(page: Passage, drafts: list[Draft], claimed: set[int], numbers: dict[int, Quantity], phrases: list[Mention],
                  completed: dict[int, Mention]) -> list[Draft]:
    """A price whose currency is said with the next one: "the jug was 38.90 and the filter 11.40 euros"."""
    made: list[Draft] = []
    costs = [draft for draft in drafts if draft.kind == "cost"]
    taken = {at for draft in drafts for at in range(draft.start, draft.end)} | claimed
    for cost in costs:
        for item in numbers.values():
            if item.number in taken or not 0 < cost.start - item.end <= 10 or item.dimension or not page.same_sentence(item.start, cost.start):
                continue
            mention = next((phrase for phrase in reversed(phrases) if phrase.end <= item.start and page.same_sentence(phrase.start, item.start)
                            and item.start - phrase.end < 5), None)
            full = completed.get(mention.start) if mention else None
            made.append(Draft("cost", item.start, item.end, item.number, full, item.value, code=cost.code, rule="cost.listed", confidence=0.75))
    return made
