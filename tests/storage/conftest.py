"""What the storage's tests share: an empty database of each kind, and it opened."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from monreq.storage.open import Storage, open_storage
from tests.support.databases import BOTH, database_url, postgres_url, sqlite_url


@pytest.fixture(params=BOTH)
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    with database_url(request.param, tmp_path) as made:
        yield made


@pytest.fixture
def sqlite(tmp_path: Path) -> str:
    return sqlite_url(tmp_path)


@pytest.fixture
def postgresql() -> Iterator[str]:
    with postgres_url() as url:
        yield url


@pytest.fixture
def storage(url: str) -> Iterator[Storage]:
    opened = open_storage(url, "threading", may_write=True)
    yield opened
    opened.close()


@pytest.fixture
def other(url: str, storage: Storage) -> Iterator[Storage]:  # noqa: ARG001 - opened first, so that it migrates
    """The same database, opened as another process would."""
    opened = open_storage(url, "threading", may_write=True)
    yield opened
    opened.close()
