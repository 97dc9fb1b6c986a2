"""The types of fields that entries have.

Each is a marshmallow field whose one rule is `checker()`: a plain function that says what is wrong.
marshmallow uses it to load, the judge calls it directly, and the generator asks `typescript()`;
so the schema stays the one description and the hot path pays for no framework.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from marshmallow import ValidationError, fields

from sporeline.contract.faults import Fault, fault, shown
from sporeline.contract.moments import has_day_shape, is_day

Check = Callable[[Any, str, list[Fault]], None]
"""Appends what is wrong with a value that stands at a path."""

LARGEST = 2**53 - 1
"""The largest whole number that every JSON reader keeps exactly (RFC 7493 §2.2)."""

UUID7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}").fullmatch
SHA256 = re.compile(r"[0-9a-f]{64}").fullmatch
_HOUR = re.compile(r"(?:[01][0-9]|2[0-3]):[0-5][0-9]").fullmatch
_ZONE = re.compile(r"[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+)*").fullmatch


class EntryField(fields.Field[Any]):
    """`word` names the thing in sentences, with its article: “a ripeness”."""

    typescript_type = "Json"

    def __init__(
        self, word: str, *, required: bool = False, null: bool = False, data_key: str | None = None
    ) -> None:
        super().__init__(required=required, allow_none=null or not required, data_key=data_key)
        self.word = word

    def checker(self) -> Check:
        """The rule, as a plain function of (value, path, faults)."""
        raise NotImplementedError

    def typescript(self) -> str:
        """The TypeScript type of a value that is there."""
        return self.typescript_type

    def _deserialize(
        self, value: Any, attr: str | None, data: Mapping[str, Any] | None, **kwargs: Any
    ) -> Any:
        faults: list[Fault] = []
        self.checker()(value, attr or "", faults)
        if faults:
            raise ValidationError([each["code"] for each in faults])
        return value


class Text(EntryField):
    """Text of 1 to `most` characters."""

    typescript_type = "string"

    def __init__(self, word: str, most: int, **given: Any) -> None:
        super().__init__(word, **given)
        self.most = most

    def checker(self) -> Check:
        word, most = self.word, self.most

        def check(value: Any, where: str, faults: list[Fault]) -> None:
            if not isinstance(value, str):
                faults.append(fault("not-text", where, value=shown(value), word=word))
            elif not value:
                faults.append(fault("empty", where, word=word))
            elif len(value) > most:
                faults.append(fault("too-long", where, most=most))

        return check


class Name(Text):
    """What fits on a label or in a list."""

    def __init__(self, word: str, **given: Any) -> None:
        super().__init__(word, 200, **given)


class Words(Text):
    """A sentence or two."""

    def __init__(self, word: str, **given: Any) -> None:
        super().__init__(word, 500, **given)


class Note(Text):
    """As much as a person writes in one go."""

    def __init__(self, word: str = "a note", **given: Any) -> None:
        super().__init__(word, 4000, **given)


class OneOf(EntryField):
    """One of a few codes."""

    def __init__(self, word: str, choices: Iterable[str], **given: Any) -> None:
        super().__init__(word, **given)
        self.choices = tuple(choices)

    def checker(self) -> Check:
        word, choices, allowed = self.word, self.choices, frozenset(self.choices)
        said = " or ".join((", ".join(choices[:-1]), choices[-1])) if choices[1:] else choices[0]

        def check(value: Any, where: str, faults: list[Fault]) -> None:
            if not isinstance(value, str) or value not in allowed:
                faults.append(
                    fault("not-one-of", where, value=shown(value), word=word, choices=said)
                )

        return check

    def typescript(self) -> str:
        return " | ".join(f'"{choice}"' for choice in self.choices)


class Whole(EntryField):
    """A whole number from `least` to `most`; never a float, never true or false."""

    typescript_type = "number"

    def __init__(self, word: str, least: int, most: int = LARGEST, **given: Any) -> None:
        super().__init__(word, **given)
        self.least, self.most = least, most

    def checker(self) -> Check:
        word, least, most = self.word, self.least, self.most

        def check(value: Any, where: str, faults: list[Fault]) -> None:
            if type(value) is not int:
                faults.append(fault("not-a-whole-number", where, value=shown(value), word=word))
            elif not least <= value <= most:
                said = {"value": value, "word": word, "least": least, "most": most}
                faults.append(fault("out-of-range", where, **said))

        return check


class YesNo(EntryField):
    """true or false."""

    typescript_type = "boolean"

    def checker(self) -> Check:
        def check(value: Any, where: str, faults: list[Fault]) -> None:
            if not isinstance(value, bool):
                faults.append(fault("not-yes-or-no", where, value=shown(value)))

        return check


class _Shaped(EntryField):
    """Text of one fixed shape."""

    typescript_type = "string"
    code = ""
    shape: Callable[[str], object]

    def checker(self) -> Check:
        code, shape = self.code, self.shape

        def check(value: Any, where: str, faults: list[Fault]) -> None:
            if not isinstance(value, str) or not shape(value):
                faults.append(fault(code, where, value=shown(value)))

        return check


class RecordId(_Shaped):
    """Id of a record or an entry: UUIDv7 text."""

    code = "not-an-id"
    shape = staticmethod(UUID7)


class HourMinute(_Shaped):
    """`HH:MM`."""

    code = "not-an-hour"
    shape = staticmethod(_HOUR)


class Zone(_Shaped):
    """An IANA zone by its name. Only the shape: a phone may know zones that this server does not."""

    code = "not-a-zone"
    shape = staticmethod(_ZONE)


class Hash(_Shaped):
    """SHA-256 as 64 hex digits."""

    code = "not-a-hash"
    shape = staticmethod(SHA256)


class Day(EntryField):
    """`YYYY-MM-DD`, a day that exists."""

    typescript_type = "string"

    def checker(self) -> Check:
        return check_day


def check_day(value: Any, where: str, faults: list[Fault]) -> None:
    """A day that exists, or what is wrong with it."""
    if isinstance(value, str) and is_day(value):
        return
    looks_so = isinstance(value, str) and has_day_shape(value)
    faults.append(fault("no-such-day" if looks_so else "not-a-day", where, value=shown(value)))


class Many(EntryField):
    """A list of at most `most`."""

    def __init__(self, word: str, each: EntryField, most: int, **given: Any) -> None:
        super().__init__(word, **given)
        self.each, self.most = each, most

    def checker(self) -> Check:
        word, most, check_each = self.word, self.most, self.each.checker()

        def check(value: Any, where: str, faults: list[Fault]) -> None:
            if not isinstance(value, list):
                faults.append(fault("not-a-list", where, word=word))
            elif len(value) > most:
                faults.append(fault("too-many", where, most=most))
            else:
                for position, one in enumerate(value):
                    check_each(one, f"{where}.{position}", faults)

        return check

    def typescript(self) -> str:
        each = self.each.typescript()
        return f"({each})[]" if " | " in each else f"{each}[]"


class Parts(EntryField):
    """An object with named parts. `in_order`: two parts of which the second is not the earlier."""

    def __init__(
        self,
        word: str,
        parts: Mapping[str, EntryField],
        *,
        in_order: tuple[str, str] | None = None,
        **given: Any,
    ) -> None:
        super().__init__(word, **given)
        self.parts, self.in_order = parts, in_order

    def checker(self) -> Check:
        word, in_order, check_parts = self.word, self.in_order, check_fields(self.parts)

        def check(value: Any, where: str, faults: list[Fault]) -> None:
            if not isinstance(value, dict):
                faults.append(fault("not-an-object", where, word=word))
                return
            before = len(faults)
            check_parts(value, where, faults)
            if in_order and len(faults) == before:
                _check_order(value, in_order, where, faults)

        return check

    def typescript(self) -> str:
        return "{ " + " ".join(f"{line};" for line in typescript_lines(self.parts)) + " }"


class Plan(EntryField):
    """A care plan: an object with a list of rules. Its rules are read by `due`."""

    typescript_type = "{ rules: Json[]; [part: string]: Json }"

    def checker(self) -> Check:
        def check(value: Any, where: str, faults: list[Fault]) -> None:
            rules = value.get("rules") if isinstance(value, dict) else None
            if not isinstance(rules, list) or not all(isinstance(rule, dict) for rule in rules):
                faults.append(fault("not-a-plan", where))
            check_whole_numbers(value, where, faults)

        return check


def check_fields(given: Mapping[str, EntryField]) -> Check:
    """One function for an object with these fields. Others are kept; their numbers are whole."""
    checks = {name: field.checker() for name, field in given.items()}
    required = [name for name, field in given.items() if field.required]
    nullable = frozenset(name for name, field in given.items() if field.allow_none)
    words = {name: field.word for name, field in given.items()}

    def check(value: Any, where: str, faults: list[Fault]) -> None:
        for name in required:
            if name not in value:
                faults.append(fault("missing", f"{where}.{name}", word=words[name]))
        for name, one in value.items():
            if name not in checks:
                if type(one) is not str:
                    check_whole_numbers(one, f"{where}.{shown(name)}", faults)
            elif one is not None or name not in nullable:
                checks[name](one, f"{where}.{name}", faults)

    return check


def check_whole_numbers(value: Any, where: str, faults: list[Fault]) -> None:
    """Numbers in data are whole, and small enough to be exact everywhere."""
    if isinstance(value, str) or value is None:
        return
    if isinstance(value, dict):
        for name, one in value.items():
            check_whole_numbers(one, f"{where}.{shown(name)}", faults)
    elif isinstance(value, list):
        for position, one in enumerate(value):
            check_whole_numbers(one, f"{where}.{position}", faults)
    elif isinstance(value, float):
        faults.append(fault("not-a-whole-number", where, value=shown(value), word="the number"))
    elif abs(value) > LARGEST:
        said = {"value": value, "word": "it", "least": -LARGEST, "most": LARGEST}
        faults.append(fault("out-of-range", where, **said))


def typescript_lines(given: Mapping[str, EntryField]) -> list[str]:
    """`name?: type` for each field."""
    return [
        f"{name}{'' if field.required else '?'}: {field.typescript()}"
        + (" | null" if field.allow_none else "")
        for name, field in given.items()
    ]


def _check_order(
    value: Mapping[str, Any], in_order: tuple[str, str], where: str, faults: list[Fault]
) -> None:
    first, second = (value.get(name) for name in in_order)
    if first is not None and second is not None and second < first:
        faults.append(fault("ends-before-it-begins", where, begin=first, to=second))
