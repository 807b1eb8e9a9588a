"""Plain text and Markdown: utterances, list items, headings, and marks left outside."""

from __future__ import annotations

from datetime import date

import pytest

from saidspec.sources import markdown, plain
from saidspec.sources.content import Content


def said(content: Content) -> list[str]:
    return [content.text[one.start : one.end] for one in content.utterances]


def test_each_line_of_dictation_is_an_utterance() -> None:
    content = plain.read("wheel is off\n\n  caliper bolts 34 newton metres  \r\ndone\r\n")
    assert said(content) == ["wheel is off", "caliper bolts 34 newton metres", "done"]


def test_a_wrapped_paragraph_is_one_utterance() -> None:
    text = ("The old pads were down to three millimetres on the inner side and\n"
            "the slide pin on the left was stiff, so it got cleaned and greased\n"
            "and now moves freely.\n")  # fmt: skip
    assert said(plain.read(text)) == [text.strip()]


def test_lines_that_had_room_are_separate() -> None:
    text = "Drained the oil into the pan this morning, black.\nPlug back in.\nFilled 4 litres.\n"
    assert said(plain.read(text)) == text.strip().split("\n")


def test_lists_lose_their_bullets_and_keep_their_wrapped_lines() -> None:
    content = plain.read(
        "- drain plug 34 Nm\n- filter cap 25 Nm,\n  hand tight first\n* [x] topped up\n1. bleed left\n2) bleed right\n"
    )
    assert said(content) == [
        "drain plug 34 Nm",
        "filter cap 25 Nm,\n  hand tight first",
        "topped up",
        "bleed left",
        "bleed right",
    ]
    assert all(one.item for one in content.utterances)


@pytest.mark.parametrize("line", ["+ 90 degrees", "10. Then the next", "-5 degrees outside", "48 newton metres"])
def test_a_figure_at_the_head_of_a_line_is_no_list_mark(line: str) -> None:
    content = plain.read(line)
    assert said(content) == [line]
    assert not content.utterances[0].item


def test_an_open_box_is_kept_for_it_means_still_to_do() -> None:
    assert said(plain.read("- [ ] replace the hose\n")) == ["[ ] replace the hose"]
    assert said(markdown.read("- [ ] replace the hose\n- [x] bled it\n")) == ["[ ] replace the hose", "bled it"]


MARKDOWN = """\
# Coolant change #

Drained **4.2 L** of it.

Rear brakes
-----------

> * first `pads`
> * then [the disc](disc.html "a link")
2. not a list here
---
| part | torque |
|------|:------:|
| plug | 34 Nm  |

```
as typed # 3
```
<!-- not said: 99 Nm --> last ~~52~~ 48 Nm
"""


def test_markdown_marks_are_outside_the_words() -> None:
    content = markdown.read(MARKDOWN)
    assert said(content) == [
        "Coolant change", "Drained", "4.2 L", "of it.", "Rear brakes", "first", "pads", "then", "the disc",
        "not a list here", "part", "torque", "plug", "34 Nm", "as typed # 3", "last", "48 Nm",
    ]  # fmt: skip
    levels = {content.text[one.start : one.end]: one.heading for one in content.utterances if one.heading}
    assert levels == {"Coolant change": 1, "Rear brakes": 2}
    assert [content.text[one.start : one.end] for one in content.utterances if one.continues] == [
        "4.2 L", "of it.", "pads", "the disc", "torque", "34 Nm", "48 Nm"]  # fmt: skip


def test_struck_words_are_told_and_not_read() -> None:
    [problem] = markdown.read(MARKDOWN).problems
    assert "'52'" in problem.message
    assert MARKDOWN[problem.start : problem.end] == "~~52~~"


def test_part_numbers_and_products_keep_their_signs() -> None:
    assert said(markdown.read("KD_3318_F and 3*4 = 12, M8 * 1.25, #2 screw")) == [
        "KD_3318_F and 3*4 = 12, M8 * 1.25, #2 screw"
    ]


def test_front_matter_gives_the_date_and_is_not_said() -> None:
    content = markdown.read("---\ndate: 2026-05-03\nodometer: 99\n---\nplug 34 Nm\n")
    assert content.date == date(2026, 5, 3)
    assert said(content) == ["plug 34 Nm"]


@pytest.mark.parametrize("stamp", ["2026-03-14", "2026-03-14T10:00", '"14 March 2026"', "14/03/2026",
                                   "14th of March 2026", "Sat 14 Mar 2026 10:30"])  # fmt: skip
def test_the_date_of_the_front_matter_is_read_as_people_write_it(stamp: str) -> None:
    read = markdown.read(f"---\ndate: {stamp}\n---\nthe nut at 12 Nm\n")
    assert (read.date, read.problems) == (date(2026, 3, 14), ())


@pytest.mark.parametrize("stamp", ["March 2026", "tomorrow", "M8", "2026-02-31", "14"])
def test_a_date_that_is_no_day_is_reported_at_its_place(stamp: str) -> None:
    text = f"---\ndate: {stamp}\n---\nthe nut at 12 Nm\n"
    (problem,) = markdown.read(text).problems
    assert markdown.read(text).date is None
    assert text[problem.start : problem.end] == stamp
