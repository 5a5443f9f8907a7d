"""The account on made-up logs: what fits is entered, what does not is found."""

from dataclasses import replace

import pytest

from monreq.domain import events as e
from monreq.domain.requests import Call, Outcome
from tests.evenings.found import Found
from tests.evenings.judges.account import Account
from tests.evenings.judges.sums import check_mix, check_queue
from tests.support.stage import Stage, small_stage


def entered(stage: Stage) -> Account:
    account = Account()
    account.take(stage.log)
    return account


def queue_of(stage: Stage) -> dict[str, object]:
    """Return the queue as the JSON interface tells it, as far as the judge reads it."""
    return {
        "rows": [
            {
                "mix": row.key.mix,
                "source": row.key.source,
                "kind": row.key.kind.value,
                "requests": [one.id for one in row.requests],
                "sum_db": (row.asked or 0) / 10,
                "sum_pan": (row.asked or 0) / 100,
            }
            for row in stage.rows
        ]
    }


def busy() -> Stage:
    stage = small_stage()
    stage.done(stage.ask("front", "voice", 30))
    stage.ask("front", "voice", 20)
    stage.ask("front", "voice", 10)
    stage.ask_pan("ears", "drums", -20, "bass")
    stage.undo(stage.done(stage.ask("front", None, 30)))
    return stage


def test_a_show_in_order_fits_its_account() -> None:
    stage = busy()

    account = entered(stage)

    check_queue(account, queue_of(stage))
    assert account.sums()["front", "voice", "level"] == 30
    assert account.stands["front", "voice"].level_tenths == stage.level("front", "voice")


def test_a_request_that_a_queue_lost_is_found() -> None:
    stage = busy()
    queue = queue_of(stage)
    rows = queue["rows"]
    assert isinstance(rows, list)
    rows.pop()

    with pytest.raises(Found, match="lost in the queue"):
        check_queue(entered(stage), queue)


def test_a_row_that_shows_another_sum_is_found() -> None:
    stage = busy()
    queue = queue_of(stage)
    rows = queue["rows"]
    assert isinstance(rows, list)
    next(row for row in rows if row["source"] == "voice")["sum_db"] = 6.0

    with pytest.raises(Found, match="30 waits"):
        check_queue(entered(stage), queue)


def test_a_level_that_is_shown_otherwise_is_found() -> None:
    stage = small_stage()
    answer = {
        "mix": "front",
        "output_db": 0.0,
        "sends": [{"source": source, "level_db": -20.0} for source in stage.show.levels["front"].sends],
    }
    account = entered(stage)
    check_mix(account, answer)

    answer["output_db"] = 1.0
    with pytest.raises(Found, match="shows and stands at"):
        check_mix(account, answer)


def test_an_answer_that_is_recorded_twice_is_found() -> None:
    stage = small_stage()
    stage.done(stage.ask("front", "voice", 30))
    last = stage.log[-1]

    account = entered(stage)
    with pytest.raises(Found, match="answered, and does not wait"):
        account.take([replace(last, revision=last.revision + 1)])


def test_a_move_that_begins_where_nothing_stands_is_found() -> None:
    stage = small_stage()
    stage.correct("front", "voice", -150)
    last = stage.log[-1]
    assert isinstance(last.event, e.LevelCorrected)

    account = entered(stage)
    with pytest.raises(Found, match="was moved from"):
        account.take([replace(last, revision=last.revision + 1)])


def test_an_answer_of_another_row_is_found() -> None:
    stage = small_stage()
    request = stage.ask("front", "voice", 30)
    wrong = e.RequestsAnswered(
        "d9",
        "ears",
        "voice",
        stage.show.open_requests[request].key.kind,
        (request,),
        Outcome.NOT_DONE,
        30,
        None,
        "no",
    )

    account = entered(stage)
    with pytest.raises(Found, match="answers"):
        account.take([e.Recorded(stage.show.revision + 1, 0, "desk", wrong)])


def test_a_gap_in_a_log_is_found() -> None:
    stage = small_stage()

    with pytest.raises(Found, match="comes after"):
        Account().take(stage.log[1:])


def test_calls_are_unseen_until_a_desk_says_so() -> None:
    stage = small_stage()
    call = stage.call("front", Call.HURTS)

    assert entered(stage).unseen_calls() == [call]

    stage.not_done(call)
    assert entered(stage).unseen_calls() == []
