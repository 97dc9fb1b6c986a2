"""Crossing out."""

from __future__ import annotations

from sporeline.contract.fields import RecordId, Words
from sporeline.contract.registry import DataSchema, strike


@strike("entry.struck")
class EntryStruck(DataSchema):
    """The entry was wrong; it stays readable. `instead`: the entry that puts it right."""

    entry = RecordId("the entry that is crossed out", required=True)
    reason = Words("a reason", required=True)
    instead = RecordId("the entry that puts it right")
