"""Requests that come to nothing together, and so cancel out."""

from monreq.domain import commands as c
from monreq.domain.events import ChangeAsked, RequestsCancelledOut, RequestWithdrawn
from monreq.domain.requests import Call
from tests.support.stage import Stage


def test_own_requests_that_come_to_nothing_are_cancelled_out(stage: Stage) -> None:
    stage.ask("front", "voice", 30)
    stage.ask("front", "voice", 10)

    stage.ask("front", "voice", -40)

    assert stage.rows == ()
    assert len(stage.show.closed) == 3


def test_cancelled_out_is_one_event_that_names_all(stage: Stage) -> None:
    first = stage.ask("front", "voice", 30)

    asked, gone = stage.do(c.AskForLevel("front", None, "voice", -30))

    assert isinstance(asked, ChangeAsked)
    assert gone == RequestsCancelledOut("front", (first, asked.request))


def test_own_pans_that_come_to_nothing_are_cancelled_out(stage: Stage) -> None:
    stage.ask_pan("ears", "voice", 20, "bass")

    stage.ask_pan("ears", "voice", -20, "bass")

    assert stage.rows == ()


def test_asking_in_takes_back_every_own_out(stage: Stage) -> None:
    stage.ask_out("front", "voice")
    stage.ask_out("front", "voice")

    stage.ask_in("front", "voice")

    assert stage.rows == ()


def test_calls_and_words_never_cancel_out(stage: Stage) -> None:
    stage.call("front", Call.TALK)
    stage.call("front", Call.TALK)
    stage.ask_sound("front", "voice", "muddy")
    stage.ask_sound("front", "voice", "muddy")

    assert len(stage.show.open_requests) == 4


def test_opposed_requests_of_two_musicians_stay(stage: Stage) -> None:
    up = stage.ask("ears", "voice", 30, "bass")
    down = stage.ask("ears", "voice", -30, "drummer")

    assert list(stage.show.open_requests) == [up, down]


def test_nothing_cancels_out_across_sources_mixes_or_kinds(stage: Stage) -> None:
    stage.ask("ears", "voice", 20, "bass")
    stage.ask("ears", "drums", -20, "bass")
    stage.ask_pan("ears", "voice", -20, "bass")
    stage.ask("ears", None, -20, "bass")

    assert len(stage.show.open_requests) == 4


def test_opposite_of_what_was_set_aside_cancels_it_out(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)
    stage.set_aside(request)

    stage.ask("front", "voice", -30)

    assert stage.rows == ()


def test_withdrawal_that_leaves_nothing_wanted_cancels_out_the_rest(stage: Stage) -> None:
    up = stage.ask("front", "voice", 30)
    more = stage.ask("front", "voice", 10)
    down = stage.ask("front", "voice", -30)

    events = stage.do(c.Withdraw(more))

    assert events == (RequestWithdrawn("front", more), RequestsCancelledOut("front", (up, down)))
    assert stage.rows == ()
