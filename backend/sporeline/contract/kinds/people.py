"""People: initials, and when and how they want to be told."""

from __future__ import annotations

from sporeline.contract.fields import Day, HourMinute, Many, Name, Parts, YesNo, Zone
from sporeline.contract.registry import DataSchema, description

QUIET = {
    "from": HourMinute("when quiet begins", required=True),
    "to": HourMinute("when quiet ends", required=True),
}
AWAY = {
    "from": Day("the first day away", required=True),
    "to": Day("the last day away", required=True),
}


@description("person.described")
class PersonDescribed(DataSchema):
    """`detail`: a fern's name may stand on the lock screen."""

    initials = Name("initials")
    notice_at = HourMinute("the hour of notices")
    zone = Zone("a time zone")
    quiet = Parts("the quiet hours", QUIET)
    away = Many("days away", Parts("days away", AWAY, in_order=("from", "to")), 200)
    detail = YesNo("whether a fern's name may stand on the lock screen")
