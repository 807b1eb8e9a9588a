"""One reading as the JSON of the output contract, or as lines for a person."""

from __future__ import annotations

import json

from saidspec.model import Fact, Reading, fact_object


def reading_json(reading: Reading) -> str:
    """The object `saidspec/facts-1` of the output contract."""
    note = reading.note
    return json.dumps({
        "schema": "saidspec/facts-1",
        "note": {"source": note.source.name, "sha256": note.source.sha256,
                 "date": note.date.isoformat() if note.date else None, "utterances": len(note.utterances)},
        "facts": [fact_object(fact) for fact in reading.facts],
        "unclaimed": [{"quote": item.quote, "start": item.start, "end": item.end, "time": item.time}
                      for item in reading.unclaimed],
        "known": [{"quote": item.quote, "start": item.start, "end": item.end, "time": item.time, "rule": item.rule}
                  for item in reading.known],
        "problems": [{"message": item.message, "start": item.start, "end": item.end} for item in reading.problems],
    }, ensure_ascii=False, indent=1)  # fmt: skip


def said(fact: Fact) -> str:
    """The value of a fact in a few words: "107 N*m", "0.7 to 0.8 mm", "M8x1.25", "drain"."""
    words = []
    if fact.value is not None:
        words.append(f"{fact.value:f}" + (f" to {fact.value_high:f}" if fact.value_high is not None else ""))
    words += [
        text
        for text in (
            fact.unit,
            f"+ {fact.angle:f} deg" if fact.angle is not None else None,
            fact.code,
            fact.action,
            fact.finding,
        )
        if text
    ]
    return ("about " if fact.approximate else "") + " ".join(words)


def reading_text(reading: Reading) -> str:
    """The facts a line each: number, kind, what was said, component, standing, and the words."""
    lines = [f"{reading.note.source.name}: {len(reading.facts)} facts in {len(reading.note.utterances)} utterances"]
    for fact in reading.facts:
        standing = "" if fact.assertion == "stated" else f" [{fact.assertion}]"
        taken = f" -> {fact.replaced_by}" if fact.replaced_by else ""
        role = f" ({fact.role})" if fact.role else ""
        lines.append(
            f"{fact.id:>4} {fact.kind:<12} {said(fact)}{role}{standing}{taken} | {fact.component or '-'} | "
            f"{' '.join(fact.provenance.quote.split())!r}"
        )
    lines += [f"     unclaimed    {item.quote!r} at {item.start}" for item in reading.unclaimed]
    lines += [f"     no fact      {item.quote!r} at {item.start} ({item.rule})" for item in reading.known
              if not item.is_word]
    lines += [f"     problem      {item.message}" for item in reading.problems]
    return "\n".join(lines)
