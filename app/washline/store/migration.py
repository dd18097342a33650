"""Brings the tables of a file to the newest version: all steps in one transaction, or none of them.

Loaded only when a file is made or is behind: Alembic takes longer to import than a house book takes to open.
"""

from pathlib import Path

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory

from washline.assets import database_file
from washline.store import connection as connections
from washline.store.peek import APPLICATION_ID, SCHEMA_VERSION, refuse_newer, revision_of
from washline.store.problem import damaged, told

SCRIPTS = database_file("migrations")


def migrate(
    path: Path,
    *,
    scripts: Path = SCRIPTS,
    version: int = SCHEMA_VERSION,
    wait_s: float = connections.WAIT_S,
) -> None:
    """Makes all tables in a new file, or brings those of an older house book up to date.

    Raises NewerHouseBook for a migration that ``scripts`` does not have, DamagedHouseBook where rows refer to rows that
    are not there; the file is then as it was.
    """
    config = _config(scripts)
    if path.exists():
        _refuse_unknown(path, config)
    engine = connections.migrator(path, wait_s)
    try:
        with told(path), engine.connect() as connection, connections.writing(connection):
            config.attributes["connection"] = connection
            command.upgrade(config, "head")
            _refuse_dangling(path, connection)
            connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
            connection.exec_driver_sql(f"PRAGMA user_version={version}")
        with told(path), engine.connect() as connection:
            connections.remove_journal(connection)
    finally:
        engine.dispose()


def head_of(scripts: Path = SCRIPTS) -> str | None:
    """The newest migration there is."""
    return ScriptDirectory.from_config(_config(scripts)).get_current_head()


def bring_in_what_is_usual(connection: sa.Connection, since: int) -> None:
    """Puts into rows that were read from a file of version ``since`` what its migrations would have put there."""
    scripts = ScriptDirectory.from_config(_config(SCRIPTS)).walk_revisions()
    missed = sorted((one for one in scripts if int(one.revision) > since), key=lambda one: one.revision)
    with Operations.context(MigrationContext.configure(connection)):
        for script in missed:
            bring_in = getattr(script.module, "bring_in_what_is_usual", None)
            if bring_in is not None:
                bring_in()


def _config(scripts: Path) -> Config:
    config = Config()
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    return config


def _refuse_unknown(path: Path, config: Config) -> None:
    known = {script.revision for script in ScriptDirectory.from_config(config).walk_revisions()}
    if revision_of(path) not in known:
        refuse_newer(path)


def _refuse_dangling(path: Path, connection: sa.Connection) -> None:
    dangling = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    if dangling:
        tables = ", ".join(sorted({str(record[0]) for record in dangling}))
        raise damaged(path, f"rows of {tables} refer to rows that are not there")
