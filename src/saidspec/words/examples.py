"""Whether the examples of rule files hold what they show: each is read with all rules, and what it says is compared."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal, InvalidOperation
from typing import Any

from saidspec.extract.components import mentions
from saidspec.extract.materials import claim_materials
from saidspec.extract.mention import named
from saidspec.extract.passage import Passage, passage
from saidspec.extract.quantities import quantities
from saidspec.extract.rules import Rules
from saidspec.heard.believable import believables, inside, spans_of
from saidspec.heard.confusions import codes_alike, confusions, like_sounding, point_elsewhere
from saidspec.model import Note
from saidspec.normalise.lexemes import normalised
from saidspec.normalise.speech import speech
from saidspec.normalise.spelling import shape
from saidspec.patterns import RuleFile
from saidspec.pipeline import read
from saidspec.rule_formats import Trouble
from saidspec.toml_lines import Place

Entry = dict[str, Any]
Claim = Callable[[str, Entry, Entry, Rules], str]  # text, entry, example -> what was read instead, empty if it holds


def wrong_examples(files: Iterable[RuleFile], rules: Rules) -> Iterator[Trouble]:
    """The examples that do not say what their entry claims, each with what was read in it."""
    for file in files:
        for place, table, entry, example, text in examples(file):
            instead = CLAIMS[table](text, entry, example, rules)
            if instead:
                yield Trouble(file.path, 0, f"example {text!r} does not hold its [[{table}]]: {instead}", place)


def examples(file: RuleFile) -> Iterator[tuple[Place, str, Entry, Entry, str]]:
    """(place, table, entry, example, text) of each example of a file whose claim can be tried."""
    for example_at, example in enumerate(file.data.get("example", ()) if file.name.startswith("components/") else ()):
        yield ("example", example_at), "example", file.data, example, example["text"]
    for table in CLAIMS.keys() & file.data.keys() - {"example"}:
        for at, entry in enumerate(file.data[table] if isinstance(file.data[table], list) else ()):
            for key in ("example", "examples"):
                told = entry.get(key, ())
                for number, each in enumerate([told] if isinstance(told, str) else told):
                    if isinstance(each, dict):
                        yield (table, at, key, number), table, entry, each, each["text"]
                    else:
                        yield (table, at, key), table, entry, {}, each


def note_of(text: str) -> Note:
    """An example as a note."""
    from saidspec.sources.read import read_text

    return read_text(text.encode(), "example")


def page_of(text: str, rules: Rules) -> Passage:
    """The passage of an example."""
    note = note_of(text)
    aligned, lexemes = normalised(speech(note), rules.numbers)
    return passage(note, aligned, lexemes, rules.terms)


def _components(text: str, rules: Rules) -> list[str]:
    page = page_of(text, rules)
    claim_materials(page)
    return [name for mention in mentions(page) if (name := named(mention))]


def _component(text: str, _: Entry, example: Entry, rules: Rules) -> str:
    """The component as it is read where it is said alone ("nearside sill" is "left sill") is read in the text too."""
    found, wanted = _components(text, rules), _components(example["component"], rules)
    held = example["component"] in found or (len(wanted) == 1 and wanted[0] in found)
    return "" if held else f"component {example['component']!r} is not read; {_read(found)}"


def _term(*categories: str) -> Claim:
    def holds(text: str, entry: Entry, _: Entry, rules: Rules) -> str:
        page = page_of(text, rules)
        if any(found.term.id == entry["id"] for name in categories for found in page.found.get(name, ())):
            return ""
        return _read([f"{found.term.category} {found.term.id}" for name in (*categories, "part", "fastener", "finding")
                      for found in page.found.get(name, ())])

    return holds


def _action(text: str, entry: Entry, _: Entry, rules: Rules) -> str:
    found = [fact.action for fact in read(note_of(text), rules=rules).facts if fact.action]
    if entry["id"] in found or not _term("action")(text, entry, {}, rules):
        return ""
    return _read([f"action {action}" for action in found])


def _fluid(text: str, entry: Entry, _: Entry, rules: Rules) -> str:
    """The name is found, or a code that is the entry's: grades with figures are codes before names are looked for."""
    codes = [fact.code for fact in read(note_of(text), rules=rules).facts if fact.kind == "fluid" and fact.code]
    if _plain(entry.get("code", "")) in map(_plain, codes) or not _term("fluid")(text, entry, {}, rules):
        return ""
    return _read([f"fluid {code}" for code in codes])


def _plain(code: str) -> str:
    return "".join(char for char in code.lower() if char.isalnum())


def _shape(text: str, entry: Entry, _: Entry, rules: Rules) -> str:
    page = page_of(text, rules)
    found = [lex for lex in page.lexemes if lex.kind == "code"]
    if any(lex.form == "part" and shape(entry["pattern"]).fullmatch(lex.text) for lex in found):
        return ""
    return _read([f"{lex.form} {lex.text}" for lex in page.lexemes if lex.kind in ("code", "number")])


def _mishearing(text: str, entry: Entry, _: Entry, rules: Rules) -> str:
    aligned, _lexemes = normalised(speech(note_of(text)), rules.numbers)
    used = f"mishearing.{entry['id']}" in aligned.rules(0, len(aligned.text))
    return "" if used else f"it is read as {aligned.text!r}"


def _doubtful(text: str, entry: Entry, example: Entry, rules: Rules) -> str:
    """The value stays as it was heard, and what else it may be is known by this entry alone."""
    known, other = confusions([entry]), example["other"]
    if entry["of"] == "code":
        codes = [fact.code for fact in read(note_of(text), rules=rules).facts if fact.code]
        if example["heard"] not in codes:
            return _read(codes)
        return "" if codes_alike(example["heard"], other, known) else f"{other} is not taken for it"
    values = [fact.value for fact in read(note_of(text), rules=rules).facts if fact.value is not None]
    heard = _number(example["heard"])
    if heard is None or heard not in values:
        return _read([str(value) for value in values])
    if _number(other) in [*like_sounding(heard, known), *point_elsewhere(heard, known)]:
        return ""
    return f"{other} is not taken for it"


def _believable(text: str, entry: Entry, example: Entry, rules: Rules) -> str:
    """The value lies outside of the span, and another one would lie inside."""
    spans, other = believables([entry]), _number(example["other"])
    facts = [fact for fact in read(note_of(text), rules=rules).facts if fact.value is not None]
    held = [(fact, span) for fact in facts for span in spans_of(fact, spans)]
    if not held:
        return _read([f"{fact.kind} of {fact.component}" for fact in facts])
    for fact, span in held:
        if fact.value is not None and fact.unit and other is not None:
            if inside(fact.value, fact.unit, span):
                return f"{fact.value} {fact.unit} is believed"
            if not inside(other, fact.unit, span):
                return f"{other} {fact.unit} is not believed either"
    return ""


def _number(text: str) -> Decimal | None:
    try:
        return Decimal(text)
    except InvalidOperation:
        return None


def _unit(text: str, entry: Entry, _: Entry, rules: Rules) -> str:
    found = quantities(page_of(text, rules), rules.units)
    if (entry["unit"], entry["dimension"]) in [(item.unit, item.dimension) for item in found]:
        return ""
    return _read([f"{item.value} {item.unit}".strip() for item in found])


def _distractor(text: str, _: Entry, __: Entry, rules: Rules) -> str:
    found = read(note_of(text), rules=rules)
    values = [f"{fact.kind} {fact.value}" for fact in found.facts if fact.value is not None]
    left = [f"{item.quote} unclaimed" for item in found.unclaimed]
    return _read(values + left) if values + left else ""


def _currency(text: str, entry: Entry, _: Entry, rules: Rules) -> str:
    codes = [fact.code or "money" for fact in read(note_of(text), rules=rules).facts if fact.kind == "cost"]
    return "" if entry["code"] in codes else _read(codes)


def _read(found: list[str]) -> str:
    return f"read there: {', '.join(dict.fromkeys(found))}" if found else "nothing of it is read there"


CLAIMS: dict[str, Claim] = {
    "example": _component, "shape": _shape, "mishearing": _mishearing, "doubtful": _doubtful,
    "believable": _believable, "unit": _unit, "distractor": _distractor,
    "currency": _currency, "cue": _term("cue", "approx"), "action": _action, "fluid": _fluid,
    **{name: _term(name) for name in ("finding", "material", "correction", "plan", "position")},
}  # fmt: skip
