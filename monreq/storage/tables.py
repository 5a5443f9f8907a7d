"""The tables, as the newest migration leaves them."""

from typing import Final

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    ForeignKey,
    ForeignKeyConstraint,
    Integer,
    MetaData,
    Table,
    Text,
)

metadata: Final = MetaData(
    naming_convention={
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)

shows: Final = Table(
    "shows",
    metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("is_open", Boolean, nullable=False),
    Column("is_demo", Boolean, nullable=False),
    Column("head", Integer, nullable=False),
    Column("opened_at_ms", BigInteger, nullable=False),
)

events: Final = Table(
    "events",
    metadata,
    Column("show_id", Text, ForeignKey("shows.id"), primary_key=True),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    Column("at_ms", BigInteger, nullable=False),
    Column("by", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("body", Text, nullable=False),
)

event_subjects: Final = Table(
    "event_subjects",
    metadata,
    Column("show_id", Text, primary_key=True),
    Column("subject", Text, primary_key=True),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    ForeignKeyConstraint(["show_id", "revision"], ["events.show_id", "events.revision"]),
    sqlite_with_rowid=False,
)

submissions: Final = Table(
    "submissions",
    metadata,
    Column("show_id", Text, ForeignKey("shows.id"), primary_key=True),
    Column("scope", Text, primary_key=True),
    Column("client_id", Text, primary_key=True),
    Column("fingerprint", Text, nullable=False),
    Column("first_revision", Integer, nullable=False),
    Column("last_revision", Integer, nullable=False),
    sqlite_with_rowid=False,
)

settings: Final = Table(
    "settings",
    metadata,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

# A band's line-up is read and written as a whole, and nothing asks for a part of it: one document. Kept mixes
# are many, and come and go one by one: a row each.
bands: Final = Table(
    "bands",
    metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("changed_at_ms", BigInteger, nullable=False),
    Column("body", Text, nullable=False),
)

kept_mixes: Final = Table(
    "kept_mixes",
    metadata,
    Column("band_id", Text, ForeignKey("bands.id"), primary_key=True),
    Column("id", Text, primary_key=True),
    Column("place", Integer, nullable=False),
    Column("name", Text, nullable=False),
    Column("mix", Text, nullable=False),
    Column("song", Text, nullable=True),
    Column("kept_at_ms", BigInteger, nullable=False),
    Column("show_name", Text, nullable=False),
    Column("body", Text, nullable=False),
)

band_submissions: Final = Table(
    "band_submissions",
    metadata,
    Column("scope", Text, primary_key=True),
    Column("client_id", Text, primary_key=True),
    Column("fingerprint", Text, nullable=False),
    Column("band_id", Text, nullable=False),
    sqlite_with_rowid=False,
)
