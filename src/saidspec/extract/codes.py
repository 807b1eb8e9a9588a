"""Facts of codes: threads, tyres, grades, trouble codes and part numbers, each with its component."""

from __future__ import annotations

from saidspec.discourse.attach import Target
from saidspec.extract.draft import Draft
from saidspec.extract.fitting import fitting
from saidspec.extract.mention import Mention, placed
from saidspec.extract.part_roles import part_role
from saidspec.extract.placing import height_said
from saidspec.extract.scene import Scene
from saidspec.extract.target import beside
from saidspec.model import Kind

# What a code of each form is a fact of: its kind and its role.
FORMS: dict[str, tuple[Kind, str | None]] = {
    "thread": ("size", "thread"), "bit": ("size", "tool"), "tyre": ("size", "tyre"), "pattern": ("size", "part"),
    "chain": ("size", "part"), "bulb": ("size", "part"), "viscosity": ("fluid", None), "class": ("fluid", None),
    "trouble": ("trouble_code", None), "part": ("part_number", "installed"),
}  # fmt: skip
HANDS = {"L": ("left", "R"), "R": ("right", "L"), "LH": ("left", "RH"), "RH": ("right", "LH")}
TWINS = 80  # tokens in which the number of the other side stands
TYRES = frozenset({"tyre", "wheel", "spare"})


def code_fact(scene: Scene, at: int) -> Draft | None:
    """The fact of the code at a token, or None for a code of a form that tells nothing of the vehicle."""
    lex = scene.page.lexemes[at]
    if lex.form not in FORMS:
        return None
    kind, role = FORMS[lex.form]
    target = beside(scene, at, at + 1, length=kind in ("size", "part_number"))
    grease = lex.text.startswith("NLGI")
    if not grease:  # a grease is told by the part that it is in
        target = fitting(scene, kind, role, target, at)
    made = Draft(kind, at, at + 1, at, target.mention, code=lex.text, role=role, rule=f"{kind}.{lex.form}",
                 manner=target.manner, confidence=target.confidence - (0 if lex.sure else 0.1))
    if grease:
        made.mention = _grease(scene, at)
    elif kind == "trouble_code":
        made.mention, made.confidence = None, 0.95
    elif lex.form == "tyre":
        made.mention = _tyre(target)
    elif kind == "part_number":
        old = target.mention is not None and target.mention.is_old and target.manner != "focus"
        made.role = part_role(scene.page, scene.words, at, old)
        made.mention = _handed(scene, at, made.mention)
        height = height_said(scene.page, at + 1)
        if height and made.mention is not None:
            made.mention = placed(made.mention, dict(made.mention.positions) | {"height": height})
        scene.memory.recent.append(made)
    return made


def _handed(scene: Scene, at: int, mention: Mention | None) -> Mention | None:
    """A part number that ends in -L or -R, where the note has its twin for the other side: the part at that side."""
    page, (stem, dash, hand) = scene.page, scene.page.lexemes[at].text.upper().rpartition("-")
    if mention is None or not dash or hand not in HANDS:
        return mention
    twin = f"{stem}-{HANDS[hand][1]}"
    near = page.lexemes[max(0, at - TWINS) : at + TWINS]
    if not any(lex.kind == "code" and lex.text.upper() == twin for lex in near):
        return mention
    return placed(mention, dict(mention.positions) | {"side": HANDS[hand][0]})


def _grease(scene: Scene, at: int) -> Mention:
    """The consistency number of a grease (NLGI) is that of the grease named beside it."""
    page = scene.page
    words = tuple(page.norm[i] for i in range(max(0, at - 4), min(at + 4, len(page)))
                  if page.inside("material", i) or page.inside("qualifier", i))
    return Mention(0, 0, words or ("grease",), (), "part", "", False)


def _tyre(target: Target) -> Mention:
    if target.mention and not TYRES.isdisjoint(target.mention.words):
        return target.mention
    return Mention(0, 0, ("tyre",), (), "part", "wheels", False)
