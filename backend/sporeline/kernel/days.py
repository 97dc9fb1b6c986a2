"""Whole dates as whole numbers: days since 1970-01-01 in the Gregorian calendar, also before it
was introduced. No date object, no zone, no floats, so that both languages count alike.

The reckoning is the usual one by eras of 400 years (146,097 days) with the year begun in March,
so that 29 February comes last; all divisions are floor divisions.
"""

ERA_DAYS = 146_097
_MARCH_1_OF_YEAR_0 = 719_468
"""Days from 0000-03-01 to 1970-01-01."""

_DIGITS = frozenset("0123456789")


def is_day(text: object) -> bool:
    """Whether this is a date that exists, written `YYYY-MM-DD`, from year 1 on."""
    if not isinstance(text, str) or len(text) != 10 or text[4] != "-" or text[7] != "-":
        return False
    if not _DIGITS.issuperset(text[:4] + text[5:7] + text[8:]):
        return False
    year, month, day = int(text[:4]), int(text[5:7]), int(text[8:])
    return year >= 1 and 1 <= month <= 12 and 1 <= day <= _month_length(year, month)


def to_day(text: str) -> int:
    """Raises ValueError when the text is no date that exists."""
    if not is_day(text):
        raise ValueError(f"“{text}” is not a date; write it as 2026-05-01.")
    return _count(int(text[:4]), int(text[5:7]), int(text[8:]))


def from_day(day: int) -> str:
    """Raises ValueError outside the years 1 to 9999."""
    era, of_era = divmod(day + _MARCH_1_OF_YEAR_0, ERA_DAYS)
    leaps = of_era // 1460 - of_era // 36524 + of_era // 146_096
    of_era_year = (of_era - leaps) // 365
    of_year = of_era - (365 * of_era_year + of_era_year // 4 - of_era_year // 100)
    from_march = (5 * of_year + 2) // 153
    month = from_march + 3 if from_march < 10 else from_march - 9
    year = era * 400 + of_era_year + (1 if month <= 2 else 0)
    if not 1 <= year <= 9999:
        raise ValueError(f"Day {day} lies outside the years 1 to 9999.")
    return f"{year:04d}-{month:02d}-{of_year - (153 * from_march + 2) // 5 + 1:02d}"


def duration_days(duration: str) -> int:
    """Days in `P14D` or `P2W` (ISO 8601; days and weeks only, at most four digits). Raises
    ValueError on others."""
    number, unit = duration[1:-1], duration[-1:]
    if duration[:1] != "P" or unit not in ("D", "W") or not _is_short_number(number):
        raise ValueError(f"“{duration}” is not a duration in days or weeks, such as P14D or P2W.")
    return int(number) * (7 if unit == "W" else 1)


def _is_short_number(text: str) -> bool:
    return 1 <= len(text) <= 4 and _DIGITS.issuperset(text)


def add_duration(day: int, duration: str) -> int:
    return day + duration_days(duration)


def _count(year: int, month: int, day: int) -> int:
    march_year = year - 1 if month <= 2 else year
    era, of_era_year = divmod(march_year, 400)
    from_march = month - 3 if month > 2 else month + 9
    of_year = (153 * from_march + 2) // 5 + day - 1
    of_era = of_era_year * 365 + of_era_year // 4 - of_era_year // 100 + of_year
    return era * ERA_DAYS + of_era - _MARCH_1_OF_YEAR_0


def _month_length(year: int, month: int) -> int:
    after = (year + 1, 1) if month == 12 else (year, month + 1)
    return _count(*after, 1) - _count(year, month, 1)
