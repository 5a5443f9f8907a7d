"""Runs the migrations on the connection that monreq.storage.migrate hands over."""

from alembic import context

from monreq.storage.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    # SQLite can undo changes of tables; without this a migration that fails halfway would leave its half.
    transactional_ddl=True,
    transaction_per_migration=True,
)
with context.begin_transaction():
    context.run_migrations()
