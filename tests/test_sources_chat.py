"""Chat logs: stamps in their usual forms, the order of day and month, senders, messages of several lines."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from saidspec.sources import chat
from saidspec.sources.content import Content
from saidspec.sources.read import sniff


def said(content: Content) -> list[tuple[str | None, str]]:
    return [(one.speaker, content.text[one.start : one.end]) for one in content.utterances]


@pytest.mark.parametrize(
    "stamp",
    [
        "[2026-04-17, 09:02] ", "[17/04/2026, 09:02:00] ", "[17.04.26, 09:02] ", "[09:02, 17/04/2026] ",
        "17/04/2026, 09:02 - ", "17/04/26, 9:02 am - ", "4/17/26, 9:02\u202fAM - ", "2026-04-17 09:02 - ",
        "\u200e[17/04/2026, 09:02:00] ", "17 April 2026, 09:02 - ", "[Apr 17, 2026, 9:02 AM] ", "2026-04-17T09:02: ",
    ],
)  # fmt: skip
def test_forms_of_a_stamp(stamp: str) -> None:
    text = f"{stamp}Ann: drain plug 34\n{stamp}Ann: filter 25\n"
    assert sniff(text, "log.txt") == "chat"
    content = chat.read(text)
    assert said(content) == [("Ann", "drain plug 34"), ("Ann", "filter 25")]
    assert {one.sent for one in content.utterances} == {datetime(2026, 4, 17, 9, 2)}
    assert content.date == date(2026, 4, 17)


@pytest.mark.parametrize(("clock", "hour"), [("12:05 am", 0), ("12:05 PM", 12), ("1:05 p.m.", 13), ("11:05 AM", 11)])
def test_halves_of_the_day(clock: str, hour: int) -> None:
    [one] = chat.read(f"17/04/2026, {clock} - Ann: x").utterances
    assert one.sent == datetime(2026, 4, 17, hour, 5)


def test_a_message_of_several_lines_is_one_utterance() -> None:
    text = "[2026-04-11, 09:02] Ann: two things:\r\n- plug 34\r\n\r\n- filter 25\r\n[2026-04-11, 09:05] Bo: ok\r\n"
    assert said(chat.read(text)) == [("Ann", "two things:\r\n- plug 34\r\n\r\n- filter 25"), ("Bo", "ok")]


def test_the_sender_on_a_line_of_its_own() -> None:
    text = "Ann Bell, [11.04.2026 09:02]\nplug 34\n\nBo, [11.04.2026 09:03]\nok\n"
    assert said(chat.read(text)) == [("Ann Bell", "plug 34"), ("Bo", "ok")]


def test_without_senders_a_part_before_a_colon_is_spoken() -> None:
    text = "[2026-04-11 09:02] drain plug: 34\n[2026-04-11 09:05] filled 4 litres\n[2026-04-11 09:09] filter: 25\n"
    assert said(chat.read(text)) == [(None, "drain plug: 34"), (None, "filled 4 litres"), (None, "filter: 25")]


def test_pictures_and_the_mark_of_an_edit_are_not_spoken() -> None:
    text = ("11/04/2026, 09:02 - Ann: IMG-0034.jpg (file attached)\n13/04/2026, 09:03 - Ann: <Media omitted>\n"
            "13/04/2026, 09:04 - Ann: plug 34 <This message was edited>\n")  # fmt: skip
    assert said(chat.read(text)) == [("Ann", "plug 34")]


ORDERS = {
    "a day beyond twelve": (["03/04/2026", "14/04/2026"], None, date(2026, 4, 3)),
    "a month written second": (["03/04/2026", "03/14/2026"], None, date(2026, 3, 4)),
    "messages in order, day first": (["09/03/2026", "02/04/2026"], None, date(2026, 3, 9)),
    "messages in order, month first": (["03/09/2026", "04/02/2026"], None, date(2026, 3, 9)),
    "the day given": (["03/04/2026"], date(2026, 4, 3), date(2026, 4, 3)),
    "the same number twice": (["04/04/2026"], None, date(2026, 4, 4)),
}


@pytest.mark.parametrize("case", ORDERS)
def test_order_of_day_and_month(case: str) -> None:
    days, given, first = ORDERS[case]
    content = chat.read("".join(f"{day}, 09:00 - Ann: x\n" for day in days), given)
    assert content.problems == ()
    assert content.date == first


@pytest.mark.parametrize("days", [["03/04/2026"], ["03/04/2026", "03/04/2026"], ["14/04/2026", "04/14/2026"]])
def test_an_order_that_stays_open_gives_no_dates_but_a_problem(days: list[str]) -> None:
    content = chat.read("".join(f"{day}, 09:00 - Ann: plug 34\n" for day in days))
    assert len(content.problems) == 1
    assert content.date is None
    assert [one.sent for one in content.utterances] == [None] * len(days)
    assert {text for _, text in said(content)} == {"plug 34"}


def test_no_such_time_is_a_problem() -> None:
    content = chat.read("2026-02-31 09:00 - Ann: plug 34\n2026-02-28 25:00 - Ann: filter 25\n")
    assert ["no date and time" in problem.message for problem in content.problems] == [True, True]
    assert [one.sent for one in content.utterances] == [None, None]


def test_words_before_the_first_stamp_are_kept() -> None:
    text = "Notes from the van\n" + "".join(f"[2026-04-11, 09:0{n}] Ann: step {n}\n" for n in range(3))
    assert sniff(text, "log.txt") == "chat"
    assert said(chat.read(text))[0] == (None, "Notes from the van")


@pytest.mark.parametrize(
    "text", ["drained [4.2] litres\n", "11/04/2026 was the last time\n", "at 09:02 it held 1.2 bar\n"]
)
def test_dates_and_times_in_the_words_make_no_chat(text: str) -> None:
    assert sniff(text, "note.txt") == "text"
