"""Markdown: headings with their level, list items, paragraphs; marks are left outside what is spoken.

An open box ("[ ] replace the hose") stays in the words: it says that the thing is still to do.

The block structure is CommonMark's (spec 0.31.2, sections 4 and 5) as far as notes use it.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from saidspec.model import Problem, Utterance
from saidspec.sources.content import Content
from saidspec.sources.lines import Line, lines_of, trimmed
from saidspec.sources.plain import continues, wrap_width

HEADING = re.compile(r" {0,3}(?P<marks>#{1,6})[ \t]+(?=\S)")
_CLOSING = re.compile(r"[ \t]+#+[ \t]*$")
_UNDERLINE = re.compile(r" {0,3}(=+|-{2,})[ \t]*")
_RULE = re.compile(r" {0,3}(?:(?:-[ \t]*){3,}|(?:\*[ \t]*){3,}|(?:_[ \t]*){3,})")
_QUOTE = re.compile(r"(?: {0,3}> ?)+")
_ITEM = re.compile(r"\s*(?:[-*+]|(?P<number>\d{1,9})[.)])[ \t]+(?:\[[xX]\][ \t]+)?(?=\S)")
_FENCE = re.compile(r" {0,3}(?:```|~~~)[^`]*")
_TABLE_RULE = re.compile(r"\s*\|?\s*:?-+:?\s*(?:\|\s*:?-+:?\s*)*\|?\s*")
_STRUCK = re.compile(r"~~(?=\S)[^~\n]*~~")
_INLINE = re.compile(
    r"!\[[^\[\]\n]{0,300}\]\([^()\n]{0,2000}\)"  # a picture
    r"|\[(?=[^\[\]\n]{0,300}\]\()|\]\([^()\n]{0,2000}\)"  # the ends of a link around its words
    r"|(?<![\w*])\*{1,3}(?=\S)|(?<=\S)\*{1,3}(?![\w*])|(?<!\w)_{1,3}(?=\w)|(?<=[\w.!?)])_{1,3}(?!\w)"
    r"|`+|<br ?/?>|\\(?=[\\`*_{}\[\]()#+\-.!|>])"
)
_FRONT = re.compile(
    r"---[ \t]*\r?\n(?P<head>(?:[A-Za-z_][\w -]*:.*\r?\n|[ \t]*- .*\r?\n|[ \t]*\r?\n)+)"
    r"(?:---|\.\.\.)[ \t]*(?:\r?\n|\Z)"
)
_BARE_FRONT = re.compile(r"(?P<head>date:[ \t]*\d{4}-\d{2}-\d{2}[ \t]*(?:\r?\n|\Z))", re.IGNORECASE)
_FRONT_DATE = re.compile(r"^date:[ \t]*[\"']?(?P<day>[^\"'\r\n]+)", re.MULTILINE | re.IGNORECASE)
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}")


class Block(NamedTuple):
    """The spoken characters of one heading, item, paragraph or table cell."""

    start: int
    end: int
    heading: int = 0
    item: bool = False
    continues: bool = False


def read(text: str) -> Content:
    """The headings, items and paragraphs of a Markdown text as utterances, and the date of its front matter."""
    front = _FRONT.match(text) or _BARE_FRONT.match(text)
    stamp = _FRONT_DATE.search(front["head"]) if front else None
    start = front.end() if front else 0
    struck = list(_STRUCK.finditer(text, start))
    asides = sorted([*_comments(text, start), *(one.span() for one in struck)])
    day = _day(stamp["day"].strip()) if stamp else None
    problems = tuple(Problem(f"struck out, so not read: {one.group()[2:-2][:60]!r}", *one.span()) for one in struck)
    said: list[Utterance] = []
    for block in _blocks([line for line in lines_of(text) if line.start >= start]):
        said.extend(_utterances(text, block, asides))
    if stamp and day is None:
        start, end = (place + front.start("head") for place in stamp.span("day")) if front else (0, 0)
        problems += (Problem(f"date {stamp['day'].strip()!r} is no day; write it as YYYY-MM-DD", start, end),)
    return Content(text, tuple(said), problems, day)


def _comments(text: str, start: int) -> list[tuple[int, int]]:
    """The places of the comments; one that is never closed is none."""
    found: list[tuple[int, int]] = []
    while (start := text.find("<!--", start)) >= 0 and (end := text.find("-->", start + 4)) >= 0:
        found.append((start, end + 3))
        start = end + 3
    return found


def _day(stamp: str) -> date | None:
    """"2026-03-14", with or without a time behind it, or a whole date in English words, its day before its month."""
    iso = _ISO.match(stamp)
    if iso is None:
        from dateparser import parse  # 0.2 s, so only where a date is not written as a program writes it

        wanted = {"STRICT_PARSING": True, "REQUIRE_PARTS": ["day", "month", "year"], "DATE_ORDER": "DMY",
                  "PARSERS": ["absolute-time"]}
        moment = parse(stamp, languages=["en"], settings=wanted)
        return moment.date() if moment else None
    try:
        return date.fromisoformat(iso.group())
    except ValueError:
        return None


def _blocks(lines: list[Line]) -> list[Block]:
    blocks: list[Block] = []
    group: list[Line] = []
    fenced = False

    def close(heading: int = 0) -> None:
        blocks.extend(_paragraph(group, heading))
        group.clear()

    for index, line in enumerate(lines):
        line = _unquoted(line)
        if _FENCE.fullmatch(line.text):
            close()
            fenced = not fenced
        elif line.blank:
            close()
        elif fenced:
            blocks.append(Block(line.start, line.end))
        elif group and not _item(group[0], False) and _UNDERLINE.fullmatch(line.text):
            close(1 if "=" in line.text else 2)
        elif _RULE.fullmatch(line.text) or (_TABLE_RULE.fullmatch(line.text) and "|" in line.text):
            close()
        elif match := HEADING.match(line.text):
            close()
            closing = _CLOSING.search(line.text, match.end())
            end = line.start + closing.start() if closing else line.end
            blocks.append(Block(line.start + match.end(), end, heading=len(match["marks"])))
        elif line.text.lstrip().startswith("|") or _in_table(lines, index):
            close()
            blocks.extend(_cells(line))
        else:
            if _item(line, bool(group) and not _item(group[0], False)):
                close()
            group.append(line)
    close()
    return blocks


def _unquoted(line: Line) -> Line:
    """The line without the marks of a quotation."""
    mark = _QUOTE.match(line.text)
    return Line(line.number, line.start + mark.end(), line.end, line.text[mark.end() :]) if mark else line


def _item(line: Line, within: bool) -> re.Match[str] | None:
    """The mark of a list item; within a paragraph only a bullet or the number 1 begins a list."""
    match = _ITEM.match(line.text)
    if match and within and match["number"] not in (None, "1"):
        return None
    return match


def _paragraph(group: list[Line], heading: int) -> list[Block]:
    """One block, or one a line where the lines are no wrapped paragraph."""
    if not group:
        return []
    mark = _item(group[0], False)
    first = group[0].start + (mark.end() if mark else 0)
    if heading or mark:
        return [Block(first, group[-1].end, heading, bool(mark))]
    width = wrap_width(group)
    blocks = [Block(first, group[0].end)]
    for line, following in pairwise(group):
        if continues(line, following, width):
            blocks[-1] = blocks[-1]._replace(end=following.end)
        else:
            blocks.append(Block(following.start, following.end))
    return blocks


def _in_table(lines: list[Line], index: int) -> bool:
    """True for the head of a table without outer bars: the next line is a table's rule."""
    following = lines[index + 1].text if index + 1 < len(lines) else ""
    return "|" in lines[index].text and "|" in following and bool(_TABLE_RULE.fullmatch(following))


def _cells(line: Line) -> list[Block]:
    """The cells of a table's row; all but the first go on from the former one."""
    cells: list[Block] = []
    for match in re.finditer(r"(?:[^|\\]|\\.)+", line.text):
        if match.group().strip():
            cells.append(Block(line.start + match.start(), line.start + match.end(), continues=bool(cells)))
    return cells


def _utterances(text: str, block: Block, asides: list[tuple[int, int]]) -> list[Utterance]:
    """The stretches of a block between its inline marks and comments."""
    marks = [match.span() for match in _INLINE.finditer(text, block.start, block.end)]
    first = bisect_left(asides, block.start, key=lambda aside: aside[1])
    marks += asides[first : bisect_left(asides, block.end, key=lambda aside: aside[0])]
    said: list[Utterance] = []
    place = block.start
    for start, end in [*sorted(marks), (block.end, block.end)]:
        left, right = trimmed(text, place, min(start, block.end))
        if left < right:
            said.append(Utterance(left, right, heading=block.heading, item=block.item,
                                  continues=block.continues or bool(said)))  # fmt: skip
        place = max(place, end)
    return said
