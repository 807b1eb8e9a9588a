"""How close two component phrases are: the same words, a name that says less or more, another fastener of the part."""

from __future__ import annotations

from dataclasses import replace

from saidspec.reconcile.phrase import Phrase

# Words that a name may leave out at its end: "pump bolts" are those of the pump housing.
ENCLOSING = frozenset({"housing", "body", "cover", "bracket", "case", "casing", "flange", "clamp"})
HELD: frozenset[str] = frozenset({"torque", "size"})  # kinds that speak of a fastener


def readings(phrase: Phrase) -> tuple[Phrase, ...]:
    """A phrase as said and, where that differs, with the names of parts in their canonical form."""
    return (phrase, phrase.by_name) if phrase.by_name else (phrase,)


def relate(fact: Phrase, spec: Phrase, kind: str, quantity: str | None = None
           ) -> tuple[int, frozenset[str], str] | None:
    """(relation, missing words, why) of the closest readings, or None where the two cannot be the same part.

    Relations: 0 same, 1 fastener unsaid, 2 other fastener, 3 says less, 4 says less and no fastener, 5 says less and
    another fastener, 6 says more, 7 leaves out the word that the name ends in, 8 only ends alike.
    `quantity` is what a measurement is of.
    """
    found = [related for said in readings(fact) for wanted in readings(spec)
             if (related := relate_words(said, wanted, kind, quantity)) is not None]
    return min(found, key=lambda related: related[0], default=None) or relate_end(fact, spec, kind, quantity)


def relate_end(fact: Phrase, spec: Phrase, kind: str, quantity: str | None) -> tuple[int, frozenset[str], str] | None:
    """As `relate`, without the fact's first words, which may only say where the talk was: never more than a hint."""
    for drop in range(1, len(fact.order)):
        rest = replace(fact, order=fact.order[drop:], words=frozenset(fact.order[drop:]), by_name=None)
        related = relate_words(rest, spec, kind, quantity)
        whole = len(rest.core) > 1 or (kind == "measurement" and quantity is not None and quantity == spec.quantity)
        if related is not None and related[0] in (0, 3) and whole:
            return 8, related[1], f"{related[2]}, {' '.join(fact.order[:drop])} left aside"
    return None


def relate_words(fact: Phrase, spec: Phrase, kind: str, quantity: str | None
                 ) -> tuple[int, frozenset[str], str] | None:
    """As `relate`, for one reading of each."""
    held = kind in HELD
    said, wanted = (fact.core, spec.core) if held else (fact.words, spec.words)
    if not said or (held and not wanted):
        return None
    loose = 0
    if held and spec.fasteners and fact.fasteners != spec.fasteners:
        loose = 2 if fact.fasteners else 1
    elif held and fact.fasteners and not spec.fasteners:
        loose = 2
    if said == wanted:
        note = ("same words", "the same part, its fastener unsaid", "the same part, another word for its fastener")
        return loose, frozenset(), note[loose]
    if said < wanted and (spec.head in said or (kind == "measurement" and quantity == spec.quantity)
                          or kind in ("part_number", "fluid", "volume")):
        return 3 + loose, wanted - said, "says less: " + ", ".join(sorted(wanted - said)) + " unsaid"
    if held and said < wanted and (len(wanted - said) == 1 or (len(said) > 1 and wanted - said <= ENCLOSING)):
        return 7, wanted - said, "says less: " + ", ".join(sorted(wanted - said)) + " unsaid, which may be another part"
    tail = fact.order[-len(spec.order):] == spec.order
    if said > wanted and (tail or said - wanted <= fact.modifiers):
        return 6, frozenset(), "says more: " + ", ".join(sorted(said - wanted))
    return None


def another_fastener(fact: Phrase, spec: Phrase) -> bool:
    """Whether one says nut and the other bolt or screw: maybe two fasteners of one part; of wheels it is only talk."""
    return ("nut" in fact.fasteners) != ("nut" in spec.fasteners) and fact.core != {"wheel"}
