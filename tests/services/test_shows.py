"""The write path: batches, repetitions, refusals, failures, and who is told when."""

from functools import partial
from itertools import count

import pytest

from monreq.domain import commands as c
from monreq.domain.events import DESK, ChangeAsked, Recorded, RequestsAnswered, ShowOpened
from monreq.domain.fold import fold
from monreq.domain.refusals import (
    AlreadyAnswered,
    IdTaken,
    NameRequired,
    SameIdOtherBody,
    SourceNotInMix,
    UnknownRevision,
    UnknownShow,
)
from monreq.domain.requests import Outcome
from monreq.domain.setup import Mix, Musician, Output, Source, SourceKind
from monreq.domain.show import Show
from monreq.services.ports import Change, StorageFailed, Submission
from monreq.services.shows import Receipt, Shows
from tests.support.memory_log import InlineWriter, MemoryLog
from tests.support.threads import all_at_once

SHOW = "show1"


class House:
    """Shows on a log in memory, with what was told of."""

    def __init__(self) -> None:
        self.log = MemoryLog()
        self.told: list[Change] = []
        self.shows = self.another()

    def another(self) -> Shows:
        """Return what a second process would have: other shows in memory, the same log."""
        times = count(1_000)
        return Shows(self.log, InlineWriter(), lambda: next(times), self.told.append)

    @property
    def revisions(self) -> list[int]:
        return [one.revision for one in self.log.read_after(SHOW, 0)]


@pytest.fixture
def house() -> House:
    house = House()
    house.shows.open(SHOW, c.OpenShow("Evening"))
    house.shows.submit(SHOW, c.PutMusician(Musician("singer", "Singer")))
    house.shows.submit(SHOW, c.PutMix(Mix("front", "Front", Output.WEDGE, ("singer",))))
    house.shows.submit(SHOW, c.PutSource(Source("voice", "Voice", SourceKind.OPEN_MIC)))
    house.told.clear()
    return house


def ask(change: int = 30, client_id: str = "") -> c.AskForLevel:
    return c.AskForLevel("front", None, "voice", change, client_id=client_id)


def submission(client_id: str = "once", fingerprint: str = "30") -> Submission:
    return Submission("front", client_id, fingerprint)


def test_open_makes_a_show_with_its_first_event() -> None:
    house = House()

    receipt = house.shows.open(SHOW, c.OpenShow("Evening", is_demo=True))

    assert [one.event for one in receipt.recorded] == [ShowOpened("Evening", is_demo=True)]
    assert [(one.id, one.name, one.is_demo) for one in house.shows.entries()] == [(SHOW, "Evening", True)]


def test_open_an_id_a_second_time_is_refused_and_changes_nothing(house: House) -> None:
    before = house.shows.state(SHOW)

    with pytest.raises(IdTaken):
        house.shows.open(SHOW, c.OpenShow("Another"))

    assert house.shows.state(SHOW) == before


def test_open_refused_leaves_no_show_to_be_seen() -> None:
    house = House()

    with pytest.raises(NameRequired):
        house.shows.open(SHOW, c.OpenShow(" "))

    assert house.shows.entries() == []
    with pytest.raises(UnknownShow):
        house.shows.state(SHOW)


def test_submit_to_an_unknown_show_is_refused(house: House) -> None:
    with pytest.raises(UnknownShow):
        house.shows.submit("nowhere", ask())


def test_submit_records_who_asked_and_who_answered(house: House) -> None:
    asked = house.shows.submit(SHOW, ask())
    request = f"r{asked.revision}"
    answered = house.shows.submit(SHOW, c.Answer((request,), Outcome.DONE, done=10))
    house.shows.submit(SHOW, ask())

    withdrawn = house.shows.submit(SHOW, c.Withdraw(f"r{answered.revision + 1}"))

    by = [receipt.recorded[0].by for receipt in (asked, answered, withdrawn)]
    assert by == ["singer", DESK, "singer"]


def test_submit_of_many_threads_answers_each_and_leaves_no_gap(house: House) -> None:
    before = house.shows.state(SHOW).revision

    receipts = all_at_once([lambda: house.shows.submit(SHOW, ask(10))] * 32)

    taken = sorted(receipt.revision for receipt in receipts if isinstance(receipt, Receipt))
    assert taken == list(range(before + 1, before + 33))
    assert house.revisions == list(range(1, before + 33))


def test_submit_refused_stores_and_tells_nothing(house: House) -> None:
    before = house.revisions

    with pytest.raises(SourceNotInMix):
        house.shows.submit(SHOW, c.AskForLevel("front", None, "drums", 30), submission())

    assert house.revisions == before
    assert house.log.find(SHOW, "front", "once") is None
    assert house.told == []


def test_submit_refused_does_not_hurt_those_it_shares_a_batch_with(house: House) -> None:
    def refused() -> Receipt:
        return house.shows.submit(SHOW, c.AskForLevel("front", None, "drums", 30))

    def taken() -> Receipt:
        return house.shows.submit(SHOW, ask(10))

    outcomes = all_at_once([refused, taken] * 8)

    assert [type(outcome) for outcome in outcomes] == [SourceNotInMix, Receipt] * 8
    assert len(house.shows.state(SHOW).open_requests) == 8


def test_submit_twice_is_answered_with_the_first_events(house: House) -> None:
    first = house.shows.submit(SHOW, ask(), submission())
    house.shows.submit(SHOW, ask(10))

    again = house.shows.submit(SHOW, ask(), submission())

    assert (again.recorded, again.revision, again.is_repeated) == (first.recorded, first.revision, True)
    assert len(house.shows.state(SHOW).open_requests) == 2


def test_submit_twice_at_once_is_done_once(house: House) -> None:
    receipts = all_at_once([lambda: house.shows.submit(SHOW, ask(), submission())] * 8)

    recorded = {receipt.recorded for receipt in receipts if isinstance(receipt, Receipt)}
    assert len(recorded) == 1
    assert sum(isinstance(one.event, ChangeAsked) for one in house.log.read_after(SHOW, 0)) == 1
    assert len(receipts) == 8
    assert len(house.told) == 1


def test_submit_twice_after_a_restart_is_still_done_once(house: House) -> None:
    first = house.shows.submit(SHOW, ask(), submission())

    again = house.another().submit(SHOW, ask(), submission())

    assert (again.recorded, again.is_repeated) == (first.recorded, True)


def test_submit_with_an_id_of_another_body_is_refused(house: House) -> None:
    house.shows.submit(SHOW, ask(30), submission(fingerprint="30"))
    before = house.revisions

    with pytest.raises(SameIdOtherBody):
        house.shows.submit(SHOW, ask(60), submission(fingerprint="60"))

    assert house.revisions == before


def test_submit_with_an_id_of_another_mix_is_another_submission(house: House) -> None:
    house.shows.submit(SHOW, ask(), submission())

    other = house.shows.submit(SHOW, ask(), Submission("desk", "once", "30"))

    assert not other.is_repeated
    assert len(house.shows.state(SHOW).open_requests) == 2


def test_submit_that_changed_nothing_is_known_again(house: House) -> None:
    same = c.PutMusician(Musician("singer", "Singer"))
    house.shows.submit(SHOW, same, submission())

    again = house.shows.submit(SHOW, same, submission())

    assert (again.recorded, again.is_repeated) == ((), True)


def test_submit_after_a_refusal_can_use_the_id_again(house: House) -> None:
    with pytest.raises(SourceNotInMix):
        house.shows.submit(SHOW, c.AskForLevel("front", None, "drums", 30), submission())

    receipt = house.shows.submit(SHOW, ask(), submission())

    assert (len(receipt.recorded), receipt.is_repeated) == (1, False)


def test_submit_with_a_failing_commit_fails_all_that_shared_it(house: House) -> None:
    before = house.shows.state(SHOW)
    house.log.at_commit = fail

    outcomes = all_at_once([lambda: house.shows.submit(SHOW, ask(), submission())] * 8)

    assert [type(outcome) for outcome in outcomes] == [StorageFailed] * 8
    assert house.shows.state(SHOW) == before
    assert house.told == []


def test_submit_after_a_failed_commit_is_taken(house: House) -> None:
    house.log.at_commit = fail
    with pytest.raises(StorageFailed):
        house.shows.submit(SHOW, ask(), submission())
    house.log.at_commit = lambda: None

    receipt = house.shows.submit(SHOW, ask(), submission())

    assert (receipt.is_repeated, receipt.revision) == (False, house.revisions[-1])


def test_submit_by_two_desks_to_one_request_lets_one_win(house: House) -> None:
    request = f"r{house.shows.submit(SHOW, ask()).revision}"
    answer = c.Answer((request,), Outcome.DONE, done=10)
    desks = [house.shows, house.another()]

    outcomes = all_at_once([partial(desk.submit, SHOW, answer) for desk in desks])

    assert sorted(type(outcome).__name__ for outcome in outcomes) == [AlreadyAnswered.__name__, "Receipt"]
    answered = [one for one in house.log.read_after(SHOW, 0) if isinstance(one.event, RequestsAnswered)]
    assert len(answered) == 1


def test_tell_comes_after_the_commit_with_both_states(house: House) -> None:
    before = house.shows.state(SHOW)
    seen: list[tuple[Change, list[Recorded]]] = []

    def tell(change: Change) -> None:
        seen.append((change, house.log.read_after(SHOW, before.revision)))

    shows = Shows(house.log, InlineWriter(), lambda: 5, tell)
    receipt = shows.submit(SHOW, ask())

    assert seen == [(Change(before, receipt.show, receipt.recorded), list(receipt.recorded))]


def test_tell_that_breaks_does_not_undo_what_was_stored(
    house: House, caplog: pytest.LogCaptureFixture
) -> None:
    def tell(_change: Change) -> None:
        raise ConnectionError

    shows = Shows(house.log, InlineWriter(), lambda: 5, tell)
    receipt = shows.submit(SHOW, ask(), submission())

    assert receipt.recorded == tuple(house.log.read_after(SHOW, receipt.revision - 1))
    assert caplog.messages == [f"revision {receipt.revision} was stored, but telling of it failed"]


def test_state_shows_what_another_process_stored(house: House) -> None:
    other = house.another()
    known = other.state(SHOW).revision

    receipt = house.shows.submit(SHOW, ask())

    assert (known, other.state(SHOW)) == (receipt.revision - 1, receipt.show)


def test_state_never_goes_backwards(house: House) -> None:
    seen: list[list[int]] = []

    def look() -> None:
        seen.append([house.shows.state(SHOW).revision for _ in range(200)])

    def write() -> None:
        for _ in range(20):
            house.shows.submit(SHOW, c.CorrectLevel("front", "voice", -100))

    assert all_at_once([look, look, write, write]) == [None] * 4

    assert [series == sorted(series) for series in seen] == [True, True]
    assert house.shows.state(SHOW).revision == house.revisions[-1]


def test_state_read_slowly_does_not_put_an_older_one_back(house: House) -> None:
    stored: list[Receipt] = []
    house.log.after_read = lambda: stored.append(house.shows.submit(SHOW, ask()))

    slow = house.shows.state(SHOW)

    assert slow == stored[0].show
    assert house.shows.state(SHOW) == stored[0].show


def test_state_is_the_fold_of_the_log(house: House) -> None:
    house.shows.submit(SHOW, ask())

    assert house.shows.state(SHOW) == fold(Show(SHOW), house.log.read_after(SHOW, 0))


def test_at_returns_the_show_of_that_moment(house: House) -> None:
    now = house.shows.state(SHOW)
    house.shows.submit(SHOW, ask())

    assert house.shows.at(SHOW, now.revision) == now


@pytest.mark.parametrize("revision", [-1, 0, 999])
def test_at_a_revision_that_never_was_is_refused(house: House, revision: int) -> None:
    with pytest.raises(UnknownRevision):
        house.shows.at(SHOW, revision)


def test_since_returns_what_came_between_two_revisions(house: House) -> None:
    house.shows.submit(SHOW, ask(30))
    house.shows.submit(SHOW, ask(20))
    last = house.revisions[-1]

    assert [one.revision for one in house.shows.since(SHOW, last - 2, last - 1)] == [last - 1]
    assert house.shows.since(SHOW, last, last) == []


def fail() -> None:
    raise StorageFailed
