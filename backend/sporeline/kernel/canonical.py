"""Canonical JSON text (RFC 8785): equal text means equal parsed JSON, so `true` is not `1`."""

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any


def canonical(value: Any) -> str:
    """RFC 8785 text of a JSON value. Raises ValueError for a number that JSON cannot carry."""
    if isinstance(value, Mapping):
        members = sorted(value.items(), key=lambda member: by_code_units(member[0]))
        return "{" + ",".join(f"{_text(k)}:{canonical(v)}" for k, v in members) + "}"
    if isinstance(value, list | tuple):
        return "[" + ",".join(map(canonical, value)) + "]"
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, float):
        return _number(value)
    return json.dumps(value)


def by_code_units(text: str) -> bytes:
    """Sort key: UTF-16 code units, the order in which JavaScript compares text."""
    return text.encode("utf-16-be", "surrogatepass")


def same_value(one: Any, other: Any) -> bool:
    """Whether two JSON values are equal. Text, the usual case, needs no canonical form."""
    if isinstance(one, str) and isinstance(other, str):
        return one == other
    return canonical(one) == canonical(other)


def _text(value: str) -> str:
    return json.dumps(value, ensure_ascii=False)


def _number(value: float) -> str:
    """A double as ECMAScript writes it (RFC 8785 §3.2.2.3): Python's own shortest digits, laid out
    without an exponent from 1e-6 up to below 1e21."""
    if value - value != 0:
        raise ValueError(f"{value} is not a JSON number: write it as text or leave it out.")
    if value == 0:
        return "0"
    parts = Decimal(repr(value)).normalize().as_tuple()
    digits = "".join(map(str, parts.digits))
    point = len(digits) + int(parts.exponent)
    return ("-" if parts.sign else "") + _lay_out(digits, point)


def _lay_out(digits: str, point: int) -> str:
    if -6 < point <= 0:
        return "0." + "0" * -point + digits
    if 0 < point <= 21:
        whole, rest = digits[:point].ljust(point, "0"), digits[point:]
        return f"{whole}.{rest}" if rest else whole
    rest = f".{digits[1:]}" if digits[1:] else ""
    return f"{digits[0]}{rest}e{point - 1:+d}"
