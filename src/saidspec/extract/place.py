"""A value without a unit in its context."""

from __future__ import annotations

from dataclasses import dataclass

from saidspec.extract.memory import Memory
from saidspec.extract.mention import Mention
from saidspec.extract.passage import Passage, is_stop
from saidspec.extract.quantity import Quantity
from saidspec.extract.roles import Hint
from saidspec.extract.scene import Scene

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

    def counts_things(self) -> bool:
        """"In two rounds", "two sets": a small whole number before a plural noun counts something."""
        page, at = self.page, self.item.end
        if not self.item.whole or self.item.value > 20 or at >= len(page) or page.lexemes[at].kind != "word":
            return False
        word, text = page.word(at), page.lexemes[at].text
        plural = text == "goes" or (text.endswith("s") and word != text)  # "in two goes"
        return plural and not is_stop(word) and word not in NOT_COUNTED
