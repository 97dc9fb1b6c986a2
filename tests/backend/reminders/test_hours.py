"""The hour of a notice: zones, both days on which the clocks change, quiet hours."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from sporeline.reminders.hours import after_quiet, hours_of, local_day, notice_instant


def utc(ms: int) -> str:
    return datetime.fromtimestamp(ms / 1000, UTC).strftime("%Y-%m-%dT%H:%M")


def ms(text: str) -> int:
    return int(datetime.fromisoformat(text).replace(tzinfo=UTC).timestamp() * 1000)


def person(at: str, zone: str, quiet: tuple[str, str] | None = None) -> dict[str, object]:
    spans = {"from": quiet[0], "to": quiet[1]} if quiet else None
    return {"notice_at": at, "zone": zone, "quiet": spans}


# Offsets and days of change: IANA tz database (EU: last Sundays of March and October at 01:00 UTC;
# Lord Howe: half an hour, first Sundays of April and October at 02:00 local; Kolkata: none).
TABLE = [
    ("Europe/Paris", "08:00", "2026-03-28", "2026-03-28T07:00"),
    ("Europe/Paris", "08:00", "2026-03-29", "2026-03-29T06:00"),
    ("Europe/Paris", "01:59", "2026-03-29", "2026-03-29T00:59"),
    ("Europe/Paris", "02:00", "2026-03-29", "2026-03-29T01:00"),  # skipped: 03:00 summer time
    ("Europe/Paris", "02:30", "2026-03-29", "2026-03-29T01:00"),
    ("Europe/Paris", "02:59", "2026-03-29", "2026-03-29T01:00"),
    ("Europe/Paris", "03:00", "2026-03-29", "2026-03-29T01:00"),
    ("Europe/Paris", "02:00", "2026-10-25", "2026-10-25T00:00"),  # twice: the first, summer time
    ("Europe/Paris", "02:30", "2026-10-25", "2026-10-25T00:30"),
    ("Europe/Paris", "03:00", "2026-10-25", "2026-10-25T02:00"),
    ("Europe/Paris", "00:00", "2026-10-25", "2026-10-24T22:00"),
    ("Australia/Lord_Howe", "02:15", "2026-10-04", "2026-10-03T15:30"),  # skipped: 02:30 (+11)
    ("Australia/Lord_Howe", "02:30", "2026-10-04", "2026-10-03T15:30"),
    ("Australia/Lord_Howe", "01:45", "2026-04-05", "2026-04-04T14:45"),  # twice: the first (+11)
    ("Australia/Lord_Howe", "02:00", "2026-04-05", "2026-04-04T15:30"),
    ("Asia/Kolkata", "08:00", "2026-03-29", "2026-03-29T02:30"),
    ("Asia/Kolkata", "23:45", "2026-10-25", "2026-10-25T18:15"),
    ("America/Sao_Paulo", "00:00", "2018-11-04", "2018-11-04T03:00"),  # midnight itself skipped
    ("Pacific/Apia", "08:00", "2011-12-30", "2011-12-30T10:00"),  # a day that never was
    ("UTC", "00:00", "2026-01-01", "2026-01-01T00:00"),
]


@pytest.mark.parametrize(("zone", "at", "day", "expected"), TABLE)
def test_notice_instant_of_a_local_day(zone: str, at: str, day: str, expected: str) -> None:
    assert utc(notice_instant(day, hours_of(person(at, zone)))) == expected


@pytest.mark.parametrize("zone", ["Europe/Paris", "Australia/Lord_Howe", "Asia/Kolkata"])
@pytest.mark.parametrize("at", ["00:00", "02:15", "02:30", "23:59"])
def test_every_day_of_a_year_has_exactly_one_notice_on_that_day(zone: str, at: str) -> None:
    hours = hours_of(person(at, zone))
    first = datetime(2026, 1, 1)
    days = [(first + timedelta(days=n)).date().isoformat() for n in range(365)]
    instants = [notice_instant(day, hours) for day in days]
    assert [local_day(instant, hours.zone) for instant in instants] == days
    gaps = [later - earlier for earlier, later in pairwise(instants)]
    assert 23 * 3_600_000 <= min(gaps) <= max(gaps) <= 25 * 3_600_000


QUIET = [
    # notice hour, quiet hours, day, told at (Europe/Paris; UTC+1 in winter)
    ("06:30", ("22:00", "07:00"), "2026-01-10", "2026-01-10T06:00"),
    ("07:00", ("22:00", "07:00"), "2026-01-10", "2026-01-10T06:00"),
    ("23:15", ("22:00", "07:00"), "2026-01-10", "2026-01-11T06:00"),
    ("22:00", ("22:00", "07:00"), "2026-01-10", "2026-01-11T06:00"),
    ("21:59", ("22:00", "07:00"), "2026-01-10", "2026-01-10T20:59"),
    ("12:30", ("12:00", "14:00"), "2026-01-10", "2026-01-10T13:00"),
    ("14:00", ("12:00", "14:00"), "2026-01-10", "2026-01-10T13:00"),
    ("08:00", ("08:00", "08:00"), "2026-01-10", "2026-01-10T07:00"),
    ("23:00", ("22:00", "02:30"), "2026-03-28", "2026-03-29T01:00"),  # quiet ends in the gap
    ("23:00", ("22:00", "02:30"), "2026-10-24", "2026-10-25T00:30"),  # quiet ends twice: the first
]


@pytest.mark.parametrize(("at", "quiet", "day", "expected"), QUIET)
def test_quiet_hours_put_a_notice_off_to_their_end(
    at: str, quiet: tuple[str, str], day: str, expected: str
) -> None:
    assert utc(notice_instant(day, hours_of(person(at, "Europe/Paris", quiet)))) == expected


def test_quiet_hours_never_answer_an_earlier_instant() -> None:
    hours = hours_of(person("08:00", "Europe/Paris", ("22:00", "02:30")))
    second_half_past_two = ms("2026-10-25T01:10")  # 02:10 for the second time
    assert after_quiet(second_half_past_two, hours) == second_half_past_two


def test_a_changed_zone_moves_the_hour_and_keeps_the_day() -> None:
    before = notice_instant("2026-06-01", hours_of(person("08:00", "Europe/Paris")))
    after = notice_instant("2026-06-01", hours_of(person("08:00", "America/New_York")))
    assert (utc(before), utc(after)) == ("2026-06-01T06:00", "2026-06-01T12:00")


def test_the_demo_shift_maps_a_calendar_day_onto_the_wall() -> None:
    hours = hours_of(person("08:00", "Europe/Paris"))
    assert utc(notice_instant("2026-08-18", hours, shift_days=200)) == "2026-01-30T07:00"
    assert local_day(ms("2026-01-30T23:30"), hours.zone, 200) == "2026-08-19"


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"notice_at": None, "zone": None, "quiet": None},
        {"notice_at": "25:00", "zone": "Nowhere/At_All", "quiet": {"from": "x", "to": "07:00"}},
        {"notice_at": "8", "zone": "../etc/passwd", "quiet": {}},
        {"notice_at": "08:60", "zone": "Europe", "quiet": {"from": "07:00"}},
    ],
)
def test_unknown_hours_fall_back_to_eight_utc(fields: dict[str, object]) -> None:
    assert utc(notice_instant("2026-06-01", hours_of(fields))) == "2026-06-01T08:00"
