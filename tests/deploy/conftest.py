"""Two workers, started once for all that is tried on them."""

from collections.abc import Iterator

import pytest

from tests.support.festival import Festival, festival_at


@pytest.fixture(scope="package")
def festival(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Festival]:
    with festival_at(tmp_path_factory.mktemp("festival")) as running:
        yield running
