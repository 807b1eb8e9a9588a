"""A line of a report: what one entry of the record says, what became of it in review, and the words behind it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from saidspec.model import Fact, Kind
from saidspec.record.entries import Decision, Entry, FlagEntry
from saidspec.report.counted import counted_noun, plural
from saidspec.report.wording import clock, phrase

# Kinds that mean nothing without the part they are about.
OF_A_PART: frozenset[Kind] = frozenset({"torque", "volume", "size", "part_number", "measurement", "observation"})
NAMED: dict[Kind, str] = {"odometer": "odometer", "date": "date", "interval": "interval", "duration": "time taken"}
NOT_CLEAR = "part not clear from the words"
# Below this confidence a line says that the reading is uncertain (a choice of ours: little better than a coin).
SURE_ENOUGH = 0.6
WEAK = {"possible": "the speaker was not sure", "quoted": "quoted, not the speaker's own plan"}
ENOUGH = 6  # words from which a quote makes sense alone
# What stands between two captions, where a quote runs across them: a number and the times, or the times alone.
BETWEEN_CAPTIONS = re.compile(r"(?:(?<=\s)\d+\s+)?\d[\d:.,]+ --> \d[\d:.,]+(?:[^\S\n][^\n]*)?")
AROUND = 120  # characters of an utterance that are shown around words that make no sense alone
CAUSES = {
    "unit": "the number is right in another unit",
    "neighbour": "it is the value of an adjacent fastener or system",
    "misheard": "it sounds like the right number",
    "decimal": "it is the right number out by a factor of ten",
    "transposed": "two digits are swapped",
    "imperial-quart": "US measure against imperial measure",
    "old-part": "it is a superseded number",
}


def as_said(text: str) -> str:
    """Words of a note in one line, without the times of captions between them."""
    return " ".join(BETWEEN_CAPTIONS.sub(" ", text).split())


@dataclass(frozen=True, slots=True)
class Words:
    """The words behind a line and where they stand: the note, the place in its text, the time in its recording."""

    quote: str
    note: str
    start: int
    end: int
    time: str = ""
    context: str = ""
    speaker: str | None = None
    context_start: int = 0

    def parts(self) -> tuple[str, str, str]:
        """The utterance around the quote: what was said before it, the quote, and what was said after it."""
        at, to = self.start - self.context_start, self.end - self.context_start
        if not 0 <= at < to <= len(self.context):
            return "", self.quote, ""
        return self.context[:at], self.context[at:to], self.context[to:]

    def window(self) -> tuple[str, str, str]:
        """As `parts`, cut at words to what fits beside an entry: a run of speech may be a whole note."""
        before, quote, after = self.parts()
        start, end = before[-2 * AROUND :], after[: 2 * AROUND]
        if len(start) < len(before):
            start = f"… {start[start.find(' ') + 1 :]}"
        if len(end) < len(after):
            end = f"{end[: end.rfind(' ') + 1]}…"
        return BETWEEN_CAPTIONS.sub(" ", start), as_said(quote), BETWEEN_CAPTIONS.sub(" ", end)

    def shown(self) -> str:
        """The quote, with some words around it where it is too short to make sense alone."""
        quote = as_said(self.quote)
        if len(quote.split()) >= ENOUGH:
            return quote
        before, _, after = self.parts()
        start, end = before[-AROUND // 3 :], after[: AROUND // 3]
        if len(start) < len(before):
            start = f"… {start[start.find(' ') + 1 :]}"
        if len(end) < len(after):
            end = f"{end[: end.rfind(' ') + 1]}…"
        return as_said(f"{start}{self.quote}{end}")


@dataclass(frozen=True, slots=True)
class Line:
    """One entry as it is printed.  `marks` are what the reader must know: who confirmed it, that it is uncertain."""

    id: int
    about: str
    says: str
    fact: Fact
    words: Words
    marks: tuple[str, ...] = ()
    reviewed: bool = False

    @property
    def text(self) -> str:
        """The whole line: "front caliper bracket bolt: 107 N·m (78.9 lbf·ft)", "replaced front brake pad"."""
        if self.fact.kind == "operation" and self.fact.action:
            return f"{self.says} {self.about}".strip()
        if self.fact.kind == "follow_up":
            due = f", by {self.fact.code}" if self.fact.code else ""
            return f"{self._to_do()}{due}"
        return f"{self.about}: {self.says}" if self.about else self.says

    def _to_do(self) -> str:
        """A follow-up without its day: "replace front brake hose", or its words where they are no known action."""
        action, part = self.fact.action, self.fact.component
        if action and part:
            return f"{action} {part}"
        if action:
            return f"{action}: {self.about}" if self.about else action
        return f"{part}: {self.says}" if part else self.about or self.says


@dataclass(frozen=True, slots=True)
class FlagLine:
    """A disagreement as it is printed, with what a person decided about it."""

    check: str
    severity: str
    message: str
    cause: str  # in words, where the sentence does not say it
    fact: int | None
    likely: str | None = None
    accepted: bool = False
    marks: tuple[str, ...] = ()


def line(entry: Entry) -> Line:
    """The line of an entry."""
    fact, words = entry.fact, entry.fact.provenance
    about = fact.component or (NOT_CLEAR if fact.kind in OF_A_PART else NAMED.get(fact.kind, ""))
    if fact.kind == "follow_up" and not fact.component:
        about = excerpt(entry)
    says = phrase(fact)
    if fact.kind == "count" and fact.value is not None and (noun := counted_noun(entry)):
        says = says.replace(f"{fact.value:f}", f"{fact.value:f} {plural(noun, fact.value)}", 1)
    if fact.kind == "observation" and fact.assertion == "negated":
        says = f"{says}: no"
    return Line(
        id=fact.id, about=about, says=says, fact=fact, marks=_marks(entry), reviewed=entry.reviewed,
        words=Words(words.quote, entry.note, words.start, words.end, clock(words.time), entry.context, entry.speaker,
                    entry.context_start),
    )  # fmt: skip


def excerpt(entry: Entry) -> str:
    """The words around those of an entry, for what makes no sense alone: "need a" -> "need a new washer for it"."""
    words, context = entry.fact.provenance, as_said(entry.context)
    if not context or (not entry.fact.action and len(context) <= len(words.quote)):
        return ""
    if len(context) <= AROUND:
        return f"“{context}”"
    at = max(words.start - entry.context_start - AROUND // 3, 0)
    piece = entry.context[at : at + AROUND]
    inner = piece[piece.find(" ") + 1 if at else 0 : piece.rfind(" ") if at + AROUND < len(entry.context) else None]
    return f"“{'… ' if at else ''}{as_said(inner)}{' …' if at + AROUND < len(entry.context) else ''}”"


def lines(entries: list[Entry]) -> tuple[Line, ...]:
    """The lines of entries, in their order."""
    return tuple(line(entry) for entry in entries)


def flag_line(entry: FlagEntry) -> FlagLine:
    """The line of a flag: its sentence, its likely cause in words, and the decision about it."""
    flag = entry.flag
    said = "likely" in flag.message.lower()
    causes = [CAUSES[cause] for cause in (flag.likely, *flag.also_likely) if cause and not said]
    return FlagLine(
        check=flag.check, severity=flag.severity, message=flag.message, fact=flag.fact, accepted=entry.accepted,
        cause=f"probably {', or '.join(causes)}" if causes else "", likely=flag.likely,
        marks=(decided(entry.decision),) if entry.decision else (),
    )  # fmt: skip


def decided(decision: Decision) -> str:
    """A decision in words: "confirmed by Ann, 2026-05-04: read it off the wrench"; a day it was done before that."""
    verdict = {"left": "left open"}.get(decision.verdict, decision.verdict)
    if decision.done_on:
        verdict = f"{verdict} on {decision.done_on.isoformat()},"
    told = f"{verdict} by {decision.who}" if decision.who else f"{verdict} on review"
    day = decision.when[:10]
    return f"{told}{', ' + day if day else ''}{': ' + decision.reason if decision.reason else ''}"


def _marks(entry: Entry) -> tuple[str, ...]:
    told = []
    if entry.decision:
        told.append(decided(entry.decision))
    if entry.heard is not None:
        before = phrase(entry.heard)
        was = f"{entry.heard.component}: {before}" if entry.heard.component != entry.fact.component else before
        told.append(f"heard as {was}")
    if entry.fact.kind == "follow_up" and entry.fact.assertion in WEAK:
        told.append(WEAK[entry.fact.assertion])
    if entry.fact.provenance.confidence < SURE_ENOUGH and not entry.reviewed:
        told.append("uncertain reading: check the words")
    return tuple(told)
