"""What Prepare asks and warns of at each mix."""

from dataclasses import replace

from monreq.domain import commands as c
from monreq.domain.setup import Mix, Output, TakenAt
from monreq.web.mix_cautions import mix_cautions
from tests.support.evening import Evening
from tests.support.visitor import Visitor

PACKS = "Is each pack's limiter on, its volume low? Never one earpiece only."
MONO = "In mono nobody hears where the others stand."
TALKBACK = "Talkback does not reach this mix."


def test_in_ears_are_asked_for_limiter_and_volume(evening: Evening) -> None:
    assert mix_cautions(evening.show) == {"front": (), "ears": (PACKS,), "side": ()}


def test_in_ears_fed_mono_are_warned_of(evening: Evening) -> None:
    evening.do(c.PutMix(Mix("ears", "Rhythm", Output.IN_EAR_PAIR, ("bass",), is_fed_mono=True)))

    assert mix_cautions(evening.show)["ears"] == (PACKS, MONO)


def test_mix_that_talkback_does_not_reach_is_told(evening: Evening) -> None:
    evening.do(c.RemoveSend("front", "talk"))
    evening.do(c.CorrectLevel("side", "talk", None, is_on=False))

    cautions = mix_cautions(evening.show)

    assert (cautions["front"], cautions["side"]) == ((TALKBACK,), (TALKBACK,))


def test_show_without_any_talkback_is_not_nagged(evening: Evening) -> None:
    evening.do(c.RemoveSource("talk"))

    assert mix_cautions(evening.show)["front"] == ()


def test_prepare_shows_what_to_mind_at_each_mix(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.RemoveSend("front", "talk"))

    mixes = engineer.get("/desk/prepare").markup.root.one("section", id="mixes").text

    assert (mixes.count(PACKS), mixes.count(TALKBACK)) == (1, 1)


def test_what_holds_all_evening_is_said_at_the_desk_too(evening: Evening, engineer: Visitor) -> None:
    ears = evening.show.mix("ears")
    evening.do(c.PutMix(replace(ears, taken_at=TakenAt.POST_FADER, is_cut_by_mutes=True)))

    mix, queue = engineer.get("/desk/mix/ears").text, engineer.get("/desk")

    assert "Taken after the fader: every move of a house fader changes this mix." in mix
    assert "Mutes cut it: who is muted in the house is silent here too." in mix
    assert "after the fader, cut by mutes" in queue.place("mix-ears")
    assert "fader" not in queue.place("mix-front")


def test_click_goes_into_a_wedge_only_below_a_caution(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk/mix/front")

    button = page.text.index("put Click on it")
    assert "click and audience mics leak into every open mic" in page.text[button:]
    assert "click" not in evening.show.levels["front"].sends
