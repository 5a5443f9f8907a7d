"""What a report of a band taken over says of who heard a mix."""

from dataclasses import replace

from monreq.domain.carry_choices import ADD, LEAVE_OUT
from monreq.domain.carry_over import carry_over
from monreq.domain.carry_report import MixNote
from tests.support.bands import BAND, sure_choices
from tests.support.stage import Stage


def test_shared_mix_of_which_one_musician_is_not_here_says_so() -> None:
    front, ears = BAND.mixes
    shared = replace(BAND, mixes=(front, replace(ears, musicians=("drummer", "bassist"))))
    show = Stage().show
    musicians = {"singer": ADD, "drummer": ADD, "bassist": LEAVE_OUT}

    carried = carry_over(shared, show, sure_choices(shared, show, musicians=musicians))

    said = {one.after.id: MixNote.MUSICIAN_MISSING in one.notes for one in carried.report.mixes}
    assert said == {"front": False, "ears": True}
