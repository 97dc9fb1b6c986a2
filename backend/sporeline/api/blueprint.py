"""How a family of endpoints is declared: `@family.call("POST", "/devices", takes=…, gives=…)`."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

import flask_smorest
from marshmallow import EXCLUDE, ValidationError, fields, validate
from marshmallow import Schema as MarshmallowSchema
from webargs.flaskparser import FlaskParser

from sporeline.api.admission import current_session, member_of
from sporeline.api.body import read_json

Handler = TypeVar("Handler", bound=Callable[..., Any])

UUID_TEXT = r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}"


class Schema(MarshmallowSchema):
    """Fields that a newer phone sends and this server does not know are left out, not refused."""

    class Meta:
        unknown = EXCLUDE


class Id(fields.String):
    """A UUID as lower-case text."""

    def __init__(self, **given: Any) -> None:
        shape = validate.Regexp(f"^{UUID_TEXT}\\Z", error="Must be a UUID in lower case.")
        super().__init__(validate=shape, **given)


class Words(fields.String):
    """Text of one line that a person wrote: trimmed, not empty, at most `longest` characters."""

    def __init__(self, longest: int, **given: Any) -> None:
        super().__init__(validate=validate.Length(min=1, max=longest), **given)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **given: Any) -> str:
        words = super()._deserialize(value, attr, data, **given)
        if not isinstance(words, str) or not words.isprintable():
            raise ValidationError("Must be one line of plain text.")
        return words.strip()


class _Parser(FlaskParser):
    """Reads bodies through `read_json`, so that gzip, limits and errors are the same everywhere."""

    def load_json(self, req: Any, schema: Any) -> Any:
        return read_json()


class Blueprint(flask_smorest.Blueprint):  # type: ignore[misc]  # it has no types of its own
    """A family of endpoints; what it takes and gives is described in OpenAPI."""

    ARGUMENTS_PARSER = _Parser()

    def call(
        self,
        method: str,
        rule: str,
        *,
        takes: type[MarshmallowSchema] | None = None,
        reads: type[MarshmallowSchema] | None = None,
        asks: type[MarshmallowSchema] | None = None,
        gives: type[MarshmallowSchema] | None = None,
        status: int = 200,
        everyone: bool = False,
    ) -> Callable[[Handler], Handler]:
        """Declare one endpoint. The handler gets `takes` (body) and `asks` (query) as dicts, then
        the path's parts by name. Its first docstring line is the summary.

        `reads` only describes the body, which the handler reads by itself.
        Without `everyone` a session is needed; a `<logbook>` in the path always needs a member.
        Both are asked before anything of the request is read.
        """

        def declare(handler: Handler) -> Handler:
            described: Any = self.response(status, gives)(handler)
            if asks is not None:
                described = self.arguments(asks, location="query")(described)
            if takes is not None:
                described = self.arguments(takes)(described)
            if reads is not None:
                content = {"application/json": {"schema": reads}}
                described = self.doc(requestBody={"required": True, "content": content})(described)
            self.route(rule, methods=[method])(_admitting(described, everyone))
            return handler

        return declare


def _admitting(handler: Any, everyone: bool) -> Any:
    @wraps(handler)
    def admitted(*given: Any, **named: Any) -> Any:
        if "logbook" in named:
            member_of(named["logbook"])
        elif not everyone:
            current_session()
        return handler(*given, **named)

    return admitted
