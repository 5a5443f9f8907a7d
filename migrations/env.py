"""Runs the migrations on the connection that monreq.storage.migrate hands over."""

from alembic import context

from monreq.storage.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    # Alembic assumes that SQLite cannot undo changes of tables; it can, so each migration is a transaction here too.
    transactional_ddl=True,
    transaction_per_migration=True,
)
with context.begin_transaction():
    context.run_migrations()
