"""How Alembic runs here: on the connection that `app.py` hands over, inside its transaction."""

from __future__ import annotations

from alembic import context

from sporeline.database import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
