"""Whether the server can do its work just now, in figures."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError

from sporeline.database import Database
from sporeline.errors import SporelineError

ROOM_NEEDED = 500_000_000
"""Bytes. Below this the operator is to make room; entries are taken until nothing is left."""

TICK_LATE_MS = 3 * 60_000


def database_check(database: Database) -> dict[str, Any]:
    """`{"ok", "kind", "version", "mode"}`; not ok when it cannot be read."""
    try:
        with database.read() as connection:
            connection.execute(text("SELECT 1"))
        return {"ok": True, **database.describe()}
    except (SQLAlchemyError, SporelineError):
        return {"ok": False, "kind": database.kind}


def disk_check(folder: Path) -> dict[str, Any]:
    """`{"ok", "free_bytes"}` of the disk that holds the data folder."""
    free = shutil.disk_usage(folder).free
    return {"ok": free >= ROOM_NEEDED, "free_bytes": free}


def tick_check(last_ms: int | None, expected: bool, now_ms: int) -> dict[str, Any]:
    """`{"ok", "last_ms"}`; not ok when ticks are expected and the last is long ago."""
    late = expected and (last_ms is None or now_ms - last_ms > TICK_LATE_MS)
    return {"ok": not late, "last_ms": last_ms}
