"""Two desks and three phones, each step through another worker's write path, agree with the model of adding up.

The steps and the model are those of the domain's own test; here every step is stored, and read again by whoever is next.
"""

import tempfile
from collections.abc import Callable
from contextlib import ExitStack
from itertools import cycle
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from monreq.domain import commands as c
from monreq.domain.events import Event
from monreq.domain.fold import fold
from monreq.domain.show import Show
from monreq.services.shows import Shows
from monreq.storage.open import open_storage
from tests.domain.test_against_model import Evening
from tests.support.databases import BOTH, database_url
from tests.support.kept_twice import model_of
from tests.support.stage import START_MS, Stage, small_stage

pytestmark = pytest.mark.security


class StoredStage(Stage):
    """A stage whose steps are submitted to workers in turn; what it shows is what the other worker reads."""

    def __init__(self, *workers: Shows) -> None:
        self.workers = workers
        self._turns = cycle(workers)
        super().__init__()

    def do(self, command: c.Command) -> tuple[Event, ...]:
        worker, reader = next(self._turns), self.workers[-1]
        if isinstance(command, c.OpenShow):
            receipt = worker.open(self.show.id, command)
        else:
            receipt = worker.submit(self.show.id, command)
        self.show = reader.state(self.show.id)
        assert self.show == receipt.show
        self.log.extend(receipt.recorded)
        return tuple(one.event for one in receipt.recorded)


@pytest.mark.parametrize("kind", BOTH)
def test_every_stored_evening_adds_up_and_is_read_again_as_it_was(kind: str) -> None:
    class StoredEvening(Evening):
        def __init__(self) -> None:
            super().__init__()
            self._opened = ExitStack()
            folder = Path(self._opened.enter_context(tempfile.TemporaryDirectory()))
            url = self._opened.enter_context(database_url(kind, folder))
            count = 2 if kind == "postgresql" else 1  # a SQLite file has one worker
            self._workers = [self._worker(url) for _ in range(count)]
            self.stage = small_stage(StoredStage(*self._workers))
            self.model = model_of(self.stage)

        def _worker(self, url: str) -> Shows:
            storage = open_storage(url, "threading", may_write=True)
            close: Callable[[], None] = storage.close
            self._opened.callback(close)
            return Shows(storage.log, storage.writer, lambda: START_MS, lambda _: None)

        def teardown(self) -> None:
            for worker in self._workers:
                stored = worker.since(self.stage.show.id, 0, self.stage.show.revision)
                assert fold(Show(self.stage.show.id), stored) == self.stage.show
                assert [one.revision for one in stored] == list(range(1, self.stage.show.revision + 1))
            self._opened.close()
            super().teardown()

    run_state_machine_as_test(
        StoredEvening,
        settings=settings(
            max_examples=12,
            stateful_step_count=30,
            derandomize=True,
            database=None,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
