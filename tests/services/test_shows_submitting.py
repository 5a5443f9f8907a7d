"""The write path: batches, refusals and failures."""

from functools import partial

import pytest

from monreq.domain import commands as c
from monreq.domain.events import DESK, RequestsAnswered
from monreq.domain.refusals import AlreadyAnswered, SourceNotInMix, UnknownShow
from monreq.domain.requests import Outcome
from monreq.services.ports import StorageFailed
from monreq.services.shows import Receipt
from tests.support.house import SHOW, House, ask, submission
from tests.support.threads import all_at_once


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


def fail() -> None:
    raise StorageFailed
