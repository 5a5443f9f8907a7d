"""Databases to test with: a SQLite file in a folder, a schema of its own in a PostgreSQL."""

import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import Engine, NullPool, create_engine, make_url, text
from sqlalchemy.exc import OperationalError

_GIVEN_URL = os.environ.get("MONREQ_TEST_POSTGRES_URL")
_URL = make_url(_GIVEN_URL or "postgresql+psycopg://postgres@127.0.0.1:5432/test")

BOTH = ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)]
"""The two kinds of database, as parameters of a fixture."""


def sqlite_url(folder: Path) -> str:
    """Return the URL of a file that need not be there yet."""
    return f"sqlite:///{(folder / 'monreq.sqlite').as_posix()}"


@contextmanager
def postgres_url() -> Iterator[str]:
    """Make an empty schema, which its URL alone leads to, and remove it afterwards."""
    schema = f"monreq_test_{uuid.uuid4().hex[:12]}"
    engine = _reachable()
    _run(engine, f"CREATE SCHEMA {schema}")
    try:
        url = _URL.update_query_dict({"options": f"-csearch_path={schema}"})
        yield url.render_as_string(hide_password=False)
    finally:
        _run(engine, f"DROP SCHEMA {schema} CASCADE")


@contextmanager
def database_url(kind: str, folder: Path) -> Iterator[str]:
    """Return the URL of a new database of a kind."""
    if kind == "sqlite":
        yield sqlite_url(folder)
    else:
        with postgres_url() as url:
            yield url


def _reachable() -> Engine:
    engine = create_engine(_URL, poolclass=NullPool, connect_args={"connect_timeout": 5})
    try:
        _run(engine, "SELECT 1")
    except OperationalError as error:
        if _GIVEN_URL:
            raise
        pytest.skip(f"no PostgreSQL here: {error.orig}")
    return engine


def _run(engine: Engine, statement: str) -> None:
    with engine.begin() as connection:
        connection.execute(text(statement))
