"""Runs the numbered steps on the connection that the program hands over.

There is no alembic.ini: `app.storage.migrating` names this folder and brings the connection, so the
steps run the same from every working directory and on no other database by mistake.
"""

from alembic import context

connection = context.config.attributes["connection"]
context.configure(connection=connection, transactional_ddl=True)
context.run_migrations()
