"""A served show for tests of what is answered over HTTP."""

import pytest

from tests.support.api_client import ApiClient
from tests.support.stage import small_stage
from tests.support.web_app import Site


@pytest.fixture
def site() -> Site:
    return Site(small_stage())


@pytest.fixture
def desk(site: Site) -> ApiClient:
    return ApiClient(site.app, site.token())


@pytest.fixture
def front(site: Site) -> ApiClient:
    """Calls for the singer's wedge."""
    return ApiClient(site.app, site.token("front"))


@pytest.fixture
def ears(site: Site) -> ApiClient:
    """Calls for the in-ear pair that bass and drummer share."""
    return ApiClient(site.app, site.token("ears"))
