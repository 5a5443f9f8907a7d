"""After the show: what is proposed, whom it is asked, what their answers keep, and phones once it is closed."""

from monreq.domain import commands as c
from monreq.domain.band import Band, KeptMix
from monreq.services.band_shows import begin_band
from tests.support.evening import SHOW, Evening
from tests.support.visitor import Page, Visitor

PAGE = "/desk/afterwards"


def begin(evening: Evening) -> Band:
    return begin_band(evening.monreq.shows, evening.monreq.bands, evening.show, "The Marsh Hens")


def kept(evening: Evening) -> tuple[KeptMix, ...]:
    return evening.monreq.bands.get(evening.show.band).kept


def ask(engineer: Visitor) -> Page:
    return engineer.do(engineer.get(PAGE), "ask the musicians on their phones")


def phone_of(evening: Evening, mix: str, name: str = "") -> Visitor:
    visitor = Visitor(evening.monreq.flask)
    visitor.scan(evening.link(mix), choose=(lambda _: name) if name else None)
    return visitor


def answer(phone: Visitor, mix: str, button: str = "yes, keep it") -> Page:
    return phone.do(phone.get(f"/mix/{mix}"), button)


def test_proposals_are_kept_for_the_mixes_that_are_ticked(evening: Evening, engineer: Visitor) -> None:
    begin(evening)

    engineer.press(engineer.get(PAGE), "keep those ticked", {"mixes": ["front", "side"], "name": "Late"})

    assert [(one.mix, one.name) for one in kept(evening)] == [("front", "Late"), ("side", "Late")]
    assert engineer.get(PAGE).text.count("kept as Late") == 2


def test_difference_to_last_time_is_shown(evening: Evening, engineer: Visitor) -> None:
    begin(evening)
    engineer.press(engineer.get(PAGE), "keep those ticked", {"mixes": ["front"], "name": "Before"})
    evening.do(c.MarkSoundcheck())
    evening.do(c.CorrectLevel("front", "drums", -70))

    assert "Drums +4" in engineer.get(PAGE).text


def test_what_the_mix_gained_is_taken_off_the_output_told_and_kept(
    evening: Evening, engineer: Visitor
) -> None:
    begin(evening)
    evening.do(c.CorrectLevel("front", None, evening.level("front", None) + 60))
    evening.do(
        c.MarkSoundcheck()
    )  # so that it lasts from now on; the mark before is what it is compared with

    page = engineer.get(PAGE)
    engineer.press(page, "keep those ticked", {"mixes": ["front"], "name": "Late"})

    assert "output \N{MINUS SIGN}6 dB: as loud as at the soundcheck mark" in page.text
    assert (kept(evening)[0].output.level_tenths, kept(evening)[0].lowered_tenths) == (-60, 60)


def test_what_musicians_agree_to_is_as_loud_as_at_the_mark_too(evening: Evening, engineer: Visitor) -> None:
    begin(evening)
    evening.do(c.CorrectLevel("front", None, evening.level("front", None) + 60))
    evening.do(
        c.MarkSoundcheck()
    )  # so that it lasts from now on; the mark before is what it is compared with
    ask(engineer)

    answer(phone_of(evening, "front"), "front")

    assert (kept(evening)[0].output.level_tenths, kept(evening)[0].lowered_tenths) == (-60, 60)


def test_musician_who_agrees_keeps_their_mix_once(evening: Evening, engineer: Visitor) -> None:
    begin(evening)
    ask(engineer)
    singer = phone_of(evening, "front")

    page = answer(singer, "front")
    answer(singer, "front")

    assert [(one.mix, one.name) for one in kept(evening)] == [("front", "Evening")]
    assert "you said yes" in page.text
    assert "Your mix is kept as Evening." in page.text
    assert "Ada" in engineer.get(PAGE).text


def test_musician_who_says_no_keeps_nothing_and_may_change_their_mind(
    evening: Evening, engineer: Visitor
) -> None:
    begin(evening)
    ask(engineer)
    singer = phone_of(evening, "front")

    page = answer(singer, "front", "no")

    assert kept(evening) == ()
    assert "you said no" in page.text
    assert "not: Ada" in engineer.get(PAGE).text
    answer(singer, "front")
    assert len(kept(evening)) == 1


def test_shared_mix_is_kept_once_everybody_agreed(evening: Evening, engineer: Visitor) -> None:
    begin(evening)
    ask(engineer)
    bo, cy = phone_of(evening, "ears", "Bo"), phone_of(evening, "ears", "Cy")

    page = answer(bo, "ears")

    assert kept(evening) == ()
    assert "yes: Bo" in page.text
    answer(cy, "ears")
    assert [one.mix for one in kept(evening)] == ["ears"]


def test_what_is_kept_is_what_was_asked_about_though_levels_moved_since(
    evening: Evening, engineer: Visitor
) -> None:
    begin(evening)
    ask(engineer)
    before = evening.level("front", "drums")
    evening.do(c.CorrectLevel("front", "drums", before + 60))

    answer(phone_of(evening, "front"), "front")

    assert kept(evening)[0].sends["drums"].level_tenths == before


def test_answer_to_a_question_that_was_replaced_is_told(evening: Evening, engineer: Visitor) -> None:
    begin(evening)
    ask(engineer)
    singer = phone_of(evening, "front")
    page = singer.get("/mix/front")
    ask(engineer)

    singer.press(page, "yes, keep it")

    assert singer.get("/mix/front").notes == ["The desk asked anew meanwhile: look again."]
    assert kept(evening) == ()


def test_agreed_without_a_band_is_kept_by_the_engineer_afterwards(
    evening: Evening, engineer: Visitor
) -> None:
    ask(engineer)
    answer(phone_of(evening, "front"), "front")
    page = engineer.get(PAGE)

    engineer.press(page, "keep those ticked", {"mixes": ["front"], "name": "Late", "band": "Hens"})

    assert [one.mix for one in kept(evening)] == ["front"]


def test_closed_show_shows_phones_how_it_ended_and_what_was_kept(evening: Evening, engineer: Visitor) -> None:
    begin(evening)
    singer, engineer_page = phone_of(evening, "front"), engineer.get(PAGE)
    engineer.press(engineer_page, "keep those ticked", {"mixes": ["front"], "name": "Late"})

    page = engineer.do(engineer.get(PAGE), "close this show")

    assert not evening.show.is_open
    assert "This show is closed." in page.text
    phone = singer.get("/mix/front")
    assert phone.status == 200
    assert "Your mix is kept as Late." in phone.text


def test_what_lasted_can_still_be_kept_of_a_closed_show(evening: Evening, engineer: Visitor) -> None:
    begin(evening)
    engineer.press(engineer.get(PAGE), "close this show")

    engineer.press(engineer.get(PAGE), "keep those ticked", {"mixes": ["front"], "name": "Late"})

    assert [one.name for one in kept(evening)] == ["Late"]


def test_kept_mixes_outlive_the_show_and_start_the_next(evening: Evening, engineer: Visitor) -> None:
    band = begin(evening)
    engineer.press(engineer.get(PAGE), "keep those ticked", {"mixes": ["front"], "name": "Late"})

    engineer.press(engineer.get("/desk/prepare"), "close this show and begin the next")

    assert evening.monreq.shows.entries()[-1].id != SHOW
    assert len(evening.monreq.bands.get(band.id).kept) == 1
