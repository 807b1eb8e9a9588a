"""The phrasing corpora: loads `corpus/phrases` and `corpus/phrases_held_back`, and judges what was read from a phrase.

A case is one set of facts with many phrasings of it.  A field of an expectation holds one acceptable value or a list
of them; "" means that the fact must not have one.  A field that is left out is not judged.

    kind, value, value_high, angle   numbers as strings
    unit, role, action, assertion    as in the output contract
    component, without               words that must all occur in the fact's component, and words that must not;
                                     "a|b": either
    finding                          words that must each begin a word of the finding; "a|b": either
    code                             compared without case and separators; of a material, one may contain the other
    approximate                      true or false
    replaced_by                      place in `expect` (from 0) of the expectation that this reading was corrected to
    optional                         neither missed when absent nor too much when present
    or                               another expectation that will do instead, for words that can be read as two kinds

`complete` lists kinds, or groups of kinds, of which nothing else may be found; left out, it is "core".
`known` says that no number of the phrase may be left unclaimed either.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from saidspec.model import ACTIONS, ASSERTIONS, KINDS, Fact, Unclaimed

CORPUS = Path(__file__).parent / "corpus"
DEVELOPMENT, HELD_BACK = CORPUS / "phrases", CORPUS / "phrases_held_back"
DAY = date(2026, 5, 9)  # a Saturday

CORE = ("torque", "volume", "size", "part_number", "fluid", "measurement", "odometer", "trouble_code", "cost")
GROUPS: dict[str, tuple[str, ...]] = {
    "core": CORE,
    "numbers": (*CORE, "date", "interval", "duration", "count"),
    "all": KINDS,
}
UNITS = frozenset((
    "N*m", "lbf*ft", "lbf*in", "kgf*m", "qt", "pint", "floz", "gal", "L", "mL", "mm", "cm", "m", "in", "ft", "thou",
    "mi", "km", "psi", "bar", "kPa", "inHg", "degC", "degF", "V", "mV", "ohm", "kohm", "A", "mA", "Ah", "W", "deg",
    "rpm", "gauge", "g", "kg", "lb", "percent", "s", "min", "hour", "day", "week", "month", "year",
))  # fmt: skip
ROLES = {
    "volume": "capacity, added, drained, bought, left over",
    "size": "tool, thread, tube, tyre, part",
    "part_number": "installed, removed, bought",
    "interval": "since last, every, until",
    "count": "bought, left over, used",
    "cost": "each, total",
    "observation": "ok, watch, act",
    "measurement": "thickness, gap, clearance, play, slack, deflection, depth, pressure, voltage, resistance, current, "
    "temperature, runout, diameter, width, compression, travel, length, height, weight, speed, density, angle, power, "
    "share, capacity, toe",
}
NUMBERS = ("value", "value_high", "angle")
FIELDS = frozenset((*NUMBERS, "kind", "unit", "role", "action", "assertion", "component", "without", "finding", "code",
                    "approximate", "replaced_by", "optional", "or"))  # fmt: skip
CASE_KEYS = frozenset(("id", "date", "expect", "complete", "known", "phrases"))
SPELLINGS = {"calliper": "caliper", "tire": "tyre", "disk": "disc", "litre": "liter", "metre": "meter",
             "centre": "center", "grey": "gray"}  # fmt: skip

Expectation = dict[str, Any]


@dataclass(frozen=True)
class Phrase:
    """One phrasing, with the facts that it holds; `file` is the theme."""

    file: str
    case: str
    text: str
    day: date
    expect: tuple[Expectation, ...]
    complete: frozenset[str]
    known: bool


@dataclass(frozen=True)
class Wrong:
    """One thing that was read wrongly from a phrase; `kind` is None for a number left unclaimed or a broken quote.

    `cause` names the class of failures that it belongs to, the same words for all of one class.
    """

    kind: str | None
    message: str
    cause: str = ""


def load(folder: Path = DEVELOPMENT) -> list[Phrase]:
    """All phrases of a folder, by file and then in the order of the file."""
    return [phrase for path in sorted(folder.glob("*.toml")) for phrase in load_file(path)]


def load_file(path: Path) -> Iterator[Phrase]:
    with path.open("rb") as stream:
        cases = tomllib.load(stream)["case"]
    for case in cases:
        kinds = frozenset(kind for name in case.get("complete", ["core"]) for kind in GROUPS.get(name, (name,)))
        for text in case["phrases"]:
            yield Phrase(path.stem, case["id"], text, case.get("date", DAY), tuple(case["expect"]), kinds,
                         case.get("known", False))  # fmt: skip


def faults(folders: Sequence[Path] = (DEVELOPMENT, HELD_BACK)) -> list[str]:
    """What is wrong with the files themselves: unknown keys, values outside the contract, anything given twice."""
    found: list[str] = []
    ids: set[str] = set()
    texts: set[str] = set()
    for path in sorted(path for folder in folders for path in folder.glob("*.toml")):
        for case in tomllib.loads(path.read_text(encoding="utf-8"))["case"]:
            place = f"{path.parent.name}/{path.name}: {case.get('id')}"
            found += [f"{place}: {fault}" for fault in case_faults(case)]
            if case.get("id") in ids:
                found.append(f"{place}: id given twice")
            ids.add(case.get("id"))
            for text in case.get("phrases", ()):
                plain = " ".join(text.lower().split())
                if plain in texts:
                    found.append(f"{place}: phrase given twice: {text}")
                texts.add(plain)
    return found


def case_faults(case: dict[str, Any]) -> list[str]:
    found = [f"unknown key {key}" for key in case.keys() - CASE_KEYS]
    found += [f"no {key}" for key in ("id", "expect", "phrases") if key not in case]
    found += [f"complete: unknown kind {name}" for name in case.get("complete", ())
              if name not in GROUPS and name not in KINDS]  # fmt: skip
    if not 4 <= len(case.get("phrases", ())) <= 12:
        found.append(f"{len(case.get('phrases', ()))} phrases, 4 to 12 wanted")
    for number, expectation in enumerate(case.get("expect", ())):
        found += [f"expect {number}: {fault}" for fault in expectation_faults(expectation, len(case["expect"]))]
    return found


def expectation_faults(expectation: Expectation, size: int) -> Iterator[str]:
    kind = expectation.get("kind")
    if kind not in KINDS:
        yield f"unknown kind {kind}"
    yield from (f"unknown field {name}" for name in expectation.keys() - FIELDS)
    allowed: dict[str, Iterable[str]] = {
        "unit": UNITS, "action": ACTIONS, "assertion": ASSERTIONS,
        "role": ROLES[kind].split(", ") if kind in ROLES else (),
    }  # fmt: skip
    for name, values in allowed.items():
        for value in alternatives(expectation.get(name, "")):
            if value and value not in values:
                yield f"unknown {name} {value}"
    for name in NUMBERS:
        for value in alternatives(expectation.get(name, "")):
            if value and as_decimal(value) is None:
                yield f"{name} is no number: {value}"
    if not 0 <= expectation.get("replaced_by", 0) < size:
        yield "replaced_by names no expectation"
    if "or" in expectation:
        yield from expectation_faults(expectation["or"], size)


def as_decimal(text: str) -> Decimal | None:
    try:
        return Decimal(text)
    except InvalidOperation:
        return None


def alternatives(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def squash(text: str | None) -> str:
    """Lower case without separators: "KD-3318-F" and "kd3318f" are one code."""
    return re.sub(r"[\s\-‐‑–./]+", "", (text or "").lower()).replace("×", "x")


def stems(text: str | None) -> set[str]:
    """The words of a text in lower case, in the singular, and in one spelling."""
    words = re.findall(r"[a-z0-9]+", (text or "").lower())
    return {SPELLINGS.get(word, word) for word in map(singular, words)}


def singular(word: str) -> str:
    if re.search(r"(ch|sh|x|ss)es$", word):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


def has_words(wanted: str, text: str | None, prefix: bool = False) -> bool:
    """Each word of `wanted` ("a|b": either) is a word of the text, or begins one of it."""
    words = stems(text)

    def occurs(word: str) -> bool:
        return any(each.startswith(word) for each in words) if prefix else bool(stems(word) & words)

    return all(any(occurs(option) for option in word.split("|")) for word in wanted.lower().split())


def same_number(wanted: str, got: Decimal | None) -> bool:
    """Equal within 0.05 %, for fractions written out to a few places."""
    if not wanted or got is None:
        return not wanted and got is None
    return abs(Decimal(wanted) - got) <= abs(Decimal(wanted)) * Decimal("0.0005")


def same_code(wanted: str, fact: Fact) -> bool:
    want, got = squash(wanted), squash(fact.code)
    if fact.kind == "date":
        return wanted == fact.code
    if fact.kind == "material" and want and got:
        return want in got or got in want
    return want == got


def field_right(name: str, wanted: Any, fact: Fact) -> bool:
    """Whether the field of the fact is among the acceptable values."""
    if name in ("optional", "replaced_by", "or"):
        return True
    if name == "approximate":
        return fact.approximate is bool(wanted)
    for want in alternatives(wanted):
        if name in NUMBERS:
            right = same_number(want, getattr(fact, name))
        elif name == "code":
            right = same_code(want, fact)
        elif name == "component":
            right = has_words(want, fact.component) if want else not fact.component
        elif name == "without":
            right = not any(has_words(word, fact.component) for word in want.split())
        elif name == "finding":
            right = has_words(want, fact.finding, prefix=True)
        else:
            right = str(getattr(fact, name) or "") == want
        if right:
            return True
    return False


def differences(expectation: Expectation, fact: Fact) -> list[str]:
    """The names of the fields in which a fact is not as expected, or as what will do instead."""
    found = [name for name, wanted in expectation.items() if not field_right(name, wanted, fact)]
    return min(found, differences(expectation["or"], fact), key=len) if "or" in expectation else found


def pair(expect: Sequence[Expectation], facts: Sequence[Fact]) -> dict[int, int]:
    """Place of expectation -> place of its fact, one to one; as many of the required ones as can be paired."""
    fits = [[f for f, fact in enumerate(facts) if not differences(each, fact)] for each in expect]
    owner: dict[int, int] = {}

    def place(e: int, tried: set[int]) -> bool:
        for f in fits[e]:
            if f not in tried:
                tried.add(f)
                if f not in owner or place(owner[f], tried):
                    owner[f] = e
                    return True
        return False

    for e in sorted(range(len(expect)), key=lambda e: bool(expect[e].get("optional"))):
        place(e, set())
    return {e: f for f, e in owner.items()}


def told(fact: Fact) -> str:
    """A fact in one line, for a message."""
    parts = [fact.kind, fact.component and f"[{fact.component}]", fact.action, fact.finding, fact.value,
             fact.value_high is not None and f"to {fact.value_high}", fact.unit,
             fact.angle is not None and f"+ {fact.angle} deg", fact.code, fact.role and f"({fact.role})",
             fact.assertion, f'"{fact.provenance.quote}"']  # fmt: skip
    return " ".join(str(part) for part in parts if part not in (None, False, ""))


def wanted_words(expectation: Expectation) -> str:
    return ", ".join(f"{name} {value!r}" for name, value in expectation.items())


def what_is_wrong(phrase: Phrase, facts: Sequence[Fact], unclaimed: Sequence[Unclaimed]) -> list[Wrong]:
    """Everything in which a reading of the phrase differs from what the corpus expects."""
    pairs = pair(phrase.expect, facts)
    left = [fact for place, fact in enumerate(facts) if place not in pairs.values()]
    found: list[Wrong] = []
    for number, expectation in enumerate(phrase.expect):
        if number in pairs or expectation.get("optional"):
            continue
        near = min((fact for fact in left if fact.kind == expectation["kind"]), default=None,
                   key=lambda fact: len(differences(expectation, fact)))  # fmt: skip
        if near is None:
            kind = expectation["kind"]
            found.append(Wrong(kind, f"missed: {wanted_words(expectation)}", f"not found: {kind}"))
        else:
            left.remove(near)
            names = differences(expectation, near)
            message = f"{', '.join(names)}: wanted {wanted_words(expectation)}; got {told(near)}"
            found.append(Wrong(expectation["kind"], message, cause_of(expectation, near, names)))
    found += [Wrong(fact.kind, f"too much: {told(fact)}", f"made up: {fact.kind}")
              for fact in left if fact.kind in phrase.complete]  # fmt: skip
    found += wrong_replacements(phrase.expect, facts, pairs)
    if phrase.known:
        found += [Wrong(None, f"unclaimed: {each.quote!r}", "a number known to be no fact is asked about")
                  for each in unclaimed]  # fmt: skip
    found += [Wrong(fact.kind, f"quote is not the text at its place: {told(fact)}", "quote") for fact in facts
              if fact.provenance.quote != phrase.text[fact.provenance.start : fact.provenance.end]]  # fmt: skip
    return found


def cause_of(expectation: Expectation, fact: Fact, names: Sequence[str]) -> str:
    """The class of failures that a fact belongs to which differs from what was expected in the fields `names`."""
    kind = fact.kind
    if {"value", "value_high", "angle", "unit", "code"} & {*names}:
        return f"another value: {kind}"
    if {"component", "without"} & {*names}:
        wanted = " ".join(alternatives(expectation.get("component", "")))
        if not fact.component:
            return f"no part found: {kind}"
        if not wanted:
            return f"a part that was not named: {kind}"
        near = any(has_words(word, fact.component) for word in wanted.split())
        return f"{'only some words of the part' if near else 'another part'}: {kind}"
    for name in ("assertion", "role", "action"):
        if name in names:
            wanted = " or ".join(str(each) or "none" for each in alternatives(expectation[name]))
            told_of = f" ({kind})" if name == "role" else ""
            return f"{name}: {wanted} read as {getattr(fact, name) or 'none'}{told_of}"
    return f"{', '.join(names)}: {kind}"


def wrong_replacements(expect: Sequence[Expectation], facts: Sequence[Fact], pairs: dict[int, int]) -> Iterator[Wrong]:
    for number, expectation in enumerate(expect):
        target = expectation.get("replaced_by")
        if target is None or number not in pairs or target not in pairs:
            continue
        old, new = facts[pairs[number]], facts[pairs[target]]
        if old.replaced_by != new.id:
            message = f"replaced_by is {old.replaced_by}, wanted {new.id}: {told(old)}"
            yield Wrong(old.kind, message, "a corrected reading points to another one than it should")


def judge(phrase: Phrase, facts: Sequence[Fact], unclaimed: Sequence[Unclaimed]) -> list[str]:
    """What is wrong with a reading of the phrase, one line each; empty when it is right."""
    return [wrong.message for wrong in what_is_wrong(phrase, facts, unclaimed)]


def known_failures(path: Path = CORPUS / "known_failures.toml") -> dict[str, str]:
    """Phrase -> why it is not read rightly yet."""
    known: dict[str, str] = tomllib.loads(path.read_text(encoding="utf-8")).get("known", {})
    return known
