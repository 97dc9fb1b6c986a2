"""The migrations make exactly the tables that the rooms declare."""

from __future__ import annotations

from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from phones import services_of

from sporeline.app import upgrade
from sporeline.database import metadata


def test_migrations_and_tables_agree(app):
    with services_of(app).database.read() as c:
        context = MigrationContext.configure(c)
        assert context.get_current_revision() is not None
        assert compare_metadata(context, metadata) == []


def test_bringing_up_to_date_twice_changes_nothing(app, owner):
    upgrade(services_of(app).database)
    assert owner.get("/api/v1/me").status_code == 200
