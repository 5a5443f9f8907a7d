"""When copies are made, and what becomes of one that fails."""

from monreq.domain.events import Recorded, ShowRenamed, SoundcheckMarked
from monreq.domain.show import Show
from monreq.services.health import Health, Notice, Trouble
from monreq.services.keeping import EVERY_S, CopyFailed, CopyKeeper
from monreq.services.ports import Change


class House:
    """A keeper with a clock, a database that changes, and a disk that may fail."""

    def __init__(self) -> None:
        self.now_s, self.stored, self.made, self.fault = 0.0, 0, 0, ""
        self.health = Health()
        self.keeper = CopyKeeper(self.health, self._make, lambda: self.stored, lambda: self.now_s)

    def pass_time(self, seconds: float, *, stores: bool = False) -> int:
        """Return how many copies were made meanwhile, looking every two seconds."""
        before = self.made
        self.stored += stores
        for _ in range(int(seconds / 2)):
            self.now_s += 2
            self.keeper()
        return self.made - before

    def _make(self) -> None:
        if self.fault:
            raise CopyFailed(self.fault)
        self.made += 1


def change(event: SoundcheckMarked | ShowRenamed) -> Change:
    show = Show("show1")
    return Change(show, show, (Recorded(1, 0, "desk", event),))


def test_copy_is_made_some_minutes_after_something_was_stored_and_then_no_more() -> None:
    house = House()

    assert house.pass_time(EVERY_S - 2, stores=True) == 0
    assert house.pass_time(4) == 1
    assert house.pass_time(3 * EVERY_S) == 0
    assert house.pass_time(4, stores=True) == 1


def test_copies_of_steady_work_are_as_far_apart_as_said() -> None:
    house = House()

    made = sum(house.pass_time(2, stores=True) for _ in range(int(10 * EVERY_S / 2)))

    assert made in (9, 10)


def test_soundcheck_mark_is_worth_a_copy_at_once() -> None:
    house = House()

    house.keeper.note(change(ShowRenamed("Saturday")))
    after_other = house.pass_time(2)
    house.keeper.note(change(SoundcheckMarked()))

    assert (after_other, house.pass_time(2)) == (0, 1)


def test_copy_that_fails_is_told_and_tried_again() -> None:
    house = House()
    house.fault = "The disk is full."
    house.keeper.note(change(SoundcheckMarked()))
    house.pass_time(2)
    told = house.health.notices()

    house.fault = ""

    assert told == (Notice(Trouble.COPIES, ("The disk is full.",)),)
    assert house.pass_time(60) == 1
    assert house.health.notices() == ()
