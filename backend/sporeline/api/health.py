"""Whether the server can do its work."""

from __future__ import annotations

from typing import Any

from marshmallow import fields

from sporeline import __version__
from sporeline.api import Blueprint, Schema, current_services
from sporeline.keeping import health

blueprint = Blueprint("health", __name__, url_prefix="/api", description="Is it well?")


class HealthSchema(Schema):
    """`checks` by name; each has `ok`."""

    status = fields.String(required=True, metadata={"enum": ["ok", "degraded"]})
    version = fields.String(required=True)
    checks = fields.Dict(keys=fields.String(), required=True)


@blueprint.call("GET", "/health", gives=HealthSchema, everyone=True)
def read() -> Any:
    """Database, disk, last tick, last verified backup. 503 when the database cannot be read."""
    services = current_services()
    tick, clocks = services.tick, services.clocks
    checks: dict[str, Any] = {
        "database": health.database_check(services.database),
        "disk": health.disk_check(services.settings.data_dir),
        "tick": health.tick_check(tick.last_ms, tick.expected, clocks.wall()),
        "backup": None,
    }
    well = all(check["ok"] for check in checks.values() if check)
    answer = {"status": "ok" if well else "degraded", "version": __version__, "checks": checks}
    return answer, 200 if checks["database"]["ok"] else 503
