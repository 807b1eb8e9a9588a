"""Whether the note supplies the words that a short name leaves out, so that "drain plug" may be the engine oil's."""

from __future__ import annotations

from saidspec.model import Fact, Sheet
from saidspec.reconcile.context import Context, called, system_of
from saidspec.reconcile.phrase import Phrase, read_phrase


def support(fact: Fact, phrase: Phrase, spec: Phrase, missing: frozenset[str], context: Context, alone: bool,
            measured_alone: bool = False) -> tuple[bool, str]:
    """Whether the note supplies the words that the fact leaves out, and what says so.

    `alone`: no other component of the sheet has the fact's words; `measured_alone`: none has this measured on it.
    """
    vocabulary, end = context.vocabulary, fact.provenance.end
    name = called(context, fact, phrase, spec)
    if name is not None and not name[0]:
        return False, f"but the note last called it '{name[1]} {' '.join(phrase.order)}'"
    unspoken = {word for word in missing if context.last(word, end) is None}
    system, attention = system_of(spec.order, vocabulary), context.attention(end)
    rival = attention not in (None, system) and spec.head in vocabulary.heads.get(attention or "", frozenset())
    if rival and system is not None and phrase.words <= vocabulary.every_system and name is None:
        return False, f"but the note speaks of the {attention}, which has one too"
    if not unspoken:
        return True, "the note has the rest before it" if missing else ""
    told = f"but the note does not have {', '.join(sorted(unspoken))}"
    if attention is not None and attention == system:
        if alone or phrase.words - vocabulary.generic - phrase.modifiers or unspoken <= vocabulary.system_says:
            return True, f"the note is about the {system}"
        return False, told
    if attention is not None and spec.head not in vocabulary.heads.get(attention, frozenset()):
        attention = None  # that system has no such part
    others = context.all_systems & vocabulary.other_oils
    if system == "engine" and unspoken <= {"engine", "oil"} and not others:
        return True, "the note speaks of no other oil than the engine's"
    common = phrase.words <= vocabulary.every_system and unspoken & vocabulary.system_says
    if alone and not common and (attention in (None, system) or len(phrase.core - vocabulary.generic) > 1):
        return True, "nothing else in the sheet has such a part"
    if measured_alone and not common:
        return True, f"nothing else in the sheet has such a {spec.quantity}"
    if alone and not common and name is not None:
        return True, f"the note called it '{name[1]} {' '.join(phrase.order)}'"
    return False, told + (f" and speaks of the {attention}" if attention else "")


def alone(phrase: Phrase, sheet: Sheet, context: Context) -> bool:
    """Whether one component of the sheet alone has all the words of a phrase, places aside."""
    having = {(wanted.core, wanted.size) for spec in sheet.specifications
              if phrase.words <= (wanted := read_phrase(spec.component, spec.kind, context.vocabulary)).words}
    return len(having) == 1


def one_measured(phrase: Phrase, quantity: str, sheet: Sheet, context: Context) -> bool:
    """Whether one component of the sheet alone has the words of a phrase and this measured on it."""
    wanted = [read_phrase(spec.component, spec.kind, context.vocabulary) for spec in sheet.specifications
              if spec.kind == "measurement"]
    return len({one.core for one in wanted if one.quantity == quantity and phrase.words <= one.words}) == 1
