"""Rows: requests added up, and the order in which they are worked."""

from monreq.domain.queue import Row
from monreq.domain.requests import Call, Kind, RowKey
from monreq.domain.setup import Setting
from tests.support.stage import START_MS, Stage


def only_row(stage: Stage) -> Row:
    (row,) = stage.rows
    return row


def test_row_adds_up_what_waits_and_counts_the_asks(stage: Stage) -> None:
    requests = [stage.ask("front", "voice", change) for change in (30, 30, -10)]

    row = only_row(stage)

    assert row.asked == 50
    assert [request.id for request in row.requests] == requests


def test_sum_of_tenths_is_exact(stage: Stage) -> None:
    for change in (1, 2, 7, -3, 33):
        stage.ask("front", "voice", change)

    assert only_row(stage).asked == 40


def test_sum_is_not_bounded(stage: Stage) -> None:
    for _ in range(20):
        stage.ask("front", "voice", 120)

    row = only_row(stage)
    assert row.asked == 2400
    assert row.suggestion.move == 30


def test_row_tells_each_musicians_own_sum(stage: Stage) -> None:
    stage.ask("ears", "voice", -10, "drummer")
    stage.ask("ears", "voice", 30, "bass")
    stage.ask("ears", "voice", 10, "bass")

    row = only_row(stage)

    assert row.by_musician == (("drummer", -10), ("bass", 40))
    assert row.is_disagreement
    assert row.asked == 30


def test_row_says_where_the_send_stands_and_what_to_set(stage: Stage) -> None:
    stage.ask("front", "guitar", 50)

    row = only_row(stage)

    assert row.now == Setting(-200)
    assert row.set_to == Setting(-150)


def test_row_of_words_has_nothing_to_set(stage: Stage) -> None:
    stage.ask_sound("front", "voice", "muddy")

    row = only_row(stage)

    assert row.asked is None
    assert row.set_to is None


def test_row_of_calls_is_about_the_output(stage: Stage) -> None:
    stage.call("ears", Call.HURTS, "bass")

    row = only_row(stage)

    assert row.key == RowKey("ears", None, Kind.CALL)
    assert row.urgent is Call.HURTS
    assert row.now == Setting(-100)
    assert row.set_to == Setting(-160)
    assert row.asked is None


def test_row_of_in_and_out_sets_the_send_on_or_off(stage: Stage) -> None:
    stage.ask_out("front", "voice")
    stage.ask_out("front", "voice")

    row = only_row(stage)

    assert row.asked == -1
    assert row.set_to == Setting(-200, is_on=False)


def test_row_that_disagrees_about_in_and_out_stays_as_it_is(stage: Stage) -> None:
    stage.ask_out("ears", "voice", "bass")
    stage.ask_in("ears", "voice", "drummer")

    row = only_row(stage)

    assert row.asked == 0
    assert row.set_to == row.now


def test_rows_are_kept_apart_by_mix_source_and_kind(stage: Stage) -> None:
    stage.ask("front", "voice", 10)
    stage.ask("ears", "voice", 10, "bass")
    stage.ask("ears", "drums", 10, "bass")
    stage.ask("ears", None, 10, "bass")
    stage.ask_pan("ears", "voice", 20, "bass")
    stage.ask_sound("ears", "voice", "muddy", "bass")
    stage.ask_out("ears", "voice", "bass")
    stage.call("ears", Call.TALK, "bass")

    assert len({row.key for row in stage.rows}) == len(stage.rows) == 8


def test_calls_of_one_mix_are_one_row(stage: Stage) -> None:
    stage.call("ears", Call.TALK, "bass")
    stage.call("ears", Call.HURTS, "drummer")
    stage.call("ears", Call.HURTS, "drummer")

    row = only_row(stage)

    assert row.urgent is Call.HURTS
    assert len(row.requests) == 3


def test_oldest_ask_of_a_row_counts(stage: Stage) -> None:
    stage.ask("front", "voice", 10)
    stage.wait(30)
    stage.ask("front", "voice", 10)

    assert only_row(stage).oldest_at_ms == START_MS


def test_rows_are_worked_in_the_order_of_their_oldest_ask(stage: Stage) -> None:
    stage.ask("front", "drums", 10)
    stage.wait(1)
    stage.ask("front", "voice", 10)
    stage.wait(1)
    stage.ask("front", "drums", 10)

    assert [row.key.source for row in stage.rows] == ["drums", "voice"]


def test_asks_of_the_same_moment_keep_their_order(stage: Stage) -> None:
    for source in ("guitar", "voice", "drums"):
        stage.ask("front", source, 10)

    assert [row.key.source for row in stage.rows] == ["guitar", "voice", "drums"]


def test_urgent_calls_stand_first_in_their_own_order(stage: Stage) -> None:
    stage.ask("front", "voice", 10)
    for mix in ("m1", "m2", "m3"):
        stage.wedge(mix, "singer")
    stage.wait(60)
    stage.call("m1", Call.TALK)
    stage.call("ears", Call.NOTHING, "bass")
    stage.call("m2", Call.SQUEAL)
    stage.wait(60)
    stage.call("m3", Call.HURTS)

    urgent = [row.urgent for row in stage.rows]
    assert urgent == [Call.HURTS, Call.SQUEAL, Call.NOTHING, Call.TALK, None]


def test_what_is_set_aside_stands_last_even_a_call(stage: Stage) -> None:
    call = stage.call("front", Call.HURTS)
    stage.wait(60)
    stage.ask("front", "voice", 10)

    stage.set_aside(call)

    assert [(row.urgent, row.is_set_aside) for row in stage.rows] == [(None, False), (Call.HURTS, True)]


def test_row_set_aside_comes_back_when_asked_again(stage: Stage) -> None:
    first = stage.ask("front", "voice", 10)
    stage.set_aside(first)

    second = stage.ask("front", "voice", 10)

    row = only_row(stage)
    assert not row.is_set_aside
    assert [request.id for request in row.requests] == [first, second]
    assert row.asked == 20


def test_empty_show_has_an_empty_queue() -> None:
    assert Stage().rows == ()
