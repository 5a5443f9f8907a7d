"""Submissions sent again: what is known by its id, and what is new."""

import time
from functools import partial

import pytest

from monreq.domain import commands as c
from monreq.domain.events import ChangeAsked
from monreq.domain.refusals import SameIdOtherBody, SourceNotInMix
from monreq.domain.setup import Musician
from monreq.services.ports import Submission
from monreq.services.shows import Receipt
from tests.support.house import SHOW, House, ask, submission
from tests.support.threads import all_at_once


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


def test_submit_of_many_mixes_at_once_with_one_id_does_each(house: House) -> None:
    scopes = [f"mix{number}" for number in range(16)]
    house.log.at_commit = partial(time.sleep, 0.05)  # so long the others gather for the next batch
    jobs = [partial(house.shows.submit, SHOW, ask(), Submission(scope, "once", "30")) for scope in scopes]

    receipts = all_at_once(jobs)

    assert [one.is_repeated for one in receipts if isinstance(one, Receipt)] == [False] * 16
    assert len(house.shows.state(SHOW).open_requests) == 16
