"""The pages in a real browser: the preparation sheet on one printed page, the hand-over's words on demand."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from saidspec.model import Specification
from saidspec.record.entries import VehicleEntry
from saidspec.record.report_queries import jobs, vehicle_named
from saidspec.report.handover import hand_over
from saidspec.report.job_knowledge import knowledge
from saidspec.report.prep import prep
from saidspec.report.render import rendered
from tests.browser import BROWSER, Page, browser
from tests.report_samples import VAN, entry, workshop

pytestmark = [
    pytest.mark.browser, pytest.mark.skipif(BROWSER is None, reason="no Chromium on this machine"),
]  # fmt: skip
TODAY = date(2026, 6, 1)
PARTS = ("caliper bracket bolt", "slide pin bolt", "hub nut", "brake hose union", "bleed screw", "pad retaining pin",
         "disc screw", "splash shield bolt", "wheel nut")  # fmt: skip


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    with browser() as made:
        yield made


def printed_pages(page: Page) -> int:
    """On how many sheets of A4 the browser prints the page that it shows."""
    data = page._call("Page.printToPDF", preferCSSPageSize=True, printBackground=True)["data"]
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", base64.b64decode(data)))


@pytest.mark.parametrize("rows", [3, 20, 30])
def test_a_preparation_sheet_is_one_printed_page(page: Page, tmp_path: Path, rows: int) -> None:
    names = [f"front brake {part} {number}" for number, part in enumerate(PARTS * 5)][:rows]
    entries = [entry(900, "operation", component="front brake pad", action="replace", job=1)]
    for number, name in enumerate(names):
        kind, unit = ("torque", "N*m") if number % 2 else ("size", "mm")
        entries.append(entry(number, kind, component=name, value=str(number + 5), unit=unit, job=1))
    for number in range(rows // 4):
        found = f"worn in place {number}"
        entries.append(entry(500 + number, "observation", component="brake hose", finding=found, role="watch", job=1))
        entries.append(entry(600 + number, "material", component=PARTS[number % 9], code=f"grease {number}", job=1))
    specs = [Specification(name, "torque", "workshop manual, brakes, sheet 4", Decimal(number + 5), unit="N*m")
             for number, name in enumerate(names[: rows // 2])]  # fmt: skip
    known = knowledge("front brakes", ["front brake pad"])
    made = prep(VehicleEntry(1, VAN), "front brakes", entries, specs, ((), {}), lambda _: (), known, TODAY)
    assert sum(len(table.rows) for table in made.tables) >= rows
    file = tmp_path / "prep.html"
    file.write_text(rendered("prep", made, "html"), "utf-8")
    page.open(file.as_uri())
    assert printed_pages(page) == 1


def test_the_hand_over_shows_words_when_asked(page: Page, tmp_path: Path) -> None:
    conn = workshop(tmp_path / "record.db")
    van = vehicle_named(conn, "drover")
    told = hand_over(van.vehicle, jobs(conn, van.id), (), TODAY)
    file = tmp_path / "van.html"
    file.write_text(rendered("handover", told, "html", plots={}, paper=False), "utf-8")
    page.open(file.as_uri())
    shown = "[...document.querySelectorAll('mark')].filter(e => e.checkVisibility()).length"
    assert page.run(shown) == 0
    page.run("document.querySelector('summary').click()")
    assert page.run(shown) == 1
    assert page.run("performance.getEntriesByType('resource').length") == 0
    assert page.run("document.documentElement.scrollWidth <= innerWidth")
