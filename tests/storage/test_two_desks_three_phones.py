"""Two desks that race, from pages that may be old, and three phones that send again, agree with a model in plain Python."""

import tempfile
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from monreq.domain import commands as c
from monreq.domain.events import ChangeAsked, RequestsAnswered
from monreq.domain.fold import fold
from monreq.domain.refusals import AlreadyAnswered, AlreadyUndone, Refusal, SameIdOtherBody
from monreq.domain.requests import Outcome
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind
from monreq.domain.show import Show
from monreq.services.ports import Submission
from monreq.services.shows import Receipt, Shows
from monreq.storage.open import open_storage
from tests.support.databases import BOTH, database_url
from tests.support.threads import all_at_once

pytestmark = pytest.mark.security

SHOW = "show1"
START = -300
PHONES = (("front", "ada"), ("front", "bo"), ("back", "cy"))  # the first two share a mix
SOURCES = ("kick", "voice")

Row = tuple[str, str]

phones = st.integers(0, len(PHONES) - 1)
desks = st.integers(0, 1)
sources = st.sampled_from(SOURCES)
amounts = st.sampled_from([-10, 10, 20])


@dataclass
class Asked:
    """A request as the model has it."""

    row: Row
    musician: str
    amount: int


@dataclass
class Model:
    """What waits, by id; what was answered, by decision; each level as a plain sum."""

    waiting: dict[str, Asked] = field(default_factory=dict)
    done: dict[str, tuple[Row, dict[str, Asked], int]] = field(default_factory=dict)
    undone: set[str] = field(default_factory=set)
    levels: dict[Row, int] = field(
        default_factory=lambda: {(mix, source): START for mix in ("front", "back") for source in SOURCES}
    )

    def rows(self) -> dict[Row, list[str]]:
        rows: dict[Row, list[str]] = {}
        for request, one in self.waiting.items():
            rows.setdefault(one.row, []).append(request)
        return rows

    def cancel_out(self, row: Row) -> None:
        """Let requests of one musician for one row leave that come to nothing."""
        for musician in {one.musician for one in self.waiting.values()}:
            own = [
                request for request, one in self.waiting.items() if (one.row, one.musician) == (row, musician)
            ]
            if sum(self.waiting[request].amount for request in own) == 0:
                for request in own:
                    del self.waiting[request]


class TwoDesksThreePhones(RuleBasedStateMachine):
    """Each desk remembers the page it last loaded; each phone what it last sent."""

    kind = "sqlite"

    def __init__(self) -> None:
        super().__init__()
        self._opened = ExitStack()
        folder = Path(self._opened.enter_context(tempfile.TemporaryDirectory()))
        url = self._opened.enter_context(database_url(self.kind, folder))
        count = 2 if self.kind == "postgresql" else 1  # a SQLite file has one worker
        self.workers = [self._worker(url) for _ in range(count)]
        self.model = Model()
        self.pages: list[dict[Row, list[str]]] = [{}, {}]
        self.sent: dict[int, tuple[c.AskForLevel, Submission]] = {}
        self.count = 0

    def _worker(self, url: str) -> Shows:
        storage = open_storage(url, "threading", may_write=True)
        close: Callable[[], None] = storage.close
        self._opened.callback(close)
        return Shows(storage.log, storage.writer, lambda: 0, lambda _: None)

    def teardown(self) -> None:
        self._opened.close()

    @initialize()
    def set_up(self) -> None:
        self.workers[0].open(SHOW, c.OpenShow("Evening"))
        for source in SOURCES:
            self._do(c.PutSource(Source(source, source, SourceKind.DIRECT)))
        for mix, musician in PHONES:
            self._do(c.PutMusician(Musician(musician, musician)))
            hearing = tuple(one for where, one in PHONES if where == mix)
            if musician == hearing[-1]:
                self._do(c.PutMix(Mix(mix, mix, Output.WEDGE, hearing)))
        for mix, source in self.model.levels:
            self._do(c.PutSend(mix, source, Setting(START)))

    @rule(phone=phones, source=sources, amount=amounts)
    def ask(self, phone: int, source: str, amount: int) -> None:
        mix, musician = PHONES[phone]
        self.count += 1
        command = c.AskForLevel(mix, musician, source, amount)
        self.sent[phone] = (command, Submission(mix, f"c{self.count}", repr(command)))

        receipt = self._submit(phone, *self.sent[phone])

        assert isinstance(receipt, Receipt)
        (asked,) = (one.event for one in receipt.recorded if isinstance(one.event, ChangeAsked))
        self.model.waiting[asked.request] = Asked((mix, source), musician, amount)
        self.model.cancel_out((mix, source))

    @precondition(lambda self: self.sent)
    @rule(data=st.data(), times=st.integers(1, 3))
    def send_again(self, data: st.DataObject, times: int) -> None:
        phone = data.draw(st.sampled_from(sorted(self.sent)))

        outcomes = all_at_once([partial(self._submit, phone, *self.sent[phone])] * times)

        assert all(isinstance(one, Receipt) and one.is_repeated for one in outcomes)

    @precondition(lambda self: self.sent)
    @rule(data=st.data())
    def say_something_else_under_an_old_id(self, data: st.DataObject) -> None:
        phone = data.draw(st.sampled_from(sorted(self.sent)))
        command, kept = self.sent[phone]

        outcome = self._submit(phone, command, Submission(kept.scope, kept.client_id, "other"))

        assert isinstance(outcome, SameIdOtherBody)

    @precondition(lambda self: self.model.waiting)
    @rule(data=st.data())
    def withdraw(self, data: st.DataObject) -> None:
        request = data.draw(st.sampled_from(sorted(self.model.waiting)))

        self._do(c.Withdraw(request))

        row = self.model.waiting.pop(request).row
        self.model.cancel_out(row)

    @rule(desk=desks)
    def load_the_page(self, desk: int) -> None:
        self.pages[desk] = self.model.rows()

    @precondition(lambda self: any(self.pages))
    @rule(data=st.data(), change=amounts)
    def answer_from_a_page_that_may_be_old(self, data: st.DataObject, change: int) -> None:
        desk = data.draw(st.sampled_from([desk for desk in (0, 1) if self.pages[desk]]))
        requests = self.pages[desk][data.draw(st.sampled_from(sorted(self.pages[desk])))]

        self._answered([self._submit(desk, self._answer(requests, change))], requests, change)

    @precondition(lambda self: self.model.waiting)
    @rule(data=st.data(), change=amounts)
    def answer_the_same_row_at_both_desks_at_once(self, data: st.DataObject, change: int) -> None:
        rows = self.model.rows()
        requests = rows[data.draw(st.sampled_from(sorted(rows)))]
        answer = self._answer(requests, change)

        outcomes = all_at_once([partial(self._submit, desk, answer) for desk in (0, 1)])

        assert sum(isinstance(one, Receipt) for one in outcomes) == 1
        self._answered(outcomes, requests, change)

    @precondition(lambda self: self.model.done)
    @rule(data=st.data())
    def undo_at_both_desks_at_once(self, data: st.DataObject) -> None:
        decision = data.draw(st.sampled_from(sorted(self.model.done)))
        row, requests, change = self.model.done[decision]

        outcomes = all_at_once([partial(self._submit, desk, c.Undo(decision)) for desk in (0, 1)])

        won = [one for one in outcomes if isinstance(one, Receipt)]
        assert all(isinstance(one, Receipt | AlreadyUndone) for one in outcomes)
        assert len(won) == (decision not in self.model.undone)
        if won:
            self.model.undone.add(decision)
            self.model.levels[row] -= change
            self.model.waiting |= requests
            self.model.cancel_out(row)

    @invariant()
    def every_worker_reads_what_the_model_says(self) -> None:
        for worker in self.workers:
            show = worker.state(SHOW)
            log = worker.since(SHOW, 0, show.revision)
            assert set(show.open_requests) == set(self.model.waiting)
            assert {
                (mix, source): position.setting.level_tenths
                for mix, levels in show.levels.items()
                for source, position in levels.sends.items()
            } == (self.model.levels if show.levels else {})
            assert [one.revision for one in log] == list(range(1, show.revision + 1))
            assert fold(Show(SHOW), log) == show

    def _answer(self, requests: list[str], change: int) -> c.Answer:
        return c.Answer(tuple(requests), Outcome.DONE, change)

    def _answered(self, outcomes: list[Receipt | Exception], requests: list[str], change: int) -> None:
        """Compare answers to one row with the model: one of them counts if all of the row still waits."""
        won = [one for one in outcomes if isinstance(one, Receipt)]
        assert all(isinstance(one, Receipt | AlreadyAnswered) for one in outcomes)
        assert bool(won) == all(request in self.model.waiting for request in requests)
        for receipt in won:
            (answered,) = (one.event for one in receipt.recorded if isinstance(one.event, RequestsAnswered))
            taken = {request: self.model.waiting.pop(request) for request in requests}
            row = taken[requests[0]].row
            self.model.levels[row] += change
            self.model.done[answered.decision] = (row, taken, change)
            self.model.cancel_out(row)

    def _do(self, command: c.Command) -> None:
        assert isinstance(self._submit(0, command), Receipt)

    def _submit(self, who: int, command: c.Command, kept: Submission | None = None) -> Receipt | Exception:
        try:
            return self.workers[who % len(self.workers)].submit(SHOW, command, kept)
        except Refusal as refusal:
            return refusal


@pytest.mark.parametrize("kind", BOTH)
def test_two_desks_and_three_phones_agree_with_the_model_whatever_they_do(kind: str) -> None:
    run_state_machine_as_test(
        type("Evening", (TwoDesksThreePhones,), {"kind": kind}),
        settings=settings(
            max_examples=15,
            stateful_step_count=30,
            derandomize=True,
            database=None,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
