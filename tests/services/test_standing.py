"""What the desk is told of the laptop's address, disk and clock."""

import pytest

from monreq.services import storage_watch
from monreq.services.health import Health, Notice, Trouble
from monreq.services.ports import StorageFailed
from monreq.services.standing import ENOUGH_BYTES, AddressWatch, ClockWatch, DiskWatch
from monreq.services.storage_watch import NO_ANSWER, SlowWatch, StorageWatch, WatchedWriter
from tests.support.memory_log import InlineWriter

DAY_S = 86_400
TOLD_SLOW_S = 0.5


@pytest.fixture
def health(monkeypatch: pytest.MonkeyPatch) -> Health:
    monkeypatch.setattr(storage_watch, "SLOW_S", TOLD_SLOW_S)  # elsewhere in the tests no disk is slow
    return Health()


@pytest.mark.parametrize(
    ("printed", "present", "told"),
    [
        ("192.0.2.20", ["192.0.2.20", "127.0.0.1"], None),
        ("192.0.2.20", ["192.0.2.35", "127.0.0.1"], ("192.0.2.20", "192.0.2.35")),
        ("192.0.2.20", [], ("192.0.2.20", "")),
        (None, ["192.0.2.35"], None),
    ],
)
def test_address_that_printed_codes_carry_is_missed(
    health: Health, printed: str | None, present: list[str], told: tuple[str, str] | None
) -> None:
    AddressWatch(health, lambda: printed, lambda: present)()

    assert health.notices() == ((Notice(Trouble.ADDRESS, told),) if told else ())


def test_address_that_comes_back_is_no_trouble_any_more(health: Health) -> None:
    present = ["192.0.2.35"]
    watch = AddressWatch(health, lambda: "192.0.2.20", lambda: present)
    watch()
    before = health.has(Trouble.ADDRESS)

    present[:] = ["192.0.2.20"]
    watch()

    assert (before, health.notices()) == (True, ())


def test_little_room_is_told_with_its_figure_until_there_is_more(health: Health) -> None:
    free = [ENOUGH_BYTES - 1]
    watch = DiskWatch(health, lambda: free[0])
    watch()
    told = health.notices()

    free[0] = ENOUGH_BYTES
    watch()

    assert (told, health.notices()) == ((Notice(Trouble.DISK_LOW, ("49",)),), ())


@pytest.mark.parametrize("jump_s", [3600, -3600, DAY_S, -DAY_S, -56 * 365 * DAY_S])
def test_clock_that_jumps_is_told_once_and_for_a_while(health: Health, jump_s: int) -> None:
    now = {"wall": 1_800_000_000.0, "steady": 0.0}
    watch = ClockWatch(health, lambda: round(now["wall"] * 1000), lambda: now["steady"])

    def pass_time(seconds: float) -> tuple[Notice, ...]:
        now["wall"] += seconds
        now["steady"] += seconds
        watch()
        return health.notices()

    before = pass_time(2)
    now["wall"] += jump_s
    told = pass_time(2)

    assert before == ()
    assert told == (Notice(Trouble.CLOCK, (f"{jump_s:+d}",)),)
    assert pass_time(60) == told
    assert pass_time(600) == ()


def test_clock_that_is_corrected_a_little_is_not_told(health: Health) -> None:
    now = [0]
    watch = ClockWatch(health, lambda: now[0], lambda: 0.0)

    for step_ms in (900, -2000, 20_000):
        now[0] += step_ms
        watch()

    assert health.notices() == ()


def test_storage_that_fails_is_told_until_something_can_be_written_again(health: Health) -> None:
    fault = {"read": "", "write": "The disk is full."}

    def attempt(what: str) -> None:
        if fault[what]:
            raise StorageFailed(fault[what])

    watch = StorageWatch(health, lambda: attempt("read"), lambda: attempt("write"), lambda: 0.0)
    watch()
    while_nobody_wrote = health.notices()
    with pytest.raises(StorageFailed):
        WatchedWriter(InlineWriter(), health, SlowWatch(health, lambda: 0.0, lambda: 0.0)).run(
            lambda: attempt("write")
        )
    watch()
    told = health.notices()
    fault["write"], fault["read"] = "", "The database's file is gone."
    watch()
    gone = health.notices()
    fault["read"] = ""
    watch()

    assert while_nobody_wrote == ()
    assert told == (Notice(Trouble.STORAGE, ("The disk is full.",)),)
    assert gone == (Notice(Trouble.STORAGE, ("The database's file is gone.",)),)
    assert health.notices() == ()


def test_storage_that_does_not_answer_is_told_while_it_is_waited_for(health: Health) -> None:
    now = [0.0]
    told: list[tuple[Notice, ...]] = []

    def hang() -> None:
        for _ in range(4):
            now[0] += 1.0
            watch.require_answer()
            told.append(health.notices())

    watch = StorageWatch(health, hang, lambda: None, lambda: now[0])
    watch()

    assert told == [(), (), *[(Notice(Trouble.STORAGE, (NO_ANSWER,)),)] * 2]
    assert health.notices() == ()


def test_slow_disk_is_told_from_the_first_slow_commit_until_a_minute_without_one(health: Health) -> None:
    now, busy = [0.0], [0.0]
    told: list[tuple[Notice, ...]] = []
    slow = SlowWatch(health, lambda: now[0], lambda: busy[0])
    writer = WatchedWriter(InlineWriter(), health, slow)

    def take(seconds: float) -> None:
        now[0] += seconds

    for seconds, pause in ((0.4, 0.0), (0.6, 30.0), (0.1, 29.0), (0.0, 1.0)):
        writer.run(lambda seconds=seconds: take(seconds))  # type: ignore[misc]
        now[0] += pause
        slow()
        told.append(health.notices())

    line = (Notice(Trouble.SLOW, ("0.6",)),)
    assert told == [(), line, line, ()]


def test_commit_that_does_not_end_is_told_while_it_is_waited_for(health: Health) -> None:
    now, busy = [0.0], [0.0]
    slow = SlowWatch(health, lambda: now[0], lambda: busy[0])

    with slow.timed():
        now[0] = 3.0
        slow()
        told = health.notices()

    assert told == (Notice(Trouble.SLOW, ("3.0",)),)


def test_long_list_that_takes_its_time_to_be_reckoned_is_no_slow_disk(health: Health) -> None:
    now, busy = [0.0], [0.0]
    slow = SlowWatch(health, lambda: now[0], lambda: busy[0])

    with slow.timed():
        now[0], busy[0] = 1.8, 1.5

    assert health.notices() == ()


def test_log_has_a_line_when_a_trouble_begins_when_its_cause_changes_and_when_it_ends(
    health: Health, caplog: pytest.LogCaptureFixture
) -> None:
    for why in ("The disk is full.", "The disk is full.", "The database's file is gone."):
        health.put(Trouble.STORAGE, why)
    health.clear(Trouble.STORAGE)
    health.clear(Trouble.STORAGE)
    for free in ("12", "11"):
        health.put(Trouble.DISK_LOW, free)

    assert [record.getMessage() for record in caplog.records] == [
        "trouble: storage The disk is full.",
        "trouble: storage The database's file is gone.",
        "trouble is over: storage",
        "trouble: disk_low 12",
    ]
