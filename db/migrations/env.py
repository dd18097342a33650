"""Runs migrations on the connection that ``washline.store.migration`` hands over, in the transaction that it began."""

from alembic import context

from washline.store.schema import METADATA

context.configure(
    connection=context.config.attributes["connection"], target_metadata=METADATA, render_as_batch=True
)
with context.begin_transaction():
    context.run_migrations()
