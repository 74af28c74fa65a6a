"""Run by Alembic to carry out migrations on the connection that `upgrade` handed in."""

from __future__ import annotations

from alembic import context

from lapseam.storage.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    transactional_ddl=True,
)
context.run_migrations()
