"""Shows opened, told of, and read as they stand or stood."""

import pytest

from monreq.domain import commands as c
from monreq.domain.events import Recorded, ShowOpened
from monreq.domain.fold import fold
from monreq.domain.refusals import IdTaken, NameRequired, UnknownRevision, UnknownShow
from monreq.domain.show import Show
from monreq.services.ports import Change, StorageFailed
from monreq.services.shows import Receipt, Shows
from tests.support.house import SHOW, House, ask, submission
from tests.support.memory_log import InlineWriter
from tests.support.threads import all_at_once


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


def test_state_of_a_show_that_cannot_be_read_and_was_never_read_is_no_empty_show(house: House) -> None:
    house.log.after_read = fail

    with pytest.raises(StorageFailed):
        house.another().state(SHOW)


def test_state_stays_as_it_was_known_while_the_log_cannot_be_read(house: House) -> None:
    known = house.shows.state(SHOW)
    house.log.after_read = fail

    assert house.shows.state(SHOW) == known


def fail() -> None:
    raise StorageFailed


def test_open_shows_are_known_before_anybody_asks_for_them_once_they_were_learned(house: House) -> None:
    house.shows.open("show2", c.OpenShow("Closed"))
    house.shows.submit("show2", c.CloseShow())
    started = Shows(house.log, InlineWriter(), lambda: 0, lambda _: None)
    pauses: list[int] = []

    started.learn_open_ones(lambda: pauses.append(1))

    assert started.seen(SHOW) == house.shows.state(SHOW)
    assert (started.seen("show2").revision, len(pauses)) == (0, 1)
