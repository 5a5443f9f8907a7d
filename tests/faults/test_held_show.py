"""A show that another program holds in a server's database: told for what it is, and for as long as it is held."""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from sqlalchemy import NullPool, create_engine, make_url, text

from monreq.config import Config
from monreq.domain.commands import OpenShow, RenameShow
from monreq.services.health import Notice, Trouble
from monreq.services.ports import StorageFailed
from monreq.services.shows import Shows
from monreq.services.storage_watch import WatchedWriter
from monreq.storage.held import Holding
from monreq.storage.open import Storage, open_storage
from monreq.upkeep import Clocks, Upkeep
from tests.support.databases import postgres_url

pytestmark = [pytest.mark.faults, pytest.mark.postgres]

SHOW = "show1"
BUSY = (Notice(Trouble.STORAGE, ("The database is busy.",)),)


@pytest.fixture
def url() -> Iterator[str]:
    """A database whose locks are waited for a tenth of a second."""
    with postgres_url() as made:
        parsed = make_url(made)
        options = f"{parsed.query['options']} -clock_timeout=100ms"
        yield parsed.update_query_dict({"options": options}).render_as_string(hide_password=False)


@pytest.fixture
def storage(url: str) -> Iterator[Storage]:
    with closing(open_storage(url, "threading", may_write=True)) as opened:
        yield opened


@pytest.fixture
def now_s() -> list[float]:
    return [0.0]


@pytest.fixture
def upkeep(url: str, storage: Storage, tmp_path: Path, now_s: list[float]) -> Upkeep:
    config = Config.from_environment({"MONREQ_DATABASE_URL": url}, data_dir=tmp_path)
    return Upkeep(config, storage, Holding(), Clocks(lambda: 0, lambda: now_s[0], lambda: 0.0), "0.1.0")


@contextmanager
def held_by_another(url: str) -> Iterator[None]:
    with create_engine(url, poolclass=NullPool).begin() as another:
        another.execute(text("SELECT id FROM shows FOR UPDATE"))
        yield


def test_held_show_is_told_until_something_can_be_stored_for_it_again(
    url: str, storage: Storage, upkeep: Upkeep
) -> None:
    writer = WatchedWriter(storage.writer, upkeep.health, upkeep.slow)
    shows = Shows(storage.log, writer, lambda: 0, lambda _: None)
    shows.open(SHOW, OpenShow("Friday"))
    (look,) = upkeep.waiting_looks

    with held_by_another(url):
        with pytest.raises(StorageFailed):
            shows.submit(SHOW, RenameShow("Saturday"))
        look()
        look()
        told = upkeep.health.notices()
    look()

    assert told == BUSY
    assert upkeep.health.notices() == ()
    assert shows.submit(SHOW, RenameShow("Saturday")).show.name == "Saturday"


def test_slow_server_is_told_as_the_database_and_no_disk(upkeep: Upkeep, now_s: list[float]) -> None:
    with upkeep.slow.timed():
        now_s[0] = 3.0
        upkeep.slow()

    assert upkeep.health.notices() == (Notice(Trouble.DATABASE_SLOW, ("3.0",)),)
