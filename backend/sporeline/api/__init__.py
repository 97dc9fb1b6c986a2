"""The calls that phones, scripts and the operator make. Parse, call, answer: no rules, no queries.

Handlers find what they need through `current_services()`, `current_session()`, `member_of(id)`.
"""

from sporeline.api.admission import COOKIE, current_session, member_of, session_if_any
from sporeline.api.blueprint import Blueprint, Id, Schema, Words
from sporeline.api.services import Services, Tick, current_services

__all__ = [
    "COOKIE",
    "Blueprint",
    "Id",
    "Schema",
    "Services",
    "Tick",
    "Words",
    "current_services",
    "current_session",
    "member_of",
    "session_if_any",
]
