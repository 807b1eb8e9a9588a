"""A value without a unit in its context."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.extract.measured_again import has_role
from saidspec.extract.memory import Memory
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage, is_stop
from saidspec.extract.quantity import Quantity
from saidspec.extract.roles import Hint
from saidspec.extract.scene import Scene
from saidspec.extract.target import tightened_to
from saidspec.extract.unnamed_part import pressures_said
from saidspec.extract.unsaid import unsaid_unit

OF_LENGTH = frozenset({"thickness", "depth", "diameter", "length", "height", "gap", "clearance", "play", "runout",
                       "slack", "deflection", "travel", "width"})  # roles whose names are not kept apart in speech
MOST_COUNTED = 20
NOT_COUNTED = frozenset({"thou", "pound", "newton", "inch"})  # plurals that are units


@dataclass(frozen=True, slots=True)
class Place:
    """A bare value, the component it stands beside and how that was found, and the role words around, nearest first.

    `loose`: the part is told by a mere place or a number ("top 118", "two is 95").
    """

    scene: Scene
    item: Quantity
    mention: Mention | None
    manner: str
    hints: list[Hint]
    loose: bool = False

    @property
    def page(self) -> Passage:
        return self.scene.page

    @property
    def memory(self) -> Memory:
        return self.scene.memory

    @property
    def fastened(self) -> bool:
        """Whether the component is a fastener."""
        return self.mention is not None and self.mention.fastener

    @property
    def article(self) -> bool:
        """"A 17": an article stands right before the value."""
        return self.lead in ("a", "an")

    @property
    def lead(self) -> str:
        """The word right before the value."""
        return self.page.word(self.item.start - 1)

    def before(self, count: int) -> list[str]:
        return self.page.words(self.item.start - count, self.item.start)

    def after(self, count: int) -> list[str]:
        return self.page.words(self.item.end, self.item.end + count)

    def hint(self, kind: str, reach: int) -> Hint | None:
        """The nearest role word of a kind within reach."""
        return next((hint for hint in self.hints if hint.kind == kind and hint.distance <= reach), None)

    def of_a_tool(self) -> bool:
        """"A seventeen spanner", "a key of nineteen": the figure is the size of a tool."""
        tools, before = self.scene.words.tools, self.before(2)
        return not tools.isdisjoint(self.after(1)) or (len(before) == 2 and before[0] in tools and before[1] == "of")

    def names_another(self, role: str | None) -> bool:
        """Whether another thing that is measured is named right before the value: "rears 5.5, pressures were 29"."""
        start = self.item.start
        first = self.page.sentence_start(start)
        named = next((hint for hint in self.hints if hint.kind == "measurement" and first <= hint.start < start
                      and self.page.word(hint.start) in self.page.classes.measured
                      and not all(self.page.inside("part", at) for at in (hint.start, hint.end))), None)
        return named is not None and named.role != role and bool({named.role, role} - OF_LENGTH)

    def unsaid(self, role: str | None, *named: str) -> str | None:
        """The unit of the value as one of a role: said before, else usual on the part or on what is `named`."""
        words = (*named, *(self.mention.words if self.mention is not None else ()))
        if role == "pressure" and pressures_said(self.page, self.item.start) and (
                self.mention is None or not has_role(self.scene, self.mention, role)):
            words = (*words, "tyre")
        known = self.memory.by_role.get(("measurement", role))
        return unsaid_unit(self.scene.lexicon.usual, role, self.item.value, words, known, self.memory.said)

    def counts_things(self) -> bool:
        """Whether a small whole number counts something: "in two rounds", "3 loose spokes", "two of the teeth"."""
        return counts_things(self.page, self.item) and not self.led_by_a_fastener()

    def led_by_a_fastener(self) -> bool:
        """"Bolts to 12 new gaskets fitted": what a fastener was tightened to, whatever is named behind it."""
        return tightened_to(self.scene, self.scene.near.before(self.item.start), self.item.start)


def counts_things(page: Passage, item: Quantity) -> bool:
    """Whether a small whole number stands before a plural noun, perhaps with an adjective between, or before "of the";
    or is written together with a letter ("2x", "15T").
    """
    at = item.end
    if not item.whole or item.value > MOST_COUNTED or item.high is not None or item.unit or at >= len(page):
        return False
    lex = page.lexemes[at]
    if lex.kind != "word" or page.word(item.start - 1) in ("a", "an"):
        return False
    if lex.start == page.lexemes[at - 1].end and len(lex.text) == 1:
        return True
    if page.word(at) == "of":
        return page.word(at + 1) in ("the", "them", "those", "these", "us", "my", "'", "em")
    if page.words(at, at + 2) in (["in", "each"], ["on", "each"], ["at", "each"]):
        return True
    adjective = not is_stop(page.word(at)) and at + 1 < len(page) and page.lexemes[at + 1].kind == "word"
    return plural_noun(page, at) or (adjective and page.word(at) not in NOT_COUNTED and plural_noun(page, at + 1)
                                     and not page.inside("position", at))


def plural_noun(page: Passage, at: int) -> bool:
    """Whether a token is a noun in the plural that is no unit; "ones" and "goes" count as such."""
    if at >= len(page) or page.lexemes[at].kind != "word":
        return False
    text = page.lexemes[at].text
    if text in ("goes", "ones"):
        return True
    return text.endswith("s") and page.word(at) != text and not is_stop(page.word(at)) and (
        page.word(at) not in NOT_COUNTED)
