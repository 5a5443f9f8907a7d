"""Turns: who works, in which batches, and that nobody is left waiting."""

import threading
from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from functools import partial

import pytest

from monreq.services.ports import StorageFailed
from monreq.services.turns import Job, Turns
from tests.support.threads import PATIENCE_S, all_at_once, wait_until


class GoneError(Exception):
    """Stands for whatever ends a thread or a greenlet that waits."""


class Number(Job[int]):
    def __init__(self, value: int) -> None:
        super().__init__()
        self.value = value
        self.is_waited_for = False

    def wait(self) -> None:
        self.is_waited_for = True
        super().wait()


class EndedWhileWaiting(Number):
    def wait(self) -> None:
        raise GoneError


class EndedWhenWoken(Number):
    def wait(self) -> None:
        super().wait()
        raise GoneError


class Doubling:
    """Work that answers each number with its double, and stands still at a gate while that is closed."""

    def __init__(self) -> None:
        self.batches: list[list[int]] = []
        self.gate = threading.Event()
        self.gate.set()
        self.is_at_gate = threading.Event()

    def __call__(self, jobs: Sequence[Number]) -> None:
        self.batches.append([job.value for job in jobs])
        self.is_at_gate.set()
        if not self.gate.wait(PATIENCE_S):
            raise TimeoutError
        for job in jobs:
            job.finish(2 * job.value)


def bring(turns: Turns[Number], job: Number) -> int:
    turns.take(job)
    return job.result()


def test_turns_of_many_threads_answer_each_its_own() -> None:
    work = Doubling()
    turns = Turns(work)

    answers = all_at_once([partial(bring, turns, Number(value)) for value in range(40)])

    assert answers == [2 * value for value in range(40)]
    assert sorted(value for batch in work.batches for value in batch) == list(range(40))


def test_turns_gather_the_next_batch_while_one_is_worked() -> None:
    work = Doubling()
    turns = Turns(work)
    later = [Number(value) for value in (2, 3, 4)]

    with ThreadPoolExecutor() as pool:
        futures = _behind_a_closed_gate(work, turns, pool, later)
        work.gate.set()
        answers = [future.result(PATIENCE_S) for future in futures]

    assert answers == [2, 4, 6, 8]
    assert work.batches == [[1], [2, 3, 4]]


def test_turns_whose_work_breaks_fail_the_batch_and_take_the_next() -> None:
    batches: list[int] = []

    def work(jobs: Sequence[Number]) -> None:
        batches.append(len(jobs))
        if len(batches) == 1:
            raise GoneError
        for job in jobs:
            job.finish(job.value)

    turns = Turns(work)
    first = Number(1)

    with pytest.raises(GoneError):
        turns.take(first)
    with pytest.raises(StorageFailed):
        first.result()

    assert bring(turns, Number(7)) == 7


def test_turns_that_one_left_while_waiting_go_on_without_it() -> None:
    work = Doubling()
    turns = Turns(work)

    with ThreadPoolExecutor() as pool:
        futures = _behind_a_closed_gate(work, turns, pool, [])
        with pytest.raises(GoneError):
            turns.take(EndedWhileWaiting(2))
        futures += _queued(turns, pool, [Number(3)])
        work.gate.set()
        answers = [future.result(PATIENCE_S) for future in futures]

    assert answers == [2, 6]
    assert work.batches == [[1], [3]]


def test_turns_that_the_next_to_work_left_are_passed_on() -> None:
    work = Doubling()
    turns = Turns(work)

    with ThreadPoolExecutor() as pool:
        futures = _behind_a_closed_gate(work, turns, pool, [EndedWhenWoken(2), Number(3)])
        work.gate.set()
        answers = [futures[0].result(PATIENCE_S), futures[2].result(PATIENCE_S)]
        left = futures[1].exception(PATIENCE_S)

    assert answers == [2, 6]
    assert isinstance(left, GoneError)
    assert work.batches == [[1], [3]]


def test_turns_that_the_last_one_left_are_free_again() -> None:
    work = Doubling()
    turns = Turns(work)

    with ThreadPoolExecutor() as pool:
        futures = _behind_a_closed_gate(work, turns, pool, [EndedWhenWoken(2)])
        work.gate.set()
        futures[1].exception(PATIENCE_S)
        answer = pool.submit(bring, turns, Number(5)).result(PATIENCE_S)

    assert answer == 10
    assert work.batches == [[1], [5]]


def _behind_a_closed_gate(
    work: Doubling, turns: Turns[Number], pool: ThreadPoolExecutor, jobs: list[Number]
) -> list[Future[int]]:
    """Let the number 1 stand at the gate, and others queue behind it in their order."""
    work.gate.clear()
    first = pool.submit(bring, turns, Number(1))
    assert work.is_at_gate.wait(PATIENCE_S)
    return [first, *_queued(turns, pool, jobs)]


def _queued(turns: Turns[Number], pool: ThreadPoolExecutor, jobs: list[Number]) -> list[Future[int]]:
    futures = []
    for job in jobs:
        futures.append(pool.submit(bring, turns, job))
        wait_until(partial(getattr, job, "is_waited_for"))
    return futures
