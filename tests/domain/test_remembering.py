"""What is remembered by identity: made once for the same objects, anew for equal ones, and never mixed up."""

import itertools

from monreq.domain.remembering import by_identity


def test_answer_is_made_once_for_the_same_objects() -> None:
    count = itertools.count(1)
    counted = by_identity(lambda _levels: next(count))
    levels = {"voice": -200}

    first, second = counted(levels), counted(levels)

    assert (first, second) == (1, 1)


def test_equal_objects_are_not_taken_for_the_same() -> None:
    count = itertools.count(1)
    counted = by_identity(lambda _levels: next(count))

    answers = [counted({"voice": -200}), counted({"voice": -200})]

    assert answers == [1, 2]


def test_nothing_at_all_is_remembered_too() -> None:
    answers = iter([None, -200])
    nothing_first = by_identity(lambda _levels: next(answers))
    levels = {"voice": -200}

    twice = [nothing_first(levels), nothing_first(levels)]

    assert twice == [None, None]


def test_answers_stay_right_when_more_objects_come_and_go_than_are_kept() -> None:
    held = by_identity(lambda levels: levels["voice"])

    answers = [held({"voice": level}) for level in range(10_000)]

    assert answers == list(range(10_000))
