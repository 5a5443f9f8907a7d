"""What the storage's tests share: an empty database of each kind, and it opened."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from monreq.storage.open import Storage, open_storage
from tests.support.databases import BOTH, database_url


@pytest.fixture(params=BOTH)
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    with database_url(request.param, tmp_path) as made:
        yield made


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
