"""Days held against Python's own calendar, day by day from 1600 to 2400."""

from datetime import date

from sporeline.kernel.days import from_day, is_day, to_day

EPOCH = date(1970, 1, 1).toordinal()


def test_every_day_of_eight_centuries() -> None:
    for ordinal in range(date(1600, 1, 1).toordinal(), date(2400, 12, 31).toordinal() + 1):
        text = date.fromordinal(ordinal).isoformat()
        assert from_day(ordinal - EPOCH) == text
        assert to_day(text) == ordinal - EPOCH


def test_every_month_ends_where_the_calendar_ends_it() -> None:
    for year in range(1600, 2401):
        for month in range(14):
            found = [day for day in range(33) if is_day(f"{year}-{month:02d}-{day:02d}")]
            assert found == _days_of(year, month)


def _days_of(year: int, month: int) -> list[int]:
    if not 1 <= month <= 12:
        return []
    following = date(year + month // 12, month % 12 + 1, 1)
    return list(range(1, (following - date(year, month, 1)).days + 1))
