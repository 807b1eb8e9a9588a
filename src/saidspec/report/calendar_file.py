"""The due list as an iCalendar file (RFC 5545) that a calendar imports: one all-day entry for each thing with a day."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from hashlib import sha256

from icalendar import Alarm, Calendar, Event, vDuration

from saidspec.report.due_values import Due, DueList

AHEAD = timedelta(days=-7)


def calendar_file(due: DueList, made: datetime) -> bytes:
    """The calendar of the due things that have a day; what is overdue stands on the day of the list.

    The identity of an entry depends on what it is, not on its day: importing a newer list moves entries.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//saidspec//due list//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", due.title)
    for item in due.items:
        if item.first is not None and item.status != "looks done":
            calendar.add_component(_event(item, max(item.first, due.day), made.astimezone(UTC)))
    return bytes(calendar.to_ical())


def _event(item: Due, day: date, made: datetime) -> Event:
    event = Event()
    identity = "\n".join((item.vehicle, item.basis, item.what, item.source, str(item.fact or "")))
    event.add("uid", f"{sha256(identity.encode()).hexdigest()[:32]}@saidspec")
    event.add("dtstamp", made)
    event.add("dtstart", day)
    event.add("dtend", day + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    event.add("summary", f"{item.vehicle}: {item.what}" + (" (overdue)" if item.status == "overdue" else ""))
    event.add("description", "\n".join(description(item)))
    event.add("categories", [item.status, item.basis])
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", f"{item.vehicle}: {item.what}")
    alarm["trigger"] = vDuration(AHEAD)
    event.add_component(alarm)
    return event


def description(item: Due) -> list[str]:
    """What a person wants to know of the entry: how it stands, since when, on whose word."""
    told = [item.state, f"{item.basis}: {item.source}"]
    if item.last:
        told.append(f"last done {item.last.day.isoformat()}: {item.last.what}")
    if item.words:
        told.append(f'"{item.words.shown()}"')
    if item.reading is not None:
        told.append("The day is estimated from the odometer readings of the record.")
    return told + list(item.marks)
