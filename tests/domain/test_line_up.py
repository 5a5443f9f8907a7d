"""What a band takes over from a show, and brings to the next one."""

from monreq.domain import commands as c
from monreq.domain.carry_over import carry_over
from monreq.domain.line_up import with_line_up
from monreq.domain.setup import Source, SourceKind
from tests.support.bands import BAND, sure_choices
from tests.support.stage import Stage


def test_a_pickup_in_a_body_that_sounds_is_one_in_the_next_show_too() -> None:
    first, second = Stage(), Stage()
    cello = Source("cello", "Cello", SourceKind.DIRECT, is_acoustic=True)
    first.do(c.PutSource(cello))

    band = with_line_up(BAND, first.show)
    second.do(carry_over(band, second.show, sure_choices(band, second.show)).command)

    assert second.show.sources["cello"] == cello
