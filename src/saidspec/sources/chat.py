"""Chat logs: lines that begin with a date, a time and mostly a sender, and messages of several lines.

Forms read: `[2026-04-11, 09:02] Ann: words`, `11/04/2026, 09:02 - Ann: words`, `4/11/26, 9:02 AM - Ann: words`,
`[09:02, 11/04/2026] Ann: words`, `[09:02] Ann: words`, `Ann, [11.04.2026 09:02]` with the words on the next lines.
Whether the day or the month comes first is settled by the whole file.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, time

from saidspec.model import Problem, Utterance
from saidspec.sources.content import Content
from saidspec.sources.lines import Line, lines_of, trimmed

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = rf"(?:{'|'.join(_MONTHS)})[a-z]*"
_DATE = (r"(?:\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.](?:\d{4}|\d{2})|"
         rf"\d{{1,2}}\.?[ ]{_MONTH}\.?,?[ ]\d{{4}}|{_MONTH}\.?[ ]\d{{1,2}},?[ ]\d{{4}})")  # fmt: skip
_TIME = r"\d{1,2}[:.]\d{2}(?:[:.]\d{2})?(?:[ \u00a0\u202f]?[ap]\.?[ ]?m\.?)?"
_UNSEEN = "[\u200e\u200f\u202a-\u202c\ufeff ~]*"
_SENDER = r"[^\[\]:\r\n]{1,60}"
HEADER = re.compile(
    rf"{_UNSEEN}(?:"
    rf"\[(?:(?P<d1>{_DATE}),?[ T](?P<t1>{_TIME})|(?P<t2>{_TIME}),?[ ](?P<d2>{_DATE})"
    rf"|(?P<t5>{_TIME})(?=\][ ]{_SENDER}:[ ]))\]"
    rf"|(?P<d3>{_DATE}),?[ T](?P<t3>{_TIME})(?:[ ]?[-–—][ ]|:[ ])"
    rf"|(?P<name>{_SENDER}),[ ]\[(?P<d4>{_DATE}),?[ ](?P<t4>{_TIME})\][ ]*$"
    r")",
    re.IGNORECASE,
)
_NAMED = re.compile(rf"{_UNSEEN}(?P<sender>{_SENDER}):(?=\s|$)")
_NO_WORDS = re.compile(
    r"<[^<>]*(?:omitted|attached)[^<>]*>|(?:image|video|audio|sticker|gif|document|contact card) omitted"
    r"|(?<!\S)\S{1,120}\.\w{2,4} \(file attached\)|<attached: [^<>]*>"
    r"|(?:this message was deleted|you deleted this message)\.?",
    re.IGNORECASE,
)
_EDITED = re.compile(r"<this message was edited>", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Message:
    """One message as found: its date and time as written, where its words begin and end, its first line."""

    day: str
    clock: str
    name: str | None
    start: int
    end: int
    line: Line


def is_chat(text: str) -> bool:
    """True if the first line with words has a chat's stamp, or at least three of the first lines have."""
    stamped = seen = 0
    for line in lines_of(text[:20_000]):
        if line.blank:
            continue
        seen += 1
        if HEADER.match(line.text):
            stamped += 1
            if seen == 1:
                return True
    return stamped >= 3


def read(text: str, day: date | None = None) -> Content:
    """The messages of a chat log as utterances, with sender and time sent, and the date of the first.

    `day` is the day the note was spoken, where it is known, else that of the file's name: it can settle the order of
    day and month.
    """
    before, messages = _messages(text)
    problems: list[Problem] = []
    order, doubt = day_first([one.day for one in messages if one.day], day)
    if doubt and messages:
        first = next(one for one in messages if one.day)
        problems.append(Problem(f"line {first.line.number}: {doubt}", first.line.start, first.line.end))
    senders = _senders(text, messages)
    said = [Utterance(start, end) for start, end in before]
    first_day = None
    for message in messages:
        start, end = trimmed(text, message.start, message.end)
        sender = message.name
        named = _NAMED.match(text, start, end)
        if sender is None and named and _plain(named["sender"]) in senders:
            sender = _plain(named["sender"])
            start = named.end()
        sent = None
        if message.day and order is not None:
            sent = sent_at(message.day, message.clock, day_first=order)
            first_day = first_day or (sent.date() if sent else None)
            if sent is None:
                what = f"line {message.line.number}: no date and time: {message.day} {message.clock}"
                problems.append(Problem(what, message.line.start, message.line.end))
        said += [Utterance(left, right, speaker=sender, sent=sent) for left, right in _spoken(text, start, end)]
    return Content(text, tuple(said), tuple(problems), first_day)


def _messages(text: str) -> tuple[list[tuple[int, int]], list[Message]]:
    """What stands before the first stamp, line by line, and the messages."""
    before: list[tuple[int, int]] = []
    messages: list[Message] = []
    for line in lines_of(text):
        match = HEADER.match(line.text)
        if match:
            day = match["d1"] or match["d2"] or match["d3"] or match["d4"] or ""
            clock = match["t1"] or match["t2"] or match["t3"] or match["t4"] or match["t5"]
            name = _plain(match["name"]) if match["name"] else None
            messages.append(Message(day, clock, name, line.start + match.end(), line.end, line))
        elif messages:
            last = messages[-1]
            messages[-1] = Message(last.day, last.clock, last.name, last.start, line.end, last.line)
        elif not line.blank:
            before.append(trimmed(text, line.start, line.end))
    return before, messages


def _plain(name: str) -> str:
    return name.strip("\u200e\u200f\u202a\u202b\u202c\ufeff ~")


def _senders(text: str, messages: list[Message]) -> set[str]:
    """The names before a colon that are senders and not the beginning of the words ("drain plug: 34").

    Where every message has one and they recur, all are senders; otherwise only those that recur.
    """
    names: dict[str, int] = {}
    for message in messages:
        named = _NAMED.match(text, message.start, message.end)
        if named:
            names[_plain(named["sender"])] = names.get(_plain(named["sender"]), 0) + 1
    everyone = sum(names.values()) == len(messages) and (len(messages) < 4 or len(names) * 2 <= len(messages))
    return {name for name, count in names.items() if everyone or count > 1}


def _spoken(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """The words of a message, without what stands for pictures, recordings and the mark of an edit."""
    start, end = trimmed(text, start, end)
    stretches: list[tuple[int, int]] = []
    asides = [match.span() for match in re.finditer(f"{_NO_WORDS.pattern}|{_EDITED.pattern}", text[start:end], re.I)]
    place = start
    for left, right in [*((start + left, start + right) for left, right in asides), (end, end)]:
        stretch = trimmed(text, place, left)
        if stretch[0] < stretch[1]:
            stretches.append(stretch)
        place = right
    return stretches


def day_first(days: list[str], day: date | None) -> tuple[bool | None, str | None]:
    """Whether the day comes before the month in dates such as 11/04/2026, and what is doubtful about it.

    Settled by a number beyond 12, else by the order of the messages, else by the day the note was spoken.
    None where it stays open.
    """
    short = [_numbers(one) for one in days if _is_short(one)]
    firsts, seconds = max((one[0] for one in short), default=0), max((one[1] for one in short), default=0)
    if not short or all(first == second for first, second, _ in short) or (firsts > 12 >= seconds):
        return True, None
    if seconds > 12 >= firsts:
        return False, None
    if firsts > 12 and seconds > 12:
        return None, f"the dates are neither all day first nor all month first ({days[0]} …), so none is used"
    rising = [order for order in (True, False) if _rises(short, order)]
    if len(rising) == 1:
        return rising[0], None
    if day is not None:
        fits = [order for order in (True, False) if any(_date(one, order) == day for one in short)]
        if len(fits) == 1:
            return fits[0], None
    return None, f"{days[0]} can be day or month first and nothing in the file settles it; give the day with --date"


def _is_short(day: str) -> bool:
    return bool(re.fullmatch(r"\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}", day))


def _numbers(day: str) -> tuple[int, int, int]:
    first, second, year = (int(part) for part in re.split(r"[-/.]", day))
    return first, second, year + 2000 if year < 100 else year


def _date(numbers: tuple[int, int, int], day_comes_first: bool) -> date | None:
    first, second, year = numbers
    try:
        return date(year, second, first) if day_comes_first else date(year, first, second)
    except ValueError:
        return None


def _rises(short: list[tuple[int, int, int]], order: bool) -> bool:
    days = [_date(one, order) for one in short]
    known = [one for one in days if one is not None]
    return len(known) == len(days) and known == sorted(known)


def sent_at(day: str, clock: str, *, day_first: bool) -> datetime | None:
    """The date and time that a stamp gives; None where there is no such day or time."""
    when = _date(_numbers(day), day_first) if _is_short(day) else _long_date(day)
    hour, minute, second, *_ = [*(int(part) for part in re.findall(r"\d+", clock)), 0]
    half = re.search(r"[ap]", clock, re.IGNORECASE)
    if half and not 1 <= hour <= 12:
        return None
    if half:
        hour = hour % 12 + (12 if half.group().lower() == "p" else 0)
    try:
        return datetime.combine(when, time(hour, minute, second)) if when else None
    except ValueError:
        return None


def _long_date(day: str) -> date | None:
    """A date with the year first, or with the month's name."""
    numbers = [int(part) for part in re.findall(r"\d+", day)]
    month = re.search(r"[A-Za-z]{3}", day)
    try:
        if month:
            return date(numbers[1], _MONTHS.index(month.group().lower()) + 1, numbers[0])
        return date(*numbers)
    except ValueError:
        return None
