"""The bucket that slows a mix down."""

from monreq.web.pace import ASKING, BURST, PER_SECOND, RETRY_AFTER_S, Pace, PaceHere


def let_through(pace: Pace, mix: str, now_s: float, times: int) -> int:
    return sum(pace.lets_through(mix, ASKING, now_s) for _ in range(times))


def test_a_burst_is_let_through_and_no_more() -> None:
    assert let_through(PaceHere(), "front", 0.0, BURST + 10) == BURST


def test_a_steady_few_a_second_are_let_through_for_ever() -> None:
    pace = PaceHere()
    let_through(pace, "front", 0.0, BURST)

    assert [let_through(pace, "front", float(second), 20) for second in range(1, 60)] == [PER_SECOND] * 59


def test_a_bucket_holds_no_more_than_a_burst() -> None:
    pace = PaceHere()
    let_through(pace, "front", 0.0, BURST)

    assert let_through(pace, "front", 1e6, BURST + 10) == BURST


def test_what_was_refused_costs_nothing() -> None:
    pace = PaceHere()
    let_through(pace, "front", 0.0, BURST + 1000)

    assert let_through(pace, "front", float(RETRY_AFTER_S), 1) == 1


def test_a_clock_that_steps_back_neither_fills_nor_empties() -> None:
    pace = PaceHere()
    let_through(pace, "front", 100.0, BURST - 1)

    assert let_through(pace, "front", 50.0, 2) == 1


def test_everybody_has_a_bucket_of_their_own() -> None:
    pace = PaceHere()
    let_through(pace, "front", 0.0, BURST)

    assert let_through(pace, "ears", 0.0, 1) == 1


def test_many_who_sent_once_are_forgotten_and_those_who_wait_are_not() -> None:
    pace = PaceHere()
    crowd = [let_through(pace, f"visitor {number}", number / 1000, 1) for number in range(30_000)]
    let_through(pace, "front", 30.0, BURST)
    crowd += [let_through(pace, f"late {number}", 30.0 + number / 10_000, 1) for number in range(11_000)]

    assert crowd == [1] * len(crowd)
    assert len(pace) < 20_000
    assert let_through(pace, "front", 32.0, BURST) == 2 * PER_SECOND


def test_who_has_to_wait_less_than_a_second_is_not_forgotten_in_a_crowd() -> None:
    pace = PaceHere()
    let_through(pace, "front", 0.0, 2)

    for number in range(11_000):
        let_through(pace, f"visitor {number}", 0.0, 1)

    assert let_through(pace, "front", 0.0, BURST) == BURST - 2
