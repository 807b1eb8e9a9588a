"""The preparation sheet: the reference first, the record marked where nobody confirmed it, and what to buy."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from saidspec.model import Flag, Quantity, Specification
from saidspec.record.entries import Decision, Entry, FlagEntry, VehicleEntry
from saidspec.report.job_knowledge import knowledge
from saidspec.report.prep import prep
from saidspec.report.prep_rows import NO_REFERENCE
from saidspec.report.prep_values import JobKnowledge, Must, Prep, Row
from saidspec.report.stock import stock
from saidspec.report.topic import topic
from tests.report_samples import VAN, entry

TODAY = date(2026, 6, 1)
BOLT = "front caliper bracket bolt"


def spec(component: str, kind: Any, value: str, unit: str, **more: Any) -> Specification:
    return Specification(component, kind, "manual, sheet 4", Decimal(value), unit=unit, **more)


def sheet(*entries: Entry, about: str = "front brakes", specs: tuple[Specification, ...] = (),
          known: JobKnowledge | None = None, flags: tuple[FlagEntry, ...] = (),
          agreed: dict[int, str] | None = None) -> Prep:  # fmt: skip
    shelf = stock(entries, "Stock", TODAY).items
    return prep(VehicleEntry(1, VAN), about, entries, specs, (flags, agreed or {}), lambda _: shelf, known, TODAY)


def rows(made: Prep, title: str) -> list[Row]:
    return [row for table in made.tables if table.title.startswith(title) for row in table.rows]


WORK = entry(90, "operation", component="front brake pad", action="replace")


@pytest.mark.parametrize(("about", "component", "belongs"), [
    ("front brakes", "front caliper bracket bolt", True), ("front brakes", "front brake rotor", True),
    ("front brakes", "brake fluid", True), ("front brakes", "rear brake pad", False),
    ("front brakes", "engine oil drain plug", False), ("front brakes", None, False),
    ("caliper", "front caliper bracket bolt", True), ("caliper", "front brake pad", False),
    ("engine oil", "engine oil drain plug", True), ("engine oil", "gearbox oil", False),
    ("brake disc", "front left rotor", True),
])  # fmt: skip
def test_what_belongs_to_a_job(about: str, component: str | None, belongs: bool) -> None:
    assert topic(about, None).holds(component) is belongs


def test_a_job_takes_in_the_parts_that_come_off_on_the_way() -> None:
    assert topic("front brakes", JobKnowledge("brakes", parts=("wheel nut",))).holds("wheel nut")
    assert not topic("front brakes", None).holds("wheel nut")


def test_the_reference_comes_first_and_the_last_time_beside_it() -> None:
    made = sheet(WORK, entry(1, "torque", component=BOLT, value="110", unit="N*m"),
                 specs=(spec("caliper bracket bolt", "torque", "107", "N*m"),))  # fmt: skip
    (row,) = rows(made, "Torques")
    assert (row.component, row.reference, row.source) == (BOLT, "107 N·m (78.9 lbf·ft)", "manual, sheet 4")
    assert (row.last, row.trust, row.differs) == ("110 N·m (81.1 lbf·ft)", "reference", True)


def test_what_only_the_record_has_is_marked_until_confirmed() -> None:
    (row,) = rows(sheet(WORK, entry(1, "torque", component=BOLT, value="110", unit="N*m")), "Torques")
    assert (row.trust, row.source) == ("unconfirmed", NO_REFERENCE)
    confirmed = entry(1, "torque", component=BOLT, value="110", unit="N*m", decision=Decision("confirmed", who="Ann"))
    made = sheet(WORK, confirmed)
    assert rows(made, "Torques")[0].trust == "confirmed"
    assert made.unconfirmed == 0


def test_what_only_the_sheet_has_is_there_too() -> None:
    made = sheet(WORK, specs=(spec("front caliper slide pin bolt", "torque", "35", "N*m"),
                              spec("engine oil drain plug", "torque", "40", "N*m")))  # fmt: skip
    (row,) = rows(made, "Torques")
    assert (row.component, row.last, row.when) == ("front caliper slide pin bolt", "", None)


def test_the_latest_value_counts_and_the_order_is_that_of_the_last_time() -> None:
    early = [entry(1, "torque", component="front hub nut brake", value="200", unit="N*m", day="2024-01-01"),
             entry(2, "torque", component=BOLT, value="100", unit="N*m", day="2024-01-01")]  # fmt: skip
    late = [entry(3, "torque", component="front slide pin bolt", value="35", unit="N*m"),
            entry(4, "torque", component=BOLT, value="107", unit="N*m")]  # fmt: skip
    told = rows(sheet(*early, WORK, *late), "Torques")
    assert [row.component for row in told] == ["front slide pin bolt", BOLT, "front hub nut brake"]
    assert told[1].last.startswith("107")


@pytest.mark.parametrize("assertion", ["planned", "possible", "historical", "negated", "retracted"])
def test_what_was_not_done_is_no_value_to_use(assertion: str) -> None:
    made = sheet(WORK, entry(1, "torque", component=BOLT, value="110", unit="N*m", assertion=assertion))
    assert rows(made, "Torques") == []


def test_a_rejected_value_is_not_used() -> None:
    made = sheet(WORK, entry(1, "torque", component=BOLT, value="999", unit="N*m", decision=Decision("rejected")))
    assert rows(made, "Torques") == []


def test_a_quoted_value_stands_in_where_there_is_nothing_else() -> None:
    quoted = entry(1, "torque", component=BOLT, value="107", unit="N*m", assertion="quoted")
    (row,) = rows(sheet(WORK, quoted), "Torques")
    assert (row.trust, row.marks) == ("unconfirmed", ("only quoted in a note",))
    (row,) = rows(sheet(WORK, quoted, entry(2, "torque", component=BOLT, value="110", unit="N*m")), "Torques")
    assert row.last.startswith("110")


def test_what_is_needed_is_held_against_the_shelf() -> None:
    made = sheet(
        WORK, entry(1, "volume", component="brake fluid", value="300", unit="mL", role="bought"),
        entry(2, "part_number", component="front brake pad", code="KD-3318-F", role="installed"),
        entry(3, "material", component="front slide pin", code="silicone grease"),
        specs=(spec("brake fluid", "volume", "0.8", "L", role="capacity"),),
    )  # fmt: skip
    told = {need.name: (need.need, need.on_hand, need.buy) for need in made.needed}
    assert told == {
        "brake fluid": ("0.8 L", "brake fluid 300 mL", "0.5 L"),
        "front brake pad KD-3318-F": ("1", "not known", "look; at most 1"),
        "silicone grease": ("for front slide pin", "not known", "look"),
    }


def test_enough_on_the_shelf_needs_nothing() -> None:
    bought = entry(1, "volume", component="brake fluid", value="1", unit="L", role="bought", day="2026-05-01")
    made = sheet(WORK, bought, entry(2, "volume", component="brake fluid", value="100", unit="mL", role="added"))
    (need,) = made.needed
    assert (need.need, need.buy) == ("100 mL", "nothing")
    assert "filled in the last time" in need.basis


def test_cautions_findings_and_open_ends_are_there() -> None:
    made = sheet(
        WORK, entry(1, "observation", component="front slide pin", finding="dry", role="watch"),
        entry(2, "follow_up", component="front brake hose", action="replace", assertion="planned"),
        entry(3, "follow_up", component="front brake pad", action="inspect", assertion="planned",
              decision=Decision("done")),
        entry(4, "observation", component="rear drum", finding="scored", role="act"),
        known=JobKnowledge("brakes", cautions=("Stands under the sills, never the jack alone.",)),
        flags=(FlagEntry("k", Flag("missing", "wrong", "never said", "front slide pin bolt", "torque"), VAN.name),),
    )  # fmt: skip
    assert made.cautions == ("Stands under the sills, never the jack alone.",)
    assert [one.text for one in made.findings] == ["front slide pin: dry"]
    assert [one.what for one in made.to_do] == ["replace front brake hose"]
    assert [flag.message for flag in made.flags] == ["never said"]
    assert made.steps == ("replaced front brake pad",)


def test_a_job_never_done_shows_the_sheet_and_the_known_order() -> None:
    made = sheet(specs=(spec(BOLT, "torque", "107", "N*m"),))
    assert made.last_day is None
    assert made.steps == ()
    assert len(rows(made, "Torques")) == 1


def test_what_the_job_needs_and_nobody_knows_is_an_empty_line_to_fill_in() -> None:
    musts = (Must("slide pin bolt", "caliper bolt", "torque", "they hold the caliper"),
             Must("caliper bracket bolt", None, "torque", "they carry the braking force"))  # fmt: skip
    said = entry(1, "torque", component=BOLT, value="110", unit="N*m")
    made = sheet(WORK, said, known=JobKnowledge("brakes", musts=musts))
    first, empty = rows(made, "Torques")
    assert first.component == BOLT
    assert (empty.component, empty.trust, empty.reference) == ("slide pin bolt or caliper bolt", "nothing", "")
    assert empty.source == NO_REFERENCE


def test_the_job_files_bring_cautions_and_needs() -> None:
    known = knowledge("front brakes", ["front brake pad"])
    assert known.cautions[0].startswith("The maker's manual")
    assert any("stands" in caution for caution in known.cautions)
    assert "wheel nut" in known.parts
    assert "brake discs" not in known.name
    assert "brake discs" in knowledge("front brakes", []).name
    assert knowledge("engine oil change", []).name == "engine oil change"
    assert knowledge("engine oil", []).name == "engine oil change"
    assert knowledge("radio", []).musts == ()


def test_a_whole_system_takes_in_what_was_said_on_its_jobs() -> None:
    nut = entry(1, "torque", component="wheel nut", value="160", unit="N*m", job=7)
    other = entry(2, "torque", component="rear hub nut", value="200", unit="N*m", job=7)
    engine = entry(3, "torque", component="rocker cover bolt", value="10", unit="N*m", job=8)
    pad = entry(90, "operation", component="front brake pad", action="replace", job=7)
    assert [row.component for row in rows(sheet(pad, nut, other, engine), "Torques")] == ["wheel nut"]
    assert [row.component for row in rows(sheet(pad, nut, about="brake pad"), "Torques")] == ["wheel nut"]
    assert rows(sheet(pad, nut, about="brake hose"), "Torques") == []


def test_a_part_said_in_short_finds_its_reference() -> None:
    front = spec("front caliper slide pin bolt", "torque", "35", "N*m")
    rear = spec("rear slide pin bolt", "torque", "27", "N*m")
    pin = entry(1, "torque", component="left slide pin bolt", value="35", unit="lbf*ft", job=7)
    pad = entry(90, "operation", component="front brake pad", action="replace", job=7)
    (row,) = rows(sheet(pad, pin, specs=(front, rear)), "Torques")
    assert (row.reference, row.differs) == ("35 N·m (25.8 lbf·ft)", True)
    (row,) = rows(sheet(pad, pin, specs=(front, spec("caliper slide pin bolt", "torque", "27", "N*m"))), "Torques")
    assert (row.trust, row.reference) == ("unconfirmed", "")
    assert "several references fit" in row.source


def test_another_grade_on_the_shelf_is_not_counted() -> None:
    oil = entry(1, "volume", component="engine oil", value="3", unit="L", role="bought")
    grade = entry(2, "fluid", component="engine oil", code="5W-40")
    specs = (spec("engine oil", "volume", "4.3", "L", role="capacity"),
             Specification("engine oil", "fluid", "handbook", code="5W-30"))  # fmt: skip
    (need,) = sheet(oil, grade, about="engine oil", specs=specs).needed
    assert (need.on_hand, need.buy) == ("not known", "look; at most 4.3 L")
    (need,) = sheet(oil, grade, about="engine oil", specs=specs[:1]).needed
    assert (need.on_hand, need.buy) == ("engine oil 5W-40 3 L", "1.3 L")


def test_a_part_said_in_short_shows_the_job_of_its_system() -> None:
    belt = entry(1, "operation", component="belt", action="install", job=3, system="timing")
    nut = entry(2, "torque", component="tensioner nut", value="25", unit="N*m", job=3, system="timing")
    assert [row.component for row in rows(sheet(belt, nut, about="timing belt"), "Torques")] == ["tensioner nut"]
    other = entry(1, "operation", component="belt", action="install", job=5, system="electrical", note_id=2)
    assert rows(sheet(other, nut, about="timing belt"), "Torques") == []


def test_words_of_a_job_s_name_find_it_where_the_vehicle_has_it() -> None:
    known = knowledge("oil change", [], ["engine oil drain plug", "wheel nut"])
    assert (known.name, known.of) == ("engine oil change", ("engine oil",))
    assert topic("oil change", known).holds("engine oil drain plug")
    assert not topic("oil change", known).holds("gearbox oil drain plug")


def pad(number: int, component: str, value: str, **more: Any) -> Entry:
    return entry(number, "measurement", component=component, value=value, unit="mm", role="thickness", **more)


def test_one_limit_for_like_parts_is_one_line_with_what_the_last_day_gave() -> None:
    limit = spec("front brake pad", "measurement", "2", "mm", bound="min", role="thickness")
    made = sheet(WORK, pad(1, "front left inner pad", "3", day="2024-01-01"), pad(2, "front left outer pad", "3.5",
                 day="2024-01-01"), pad(3, "front left inner pad", "6.9"), pad(4, "front right pad", "7"),
                 specs=(limit,))  # fmt: skip
    (row,) = rows(made, "Measurements")
    assert (row.component, row.last) == ("front brake pad", "6.9 mm left inner, 7 mm right")
    assert row.before == (1, 2)


def test_what_was_the_same_on_both_sides_is_told_once() -> None:
    bolts = [entry(number, "torque", component=f"front {side} caliper bracket bolt", value="107", unit="N*m")
             for number, side in ((1, "left"), (2, "right"))]  # fmt: skip
    (row,) = rows(sheet(WORK, *bolts, specs=(spec(BOLT, "torque", "107", "N*m"),)), "Torques")
    assert (row.component, row.last, row.differs) == (BOLT, "107 N·m (78.9 lbf·ft) left and right", False)


def test_other_ends_are_other_parts() -> None:
    discs = [pad(1, "front disc", "21"), pad(2, "rear disc", "9")]
    told = rows(sheet(WORK, *discs, about="brake disc"), "Measurements")
    assert [row.component for row in told] == ["front disc", "rear disc"]


@pytest.mark.parametrize(("value", "unit", "differ"), [
    ("110", "N*m", False), ("81", "lbf*ft", False), ("70", "N*m", True), ("100", "N*m", False), ("115", "N*m", False),
])  # fmt: skip
def test_a_range_and_another_unit_are_no_difference(value: str, unit: str, differ: bool) -> None:
    between = spec(BOLT, "torque", "100", "N*m", value_high=Decimal(115))
    (row,) = rows(sheet(WORK, entry(1, "torque", component=BOLT, value=value, unit=unit), specs=(between,)), "Torques")
    assert row.differs is differ


def differing(fact: int, source: str = "manual, sheet 4") -> FlagEntry:
    flag = Flag("differs", "danger", f"fact {fact} differs", BOLT, "torque", fact, reference=Quantity(source=source))
    return FlagEntry(f"key {fact}", flag, VAN.name)


def test_how_the_record_was_compared_decides_what_differs() -> None:
    bolt = entry(1, "torque", component=BOLT, value="110", unit="N*m")
    specs = (spec(BOLT, "torque", "107", "N*m"),)
    agreed = {1: f"{BOLT}: 107 N·m (78.9 lbf·ft) (manual, sheet 4)"}
    assert not rows(sheet(WORK, bolt, specs=specs, agreed=agreed), "Torques")[0].differs
    (row,) = rows(sheet(WORK, bolt, specs=specs, flags=(differing(1),)), "Torques")
    assert row.differs


def test_the_reference_is_the_one_it_was_compared_with() -> None:
    said = entry(1, "part_number", component="filter", code="OF-36", role="installed")
    specs = (Specification("air filter", "part_number", "parts list", code="AF-2017"),
             Specification("oil filter", "part_number", "parts list", code="OF-36"))  # fmt: skip
    made = sheet(said, about="filter", specs=specs, agreed={1: "oil filter: OF-36 (parts list)"})
    assert [(row.component, row.reference, row.differs) for row in rows(made, "Parts")] == [
        ("filter", "OF-36", False), ("air filter", "AF-2017", False)]  # fmt: skip


def test_a_flag_on_what_was_put_right_since_is_no_warning_any_more() -> None:
    then = entry(1, "torque", component=BOLT, value="107", unit="lbf*ft", day="2024-01-01")
    now = entry(2, "torque", component=BOLT, value="107", unit="N*m")
    specs = (spec(BOLT, "torque", "107", "N*m"),)
    assert sheet(WORK, then, now, specs=specs, flags=(differing(1),)).flags == ()
    still = entry(2, "torque", component=BOLT, value="90", unit="N*m")
    assert len(sheet(WORK, then, still, specs=specs, flags=(differing(1),)).flags) == 1


def test_what_was_poured_in_several_times_is_one_amount() -> None:
    pours = [entry(number, "volume", component="engine oil", value=value, unit=unit, role="added")
             for number, value, unit in ((1, "6", "L"), (2, "200", "mL"))]  # fmt: skip
    out = entry(3, "volume", component="engine oil", value="5.9", unit="L", role="drained")
    (row,) = rows(sheet(*pours, out, about="engine oil"), "Quantities")
    assert (row.component, row.last) == ("engine oil", "6.2 L added in 2 pours")


def test_a_fluid_has_no_place() -> None:
    made = sheet(WORK, entry(1, "volume", component="front right brake fluid", value="700", unit="mL", role="added"))
    assert [row.component for row in rows(made, "Quantities")] == ["brake fluid"]
    assert [need.name for need in made.needed] == ["brake fluid"]


def test_tools_need_not_be_bought() -> None:
    made = sheet(WORK, entry(1, "material", component="front caliper", code="wire brush"),
                 entry(2, "material", component="front caliper", code="copper grease"))  # fmt: skip
    assert [need.name for need in made.needed] == ["copper grease"]


def test_what_is_due_with_the_job_and_not_done_yet() -> None:
    asked = entry(1, "follow_up", component="front brake hose", action="replace", assertion="planned",
                  day="2025-01-01")  # fmt: skip
    again = entry(2, "follow_up", component="front brake hose", action="replace", assertion="planned")
    checked = entry(3, "follow_up", component="front brake pad", action="inspect", assertion="planned",
                    day="2025-01-01")  # fmt: skip
    every = Specification("brake fluid", "interval", "handbook", Decimal(24), unit="month", role="every")
    made = sheet(asked, checked, WORK, again, specs=(every,))
    assert [item.what for item in made.to_do] == ["brake fluid: every 24 months", "replace front brake hose"]


def test_of_a_note_on_many_jobs_only_what_was_said_close_by() -> None:
    oil = entry(1, "operation", component="engine oil", action="drain", job=7, start=0)
    plug = entry(2, "torque", component="plug", value="30", unit="N*m", job=7, start=10)
    others = [entry(10 + at, "size", component=f"deck bolt {at}", value="13", unit="mm", role="tool", job=7,
                    start=100 + at) for at in range(12)]  # fmt: skip
    blade = entry(60, "torque", component="blade bolt", value="70", unit="N*m", job=7, start=900)
    assert [row.component for row in rows(sheet(oil, plug, *others, blade, about="engine oil"), "Torques")] == ["plug"]


def test_what_was_looked_at_on_the_way_is_no_part_of_another_job() -> None:
    oil = entry(1, "operation", component="engine oil", action="drain", job=7, system="engine")
    disc = pad(2, "front disc", "21.7", job=7, system="engine")
    nut = entry(3, "torque", component="wheel nut", value="140", unit="N*m", job=7, system="engine")
    made = sheet(oil, disc, nut, about="engine oil")
    assert (rows(made, "Measurements"), len(rows(made, "Torques"))) == ([], 1)


def test_a_belt_is_no_timing_belt_where_the_vehicle_has_another() -> None:
    assert knowledge("belt", ["drive belt"], ["drive belt"]).name == ""
    assert knowledge("belt", ["timing belt"], ["timing belt", "drive belt"]).name == "timing belt"


def test_a_system_has_the_jobs_of_the_parts_that_the_vehicle_has() -> None:
    told = knowledge("brakes", ["rear brake drum"], ["front brake pad", "rear brake drum"]).name
    assert "brake pads" in told
    assert "brake discs" not in told


def test_what_agreed_with_a_value_of_the_job_belongs_to_it() -> None:
    bolt = entry(1, "torque", component="damper rod screw", value="30", unit="N*m")
    specs = (spec("front fork damper bolt", "torque", "30", "N*m"),)
    (row,) = rows(sheet(bolt, about="forks", specs=specs), "Torques")
    assert row.last == ""
    agreed = {1: "front fork damper bolt: 30 N·m (manual, sheet 4)"}
    (row,) = rows(sheet(bolt, about="forks", specs=specs, agreed=agreed), "Torques")
    assert (row.last, row.differs) == ("30 N·m (22.1 lbf·ft)", False)


def test_where_nothing_is_known_it_says_what_there_is() -> None:
    drained = entry(1, "operation", component="engine oil", action="drain", system="lubrication")
    made = sheet(drained, about="winter", specs=(spec("left blade bolt", "torque", "50", "N*m"),))
    assert (made.tables, made.instead) == ((), ("lubrication", "blade bolt"))
    assert sheet(drained, about="engine oil").instead == ()


def test_where_drums_are_noted_no_calipers_are_asked_for() -> None:
    drums = ["rear brake drum", "rear brake shoe", "rear drum screw"]
    asked = {must.what for must in knowledge("rear brakes", drums, drums).musts}
    assert not asked & {"caliper bracket bolt", "slide pin bolt", "brake pad"}
    both = [*drums, "front brake pad", "front brake disc"]
    assert "brake pad" not in {must.what for must in knowledge("rear brakes", both, both).musts}
    assert "brake pad" in {must.what for must in knowledge("front brakes", both, both).musts}
    assert "brake pad" in {must.what for must in knowledge("rear brakes", [], []).musts}  # nothing is known


def said_in_order(*told: tuple[str, dict[str, Any]], system: str = "driveline") -> list[Entry]:
    """Entries of one job and note, in the order of their words."""
    return [entry(at, kind, start=at * 10, job=7, system=system, **fields) for at, (kind, fields) in enumerate(told, 1)]


def test_other_jobs_of_a_note_are_left_out() -> None:
    told = said_in_order(
        ("operation", {"component": "sump", "action": "drain"}),
        ("torque", {"component": "sump drain plug", "value": "24", "unit": "N*m"}),
        ("count", {"component": "crush washer", "value": "1", "role": "used"}),
        ("part_number", {"component": "oil filter", "code": "OF-2210", "role": "installed"}),
        ("operation", {"component": "chain", "action": "adjust"}),
        ("measurement", {"component": "chain", "value": "30", "unit": "mm", "role": "slack"}),
        ("torque", {"component": "rear axle nut", "value": "98", "unit": "N*m"}),
        ("count", {"component": "split pin", "value": "1", "role": "used"}),
        ("operation", {"component": "front pad", "action": "replace"}),
        ("part_number", {"component": "front pad", "code": "BP-1120", "role": "installed"}),
    )  # fmt: skip
    what = topic("chain", None, told)
    assert {one.fact.component for one in told if what.has(one)} == {"chain", "rear axle nut", "split pin"}


def test_a_part_that_was_renewed_by_the_way_is_a_job_of_its_own() -> None:
    told = said_in_order(
        ("operation", {"component": "engine oil", "action": "replace"}),
        ("torque", {"component": "sump plug", "value": "30", "unit": "N*m"}),
        ("observation", {"component": "rocker cover gasket", "finding": "weeping", "role": "act"}),
        ("operation", {"component": "gasket kit", "action": "install"}),
        ("part_number", {"component": "gasket kit", "code": "GK-5510", "role": "installed"}),
        system="lubrication",
    )  # fmt: skip
    what = topic("oil change", knowledge("oil change", ["engine oil"], ["engine oil", "sump plug"]), told)
    assert {one.fact.component for one in told if what.has(one)} == {"engine oil", "sump plug"}
