"""Run by Alembic: the migrations take the connection that opening the shop hands over."""

from alembic import context

context.configure(connection=context.config.attributes["connection"], transaction_per_migration=False)
context.run_migrations()
