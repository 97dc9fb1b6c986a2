"""Everything that can go wrong on purpose, as one tree.

    SporelineError
    ├── NotJson            400  the body is no JSON that may be read
    ├── NotSignedIn        401  no session, or an ended one
    │   └── ShutOut        401  this phone was shut out by a person
    ├── NotAllowed         403  signed in, but the role does not allow it
    │   └── CrossOrigin    403  the request came from another site's page
    ├── NotThere           404  nothing of that name for this person
    │   └── NotMember      404  no such logbook, or not this person's: never told apart
    ├── Clash              409  an id, invitation or step that cannot be used (again)
    │   └── Diverged       409  phone and server disagree about the history
    ├── TooLarge           413  more than one request may carry
    ├── NotValid           422  JSON, but not what this call takes
    ├── TooMany            429  slow down
    ├── Broken             500  a mistake of ours
    ├── Busy               503  the database is in use for too long
    ├── StorageFull        507  no room to write
    └── CannotStart             wiring refused (never on the wire)

On the wire each is `{"code", "message", "where", "fix"}`: what happened and what is safe, where in
the request, what to do. Codes stay; tests assert codes, never texts.
"""

from __future__ import annotations

SAFE = "Nothing of yours was lost: the phone keeps it"


class SporelineError(Exception):
    """Base of the tree. `where` names the field, path or line that is meant; empty = all of it."""

    status = 500
    code = "broken"
    message = f"Something went wrong on the server. {SAFE} and sends it again."
    fix = "Try again in a while. If it stays so, tell whoever runs the server."

    def __init__(
        self,
        message: str | None = None,
        *,
        code: str | None = None,
        where: str = "",
        fix: str | None = None,
    ) -> None:
        self.message = message or type(self).message
        self.code = code or type(self).code
        self.where = where
        self.fix = fix if fix is not None else type(self).fix
        super().__init__(self.message)

    def on_the_wire(self) -> dict[str, object]:
        """The one JSON shape of every error."""
        return {
            "code": self.code,
            "message": self.message,
            "where": self.where,
            "fix": self.fix,
        }


class NotJson(SporelineError):
    """The body is no JSON (RFC 7493) that may be read; nothing of it was stored."""

    status = 400
    code = "not-json"
    message = f"The request could not be read as JSON; nothing was stored. {SAFE}."
    fix = "Send JSON in UTF-8 with `Content-Type: application/json`, plain or gzip."


class NotSignedIn(SporelineError):
    """No session came with the request, or one that has ended. Never a reason to drop work."""

    status = 401
    code = "not-signed-in"
    message = f"This phone is not signed in. {SAFE} until it is."
    fix = "Open an invitation to sign this phone in again."


class ShutOut(NotSignedIn):
    """The phone was shut out by a person; what it has not sent stays on it."""

    code = "shut-out"
    message = "This phone was shut out of these records. What it has not sent stays on it."
    fix = "Ask an owner for an invitation as a further phone, then it sends what it kept."


class NotAllowed(SporelineError):
    """Signed in and a member, but the role does not go that far."""

    status = 403
    code = "not-allowed"
    message = "Your role in these records does not allow this. Nothing was changed."
    fix = "Ask an owner to do it, or to change your role."


class CrossOrigin(NotAllowed):
    """An unsafe request that did not come from this server's own pages."""

    code = "cross-origin"
    message = "This request came from another site's page and was refused. Nothing was changed."
    fix = "Use the app at its own address, or a script with a bearer token and no Origin."


class NotThere(SporelineError):
    """There is nothing of that name for this person."""

    status = 404
    code = "not-there"
    message = "There is nothing at this address. Nothing was changed."
    fix = "Check the address."


class NotMember(NotThere):
    """No such logbook, or one that is not this person's: the answer is the same for both."""

    code = "no-such-logbook"
    message = f"You have no records of that name here. {SAFE}."
    fix = "Ask an owner of those records for an invitation."


class Clash(SporelineError):
    """An id, an invitation or a step that cannot be used, or not again."""

    status = 409
    code = "clash"
    message = "This cannot be done as things stand. Nothing was changed."
    fix = "Look again at what is there now."


class Diverged(Clash):
    """Phone and server disagree about the history (a restored server); the phone asks a digest."""

    code = "history-diverged"
    message = "The server's history is not the one this phone knows; nothing was stored."
    fix = "Compare by `digest`, send what is lacking, then exchange from the start."

    def __init__(self, epoch: str, head: int) -> None:
        super().__init__()
        self.epoch = epoch
        self.head = head

    def on_the_wire(self) -> dict[str, object]:
        return {**super().on_the_wire(), "epoch": self.epoch, "head": self.head}


class TooLarge(SporelineError):
    """More than one request may carry; nothing of it was stored."""

    status = 413
    code = "too-large"
    message = f"The request is too large; nothing of it was stored. {SAFE}."
    fix = "Send it in smaller parts."


class NotValid(SporelineError):
    """JSON, but not what this call takes; `where` is the path of the first field that is wrong."""

    status = 422
    code = "not-valid"
    message = "Something in the request is missing or not as it should be. Nothing was changed."
    fix = "Put the named field right and send it again."


class TooMany(SporelineError):
    """Slow down; the answer carries Retry-After."""

    status = 429
    code = "too-many"
    message = f"Too many tries in a short time. {SAFE}."
    fix = "Wait a few minutes, then try again."


class Broken(SporelineError):
    """A mistake of ours: what an unexpected exception becomes on the wire."""


class Busy(SporelineError):
    """The database was in use for too long; nothing was stored."""

    status = 503
    code = "busy"
    message = f"The server is busy; nothing was stored. {SAFE} and sends it again."
    fix = "Try again in a minute."


class StorageFull(SporelineError):
    """No room to write; the transaction was rolled back whole."""

    status = 507
    code = "server-full"
    message = f"The server has no room left; nothing was stored. {SAFE} and sends it again."
    fix = "Tell whoever runs the server to make room."


class CannotStart(SporelineError):
    """The wiring refused: told to the operator on the terminal, never on the wire."""

    code = "cannot-start"
    message = "The server cannot start."
    fix = ""
