"""What a log of shows promises, on every kind of database."""

import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import pytest

from monreq.domain import commands as c
from monreq.domain.events import (
    DESK,
    ChangeAsked,
    Event,
    Recorded,
    ShowClosedForGood,
    ShowOpened,
    ShowRenamed,
    SoundcheckMarked,
)
from monreq.domain.fold import fold
from monreq.domain.refusals import UnknownShow
from monreq.domain.requests import Kind
from monreq.domain.show import Show
from monreq.domain.subjects import EVERY_MIX, mix_subject, request_subject
from monreq.services.ports import Kept, ShowEntry, StorageFailed, Submission
from monreq.services.shows import Receipt, Shows
from monreq.storage.log import SqlShowLog
from monreq.storage.open import Storage
from tests.support.submitting import open_show, submit
from tests.support.threads import PATIENCE_S, all_at_once

ROOT = Path(__file__).parents[2]
SHOW = "show1"
KEPT = Kept(Submission("front", "once", "abc"), 1, 1)


@pytest.fixture
def log(storage: Storage) -> SqlShowLog:
    storage.writer.run(lambda: storage.log.create(SHOW, 1_000))
    return storage.log


def opened(name: str = "Evening") -> list[Recorded]:
    return following(0, ShowOpened(name))


def following(revision: int, *events: Event) -> list[Recorded]:
    return [Recorded(place, 2_000, DESK, event) for place, event in enumerate(events, start=revision + 1)]


def asked(request: str, mix: str) -> ChangeAsked:
    return ChangeAsked(request, mix, "voice", Kind.LEVEL, "singer", 30)


def append(
    storage: Storage, recorded: Sequence[Recorded], kept: Sequence[Kept] = (), show_id: str = SHOW
) -> None:
    state = fold(Show(show_id), [*storage.log.read_after(show_id, 0), *recorded])

    def job() -> None:
        with storage.log.hold(show_id) as held:
            held.append(recorded, kept, state)

    storage.writer.run(job)


def ending(error: Exception, storage: Storage, recorded: Sequence[Recorded]) -> Callable[[], None]:
    """Return a job that appends and then breaks."""

    def job() -> None:
        with storage.log.hold(SHOW) as held:
            held.append(recorded, [KEPT], fold(Show(SHOW), recorded))
            raise error

    return job


def shows_of(storage: Storage) -> Shows:
    return Shows(storage.log, storage.writer, lambda: 5, lambda _: None)


def test_events_come_back_as_they_were_appended_and_in_order(storage: Storage, log: SqlShowLog) -> None:
    first = opened("Späte Show")
    later = following(1, ShowRenamed("Evening"), asked("r3", "front"))

    append(storage, first)
    append(storage, later)

    assert log.read_after(SHOW, 0) == [*first, *later]
    assert log.read_after(SHOW, 2) == later[1:]
    assert log.read_after(SHOW, 0, up_to=2) == [*first, later[0]]
    assert log.read_after(SHOW, 3) == []
    assert log.read_after("another", 0) == []


def test_events_with_a_gap_are_refused(storage: Storage, log: SqlShowLog) -> None:
    append(storage, opened())
    state = log.read_after(SHOW, 0)

    with pytest.raises(ValueError, match="revision 2 is next, not 3"):
        append(storage, following(2, ShowRenamed("Late")))

    assert log.read_after(SHOW, 0) == state


def test_hold_an_unknown_show_is_refused(storage: Storage) -> None:
    with pytest.raises(UnknownShow):
        append(storage, opened(), show_id="nowhere")


def test_hold_that_breaks_leaves_nothing(storage: Storage, log: SqlShowLog) -> None:
    with pytest.raises(ZeroDivisionError):
        storage.writer.run(ending(ZeroDivisionError(), storage, opened()))

    assert log.read_after(SHOW, 0) == []
    assert log.shows() == []
    assert log.about(SHOW, [EVERY_MIX]) == []
    storage.writer.run(lambda: _assert_not_kept(storage))


def test_hold_whose_last_row_is_refused_leaves_nothing(storage: Storage, log: SqlShowLog) -> None:
    with pytest.raises(StorageFailed):
        append(storage, opened(), [KEPT, KEPT])

    assert log.read_after(SHOW, 0) == []
    assert log.shows() == []
    storage.writer.run(lambda: _assert_not_kept(storage))


def test_hold_after_a_broken_one_is_free_again(storage: Storage, log: SqlShowLog) -> None:
    with pytest.raises(ZeroDivisionError):
        storage.writer.run(ending(ZeroDivisionError(), storage, opened()))

    append(storage, opened())

    assert log.read_after(SHOW, 0) == opened()


def test_hold_keeps_another_process_out_until_its_commit(
    storage: Storage, other: Storage, log: SqlShowLog
) -> None:
    is_held, other_is_in = threading.Event(), threading.Event()
    seen: list[list[Recorded]] = []

    def first() -> bool:
        with log.hold(SHOW) as held:
            is_held.set()
            came_in = other_is_in.wait(0.3)
            held.append(opened(), (), fold(Show(SHOW), opened()))
        return came_in

    def second() -> bool:
        is_held.wait(PATIENCE_S)
        with other.log.hold(SHOW) as held:
            other_is_in.set()
            seen.append(held.read_after(0))
        return True

    came_in_early, _ = all_at_once([lambda: storage.writer.run(first), lambda: other.writer.run(second)])

    assert came_in_early is False
    assert seen == [opened()]


def test_hold_lets_others_read_what_is_committed(storage: Storage, log: SqlShowLog) -> None:
    append(storage, opened())
    seen: list[list[Recorded] | Exception] = []

    def job() -> None:
        with log.hold(SHOW) as held:
            recorded = following(1, ShowRenamed("Late"))
            held.append(recorded, (), fold(Show(SHOW), [*opened(), *recorded]))
            seen.extend(all_at_once([lambda: log.read_after(SHOW, 0)]))

    storage.writer.run(job)

    assert seen == [opened()]


def test_held_show_reads_its_own_stretch(storage: Storage, log: SqlShowLog) -> None:
    recorded = following(0, ShowOpened("1"), ShowRenamed("2"), ShowRenamed("3"), ShowRenamed("4"))
    append(storage, recorded)

    def job() -> tuple[list[Recorded], list[Recorded], list[Recorded]]:
        with log.hold(SHOW) as held:
            return held.read(2, 3), held.read_after(3), held.read_after(4)

    assert storage.writer.run(job) == (recorded[1:3], recorded[3:], [])


def test_submission_is_found_by_scope_and_id(storage: Storage, log: SqlShowLog) -> None:
    append(storage, opened(), [KEPT])

    def job() -> list[Kept | None]:
        with log.hold(SHOW) as held:
            return [held.find("front", "once"), held.find("ears", "once"), held.find("front", "twice")]

    assert storage.writer.run(job) == [KEPT, None, None]


def test_submission_that_came_to_nothing_is_found(storage: Storage, log: SqlShowLog) -> None:
    kept = Kept(Submission("front", "once", "abc"), 2, 1)
    append(storage, opened())
    append(storage, [], [kept])

    def job() -> Kept | None:
        with log.hold(SHOW) as held:
            return held.find("front", "once")

    assert storage.writer.run(job) == kept
    assert log.read_after(SHOW, 0) == opened()


def test_about_finds_events_by_mix_and_request(storage: Storage, log: SqlShowLog) -> None:
    recorded = following(
        0, ShowOpened("Evening"), asked("r2", "front"), asked("r3", "ears"), SoundcheckMarked()
    )
    append(storage, recorded)

    assert log.about(SHOW, [mix_subject("front"), EVERY_MIX]) == [recorded[1], recorded[3]]
    assert log.about(SHOW, [mix_subject("front"), request_subject("r2")]) == [recorded[1]]
    assert log.about(SHOW, [mix_subject("front"), EVERY_MIX], after=2) == [recorded[3]]
    assert log.about(SHOW, []) == []
    assert log.about("another", [mix_subject("front")]) == []


def test_shows_lists_those_that_have_begun_the_newest_last(storage: Storage, log: SqlShowLog) -> None:
    storage.writer.run(lambda: log.create("early", 500))
    storage.writer.run(lambda: log.create("unused", 700))
    append(storage, [*opened("Evening"), *following(1, ShowClosedForGood())])
    append(storage, following(0, ShowOpened("Noon", is_demo=True)), show_id="early")

    assert log.shows() == [
        ShowEntry("early", "Noon", is_open=True, is_demo=True, opened_at_ms=500),
        ShowEntry(SHOW, "Evening", is_open=False, is_demo=False, opened_at_ms=1_000),
    ]


def test_create_a_show_that_is_there_leaves_it(storage: Storage, log: SqlShowLog) -> None:
    append(storage, opened())

    storage.writer.run(lambda: log.create(SHOW, 9_000))

    assert [entry.opened_at_ms for entry in log.shows()] == [1_000]
    assert log.read_after(SHOW, 0) == opened()


def test_threads_of_two_processes_lose_and_double_nothing(storage: Storage, other: Storage) -> None:
    desks = [shows_of(storage), shows_of(other)]
    open_show(desks[0], SHOW)

    receipts = all_at_once([partial(submit, desks[n % 2], SHOW, f"thread-{n}") for n in range(24)])

    revisions = sorted(receipt.revision for receipt in receipts if isinstance(receipt, Receipt))
    assert revisions == list(range(2, 26))
    assert [one.revision for one in storage.log.read_after(SHOW, 0)] == list(range(1, 26))
    assert desks[0].state(SHOW) == desks[1].state(SHOW)


def test_two_processes_lose_and_double_nothing(url: str, storage: Storage) -> None:
    shows = shows_of(storage)
    open_show(shows, SHOW)
    command = [sys.executable, "-m", "tests.support.submitting", url, SHOW]

    processes = [
        subprocess.Popen([*command, name, "40"], cwd=ROOT, stdout=subprocess.PIPE, text=True)
        for name in ("left", "right")
    ]
    told = [line.split() for one in processes for line in one.communicate(timeout=PATIENCE_S)[0].splitlines()]

    assert [one.returncode for one in processes] == [0, 0]
    assert sorted(int(revision) for _, revision in told) == list(range(2, 82))
    assert [one.revision for one in storage.log.read_after(SHOW, 0)] == list(range(1, 82))
    again = [submit(shows, SHOW, client_id) for client_id, _ in told]
    assert [receipt.revision for receipt in again] == [int(revision) for _, revision in told]


def test_submitting_a_repetition_after_a_restart_is_answered_from_the_log(
    storage: Storage, other: Storage
) -> None:
    open_show(shows_of(storage), SHOW)
    first = shows_of(storage).submit(SHOW, c.RenameShow("Late"), KEPT.submission)

    again = shows_of(other).submit(SHOW, c.RenameShow("Late"), KEPT.submission)

    assert (again.is_repeated, again.recorded) == (True, first.recorded)


def _assert_not_kept(storage: Storage) -> None:
    with storage.log.hold(SHOW) as held:
        assert held.find("front", "once") is None
