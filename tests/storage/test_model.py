"""Any order of submissions, repetitions, refusals and restarts agrees with a model in plain Python."""

import tempfile
from functools import partial
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from monreq.domain import commands as c
from monreq.domain.events import ShowRenamed
from monreq.domain.fold import fold
from monreq.domain.refusals import Refusal, SameIdOtherBody, UnknownDecision
from monreq.domain.show import Show
from monreq.services.ports import Change, Submission
from monreq.services.shows import Receipt, Shows
from monreq.storage.open import Storage, open_storage
from tests.support.databases import sqlite_url
from tests.support.threads import all_at_once

SHOW = "show1"

names = st.sampled_from(["Noon", "Evening", "Late"])
client_ids = st.sampled_from([f"c{number}" for number in range(6)])


class ShowsAgainstModel(RuleBasedStateMachine):
    """The model is the list of names that were taken, and what each client id came to."""

    def __init__(self) -> None:
        super().__init__()
        self._folder = tempfile.TemporaryDirectory()
        self._told: list[Change] = []
        self._taken: list[str] = []
        self._by_client: dict[str, tuple[str, tuple[int, ...]]] = {}
        self._storage, self._shows = self._start()

    def _start(self) -> tuple[Storage, Shows]:
        storage = open_storage(sqlite_url(Path(self._folder.name)), "threading", may_write=True)
        return storage, Shows(storage.log, storage.writer, lambda: 0, self._told.append)

    def teardown(self) -> None:
        self._storage.close()
        self._folder.cleanup()

    @initialize()
    def open(self) -> None:
        self._shows.open(SHOW, c.OpenShow("Start"))
        self._taken.append("Start")

    @rule(name=names, client_id=client_ids)
    def submit(self, name: str, client_id: str) -> None:
        outcome = _outcome(self._shows, name, client_id)

        self._expect(outcome, name, client_id)

    @rule(name=names, client_id=client_ids, times=st.integers(2, 5))
    def submit_the_same_at_once(self, name: str, client_id: str, times: int) -> None:
        outcomes = all_at_once([partial(_outcome, self._shows, name, client_id)] * times)

        for outcome in sorted(outcomes, key=_is_repeated):
            self._expect(outcome, name, client_id)

    @rule(name=names, count=st.integers(2, 5))
    def submit_different_ones_at_once(self, name: str, count: int) -> None:
        new = [f"{name} {len(self._taken)}-{number}" for number in range(count)]

        receipts = all_at_once([partial(self._shows.submit, SHOW, c.RenameShow(one)) for one in new])

        by_revision = {receipt.revision: receipt for receipt in receipts if isinstance(receipt, Receipt)}
        assert sorted(by_revision) == list(range(len(self._taken) + 1, len(self._taken) + count + 1))
        self._taken += [by_revision[revision].show.name for revision in sorted(by_revision)]
        assert sorted(self._taken[-count:]) == sorted(new)

    @rule(client_id=client_ids)
    def be_refused(self, client_id: str) -> None:
        outcome = _raised(self._shows, c.Undo("d1"), Submission("desk", f"undo-{client_id}", "d1"))

        assert isinstance(outcome, UnknownDecision)

    @rule()
    def restart(self) -> None:
        self._storage.close()
        self._storage, self._shows = self._start()

    @invariant()
    def log_and_state_agree_with_the_model(self) -> None:
        log = self._storage.log.read_after(SHOW, 0)
        state = self._shows.state(SHOW)
        assert [one.revision for one in log] == list(range(1, len(self._taken) + 1))
        assert [one.event.name for one in log[1:] if isinstance(one.event, ShowRenamed)] == self._taken[1:]
        assert (state.name, state) == (self._taken[-1], fold(Show(SHOW), log))

    @invariant()
    def all_was_told_once_and_in_order(self) -> None:
        told = [one.revision for change in self._told for one in change.recorded]
        assert told == list(range(1, len(self._taken) + 1))

    def _expect(self, outcome: Receipt | Exception, name: str, client_id: str) -> None:
        if client_id not in self._by_client:
            new = () if self._taken[-1] == name else (len(self._taken) + 1,)
            self._taken += [name] * len(new)
            self._by_client[client_id] = (name, new)
            assert isinstance(outcome, Receipt)
            assert not outcome.is_repeated
        first_name, revisions = self._by_client[client_id]
        if first_name != name:
            assert isinstance(outcome, SameIdOtherBody)
            return
        assert isinstance(outcome, Receipt)
        assert tuple(one.revision for one in outcome.recorded) == revisions


def _outcome(shows: Shows, name: str, client_id: str) -> Receipt | Exception:
    return _raised(shows, c.RenameShow(name), Submission("desk", client_id, name))


def _raised(shows: Shows, command: c.Command, submission: Submission) -> Receipt | Exception:
    try:
        return shows.submit(SHOW, command, submission)
    except Refusal as refusal:
        return refusal


def _is_repeated(outcome: Receipt | Exception) -> bool:
    return isinstance(outcome, Receipt) and outcome.is_repeated


TestShowsAgainstModel = ShowsAgainstModel.TestCase
TestShowsAgainstModel.settings = settings(max_examples=20, stateful_step_count=15, deadline=None)
