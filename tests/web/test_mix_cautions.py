"""What Prepare asks and warns of at each mix."""

from monreq.domain import commands as c
from monreq.domain.setup import Mix, Output
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
