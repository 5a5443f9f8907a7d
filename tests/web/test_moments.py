"""A mix as it stood at any moment that somebody may ask for, also before there was such a mix."""

from monreq.domain import commands as c
from tests.support.evening import Evening
from tests.support.visitor import Visitor


def test_every_moment_of_a_show_is_shown_or_told_to_be_none_of_the_mix(
    evening: Evening, engineer: Visitor
) -> None:
    moments = range(1, evening.show.revision + 1)

    statuses = [engineer.get(f"/desk/mix/front/at/{revision}").status for revision in moments]
    compared = [engineer.get(f"/desk/mix/front?then={revision}").status for revision in moments]

    assert set(statuses) == {404, 200}
    assert statuses == sorted(statuses, reverse=True)
    assert set(compared) <= {404, 200}


def test_levels_that_no_page_can_have_shown_are_refused(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk/mix/front")
    form = next(one for one in page.markup.buttons() if page.target(one.form).endswith("/levels"))
    before = evening.show

    answer = engineer.post(page.target(form.form), {**page.sent_by(form), "seen": "1", "voice-level": "-3"})

    assert answer.status == 303
    assert evening.show == before


def test_levels_of_a_source_that_was_taken_off_meanwhile_are_refused(
    evening: Evening, engineer: Visitor
) -> None:
    page = engineer.get("/desk/mix/front")
    form = next(one for one in page.markup.buttons() if page.target(one.form).endswith("/levels"))
    evening.do(c.RemoveSend("front", "voice"))
    before = evening.show

    answer = engineer.post(page.target(form.form), {**page.sent_by(form), "voice-level": "-3"})

    assert answer.status == 303
    assert evening.show == before
