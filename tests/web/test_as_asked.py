"""What a row says of the ear where less is advised than was asked."""

from monreq.domain import measuring_commands as m
from monreq.domain.readings import EarMethod
from monreq.web.as_asked import as_asked
from tests.support.stage import Stage, small_stage


def said(stage: Stage, asked: int) -> str:
    stage.ask("ears", None, asked, "bass")
    row = stage.row("ears", None)
    assert row is not None
    return as_asked(stage.show, row)


def test_a_row_says_what_the_ear_would_get_as_asked() -> None:
    """Worked by hand: 8 h / 2^((106 - 85) / 3) = 3.75 min a day at 106 dB(A) (NIOSH 98-126)."""
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", 1000, EarMethod.COUPLER))

    assert said(stage, 60).startswith("as asked it would be 106 dB(A): about 3 min, between ")


def test_what_was_read_in_a_coupler_is_told_without_a_time() -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", 1000, EarMethod.COUPLER, is_field_level=False))

    assert said(stage, 60) == "as asked it would be 106 dB(A)"


def test_nothing_is_said_where_all_of_it_is_advised_or_nobody_measured() -> None:
    stage = small_stage()
    unmeasured = said(stage, 60)
    stage.do(m.MeasureEarLevel("ears", 1000, EarMethod.COUPLER))
    stage.done(*(one.id for one in stage.show.open_requests.values()), change=0)

    assert (unmeasured, said(stage, 10)) == ("", "")
