"""A volume or a grade right behind "put in" tells that a fluid was filled in, and no part installed."""

from __future__ import annotations

from saidspec.extract.draft import Draft
from saidspec.extract.fluid_meant import is_fluid
from saidspec.extract.grammar import ARTICLES
from saidspec.extract.passage import Passage
from saidspec.extract.scene import Scene

LOOKED_BACK = 4  # drafts
PUT = frozenset({"put", "chucked", "stuck"})
ITS = frozenset({"it", "them", "her", "everything"})
WITH_REACH = 6  # tokens from "filled" to its amount
BETWEEN = ARTICLES | PUT | {"about", "around", "roughly", "just", "only", "some", "fresh", "new", "in", "back",
                            "exactly", "another"}  # fmt: skip


def filled(scene: Scene, made: Draft, drafts: list[Draft]) -> None:
    """Let "put in" right before a volume or a grade be the filling of its fluid: "put in | 4.5 litres of 5W-30"."""
    if made.kind not in ("volume", "fluid") or made.mention is None or not is_fluid(scene, made.mention):
        return
    if made.kind == "volume" and made.role != "added":
        return
    for put in drafts[-LOOKED_BACK:]:
        if put.kind == "operation" and put.action == "install" and _right_before(scene.page, put, made):
            put.action, put.mention, put.rule, put.manner = "fill", made.mention, "action.fill", "base"
        elif put.kind == "operation" and put.action == "fill" and _no_vessel(scene, put) and (
                _with_it(scene.page, put, made)):
            put.mention = made.mention


def _no_vessel(scene: Scene, put: Draft) -> bool:
    """What is told as filled is named by no word, or is a part that holds no fluid: a spring, a clip."""
    mention = put.mention
    return mention is None or not (is_fluid(scene, mention) or mention.head in scene.words.vessels | scene.words.fuels)


def _with_it(page: Passage, put: Draft, made: Draft) -> bool:
    """"Filled it | with 2.3 litres": a pronoun, and the amount right behind it."""
    words = page.words(put.start, made.start)
    return page.same_sentence(put.start, made.start) and not ITS.isdisjoint(words) and "with" in words and (
        made.start - put.start <= WITH_REACH)


def _right_before(page: Passage, put: Draft, made: Draft) -> bool:
    """No part stands between the verb and the amount; the verb's words may reach to the fluid named behind it."""
    return put.start < made.start and page.same_sentence(put.start, made.start) and page.word(put.start) in PUT and (
        BETWEEN.issuperset(page.words(put.start, made.start)))
