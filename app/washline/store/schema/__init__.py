"""The tables of a house book as SQLAlchemy knows them; ``METADATA`` is what the newest migration leaves behind."""

from sqlalchemy import MetaData

from washline.store.schema import history, house, items, steps
from washline.store.schema.base import Base, add_ranges

__all__ = ["METADATA", "history", "house", "items", "steps"]

METADATA: MetaData = Base.metadata

for _table in METADATA.tables.values():
    add_ranges(_table)
