"""What tests of answers over HTTP start from: the JSON interface on a log in memory, and pages of a whole monreq."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support import evening as evenings
from tests.support.api_client import ApiClient
from tests.support.evening import Evening
from tests.support.stage import small_stage
from tests.support.visitor import Visitor
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


@pytest.fixture(scope="session")
def prepared_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("prepared")
    monreq = evenings.start(folder)
    evenings.set_up(monreq)
    monreq.close()
    return folder


@pytest.fixture
def evening(prepared_folder: Path, tmp_path: Path) -> Iterator[Evening]:
    """A prepared show, served in whole."""
    folder = tmp_path / "data"
    shutil.copytree(prepared_folder, folder)
    monreq = evenings.start(folder)
    yield Evening(monreq)
    monreq.close()


@pytest.fixture
def stranger(evening: Evening) -> Visitor:
    """A browser that was admitted to nothing."""
    return Visitor(evening.monreq.flask)


@pytest.fixture
def engineer(evening: Evening) -> Visitor:
    return _admitted(evening, None)


@pytest.fixture
def singer(evening: Evening) -> Visitor:
    return _admitted(evening, "front")


@pytest.fixture
def bassist(evening: Evening) -> Visitor:
    return _admitted(evening, "ears", "Bo")


@pytest.fixture
def drummer(evening: Evening) -> Visitor:
    return _admitted(evening, "ears", "Cy")


def _admitted(evening: Evening, mix: str | None, name: str = "") -> Visitor:
    visitor = Visitor(evening.monreq.flask)
    visitor.scan(evening.link(mix), lambda page: name or page.buttons()[0])
    return visitor


@pytest.fixture
def visitor(evening: Evening) -> Visitor:
    """A browser that is admitted to the desk and to a mix."""
    visitor = Visitor(evening.monreq.flask)
    visitor.scan(evening.link())
    visitor.scan(evening.link("front"))
    return visitor
