"""A band kept on one evening plays songs on another: with other ids, on other outputs, on another desk's scale."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain import song_commands as so
from monreq.domain.band import KeptMix
from monreq.domain.band_commands import ChooseBand
from monreq.domain.carry_choices import match_band, proposed
from monreq.domain.carry_conversion import Levels
from monreq.domain.measuring_commands import ConfirmPreamp, PlanPreampChange
from monreq.domain.requests import Outcome
from monreq.domain.setup import Mix, Musician, Output, Setting, Source
from monreq.domain.songs import NotPlanned, Song, WhyNot
from tests.support.song_evenings import FRONT, MIC, SECOND, SOURCES, Asked, Evenings, levels, two_evenings


@pytest.fixture
def evenings() -> Evenings:
    return two_evenings()


FRONT_OF_LAMP: Asked = {
    ("front", "voice", "level"): 40,
    ("front", None, "level"): 5,
    ("front", "keys", "in_out"): -1,
}
EARS_OF_LAMP: Asked = {("ears", "kick", "level"): 20, ("ears", "voice", "pan"): 30}


def test_song_asks_its_differences_on_the_next_evening(evenings: Evenings) -> None:
    evenings.carried()

    assert evenings.comes("lamp") == {**FRONT_OF_LAMP, **EARS_OF_LAMP}
    assert evenings.not_planned() == ()


def test_band_kept_from_a_wedge_and_now_in_ears_asks_the_same_differences(evenings: Evenings) -> None:
    """What it once did: the queue asked output +10, voice +25, keys +22."""
    band = evenings.bands.get(evenings.band)
    choices = proposed(band, evenings.house.shows.state(SECOND), match_band(band, evenings.do(SECOND)))
    in_ears = replace(choices.mix_choices["front"], output=Output.IN_EAR_PAIR)

    show = evenings.carried(mix_choices={**choices.mix_choices, "front": in_ears})

    assert (show.levels["front"].output.setting.level_tenths) == -100
    assert evenings.comes("lamp") == {**FRONT_OF_LAMP, **EARS_OF_LAMP}


def test_levels_carried_by_a_reference_move_a_song_along(evenings: Evenings) -> None:
    """What it once did: on another desk's scale it asked voice +15."""
    band = evenings.bands.get(evenings.band)
    choices = proposed(band, evenings.do(SECOND), match_band(band, evenings.do(SECOND)))
    by_voice = replace(choices.mix_choices["front"], levels=Levels(reference=("voice", -180)))

    show = evenings.carried(mix_choices={**choices.mix_choices, "front": by_voice})

    assert show.position("front", "voice").setting.level_tenths == -180
    assert evenings.comes("lamp") == {**FRONT_OF_LAMP, **EARS_OF_LAMP}


def prepared_with_other_ids(evenings: Evenings) -> None:
    evenings.do(SECOND, *(c.PutSource(replace(one, id=f"s{one.id}")) for one in SOURCES))
    evenings.do(
        SECOND, c.PutMusician(Musician("p1", "Ada")), c.PutMix(replace(FRONT, id="m1", musicians=("p1",)))
    )
    evenings.do(SECOND, so.PutSetList((Song("x1", "LONG ROAD"), Song("x2", "slow  lamp"))))


OF_M1: Asked = {("m1", "svoice", "level"): 40, ("m1", None, "level"): 5, ("m1", "skeys", "in_out"): -1}


def test_songs_move_though_the_show_has_other_ids(evenings: Evenings) -> None:
    """What it once did: no song moved at all, and nobody was told."""
    prepared_with_other_ids(evenings)
    evenings.carried()

    assert evenings.comes("x2") == OF_M1
    assert evenings.not_planned() == (NotPlanned(WhyNot.MIX_NOT_HERE, "Drums"),)


def test_songs_go_by_names_where_the_band_was_only_chosen(evenings: Evenings) -> None:
    prepared_with_other_ids(evenings)
    evenings.do(SECOND, ChooseBand(evenings.band))

    assert evenings.comes("x2") == OF_M1


def test_songs_go_by_what_was_said_where_names_say_nothing(evenings: Evenings) -> None:
    evenings.do(SECOND, c.PutSource(Source("s1", "Mic 7", MIC)), c.PutMusician(Musician("p1", "Zoe")))
    evenings.do(SECOND, c.PutMix(Mix("m1", "Stage left", Output.WEDGE, ("p1",))))
    evenings.carried(
        sources={"voice": "s1", "keys": "", "kick": "", "click": ""},
        musicians={"ada": "p1", "cleo": ""},
        mixes={"front": "m1", "ears": ""},
    )

    assert evenings.comes("lamp") == {("m1", "s1", "level"): 40, ("m1", None, "level"): 5}
    assert set(evenings.not_planned()) == {
        NotPlanned(WhyNot.SOURCE_NOT_HERE, "Stage left", "Keys"),
        NotPlanned(WhyNot.MIX_NOT_HERE, "Drums"),
    }


def test_source_taken_off_the_mix_is_told(evenings: Evenings) -> None:
    evenings.carried()
    evenings.do(SECOND, c.RemoveSend("front", "voice"))

    assert ("front", "voice", "level") not in evenings.comes("lamp")
    assert evenings.not_planned() == (NotPlanned(WhyNot.NOT_IN_MIX, "Front", "Lead voice"),)


def test_song_kept_on_an_evening_of_which_nothing_else_is_known_is_told(evenings: Evenings) -> None:
    band = evenings.bands.get(evenings.band)
    unknown = tuple(replace(one, show="") if one.song else one for one in band.kept)
    evenings.bands.put(replace(band, kept=unknown), band.revision)
    evenings.carried()

    assert evenings.comes("lamp") == {}
    assert evenings.not_planned() == (
        NotPlanned(WhyNot.NOTHING_BESIDE, "Front"),
        NotPlanned(WhyNot.NOTHING_BESIDE, "Drums"),
    )


def test_song_heard_in_another_way_than_the_whole_show_is_told(evenings: Evenings) -> None:
    band = evenings.bands.get(evenings.band)

    def other(one: KeptMix) -> KeptMix:
        return replace(one, heard_as=Output.IN_EAR_PAIR) if one.mix == "front" and one.song else one

    evenings.bands.put(replace(band, kept=tuple(map(other, band.kept))), band.revision)
    evenings.carried()

    assert evenings.comes("lamp") == EARS_OF_LAMP
    assert evenings.not_planned() == (NotPlanned(WhyNot.HEARD_OTHERWISE, "Front"),)


def test_click_of_in_ears_that_are_a_wedge_now_is_told(evenings: Evenings) -> None:
    band = evenings.bands.get(evenings.band)

    def louder_click(one: KeptMix) -> KeptMix:
        if one.mix != "ears" or one.song is None:
            return one
        return replace(one, sends={**one.sends, "click": Setting(-200)})

    evenings.bands.put(replace(band, kept=tuple(map(louder_click, band.kept))), band.revision)
    choices = proposed(band, evenings.do(SECOND), match_band(band, evenings.do(SECOND)))
    wedge = replace(choices.mix_choices["ears"], output=Output.WEDGE)
    evenings.carried(mix_choices={**choices.mix_choices, "ears": wedge})

    assert evenings.comes("lamp") == {**FRONT_OF_LAMP, ("ears", "kick", "level"): 20}
    assert evenings.not_planned() == (NotPlanned(WhyNot.LEAKS, "Drums", "Click"),)


def test_loudness_of_an_evening_that_was_kept_lower_is_no_wish_of_its_songs(evenings: Evenings) -> None:
    """Both stood 6 dB louder than at the mark; the whole show was kept as loud as at the mark."""
    band = evenings.bands.get(evenings.band)

    def kept_lower(one: KeptMix) -> KeptMix:
        if one.song is not None:
            return replace(one, output=replace(one.output, level_tenths=one.output.level_tenths + 60))
        return replace(one, lowered_tenths=60)

    evenings.bands.put(replace(band, kept=tuple(map(kept_lower, band.kept))), band.revision)
    evenings.carried()

    assert evenings.comes("lamp") == {**FRONT_OF_LAMP, **EARS_OF_LAMP}


def test_song_kept_on_this_evening_is_compared_with_its_mark_and_a_preamp_turned_since_asks_nothing(
    evenings: Evenings,
) -> None:
    """What it once did: kept, then the preamp up by 10 and compensated; it asked +10."""
    evenings.carried()
    levels(evenings, SECOND, "front", ("voice", -50))
    evenings.do(SECOND, c.MarkSoundcheck())
    levels(evenings, SECOND, "front", ("voice", -20))
    evenings.kept("front", song="road", show=SECOND)
    levels(evenings, SECOND, "front", ("voice", -50))
    evenings.do(SECOND, so.ChooseSong(None), PlanPreampChange("voice", 100))
    (change,) = evenings.house.shows.state(SECOND).preamp_changes
    for one in list(evenings.do(SECOND).open_requests.values()):
        evenings.do(SECOND, c.Answer((one.id,), Outcome.DONE, -100))
    evenings.do(SECOND, ConfirmPreamp(change))

    assert evenings.comes("road") == {("front", "voice", "level"): 30}


def test_song_kept_after_a_preamp_was_turned_is_no_quieter_than_the_whole_show(evenings: Evenings) -> None:
    evenings.carried()
    evenings.do(SECOND, c.MarkSoundcheck())
    evenings.kept("front", show=SECOND)
    evenings.do(SECOND, PlanPreampChange("voice", 100))
    (change,) = evenings.house.shows.state(SECOND).preamp_changes
    for one in list(evenings.do(SECOND).open_requests.values()):
        evenings.do(SECOND, c.Answer((one.id,), Outcome.DONE, -100))
    evenings.do(SECOND, ConfirmPreamp(change))
    evenings.kept("front", song="road", show=SECOND)
    evenings.do(SECOND, c.CloseShow())
    evenings.house.shows.open("third", c.OpenShow("Third evening"))
    evenings.carried("third")

    assert evenings.comes("road", "third") == {}


def test_show_without_a_mark_compares_a_song_kept_in_it_with_the_whole_show_kept_in_it(
    evenings: Evenings,
) -> None:
    evenings.carried()
    levels(evenings, SECOND, "front", ("voice", -20))
    evenings.kept("front", song="road", show=SECOND)
    alone = evenings.comes("road"), evenings.not_planned()
    levels(evenings, SECOND, "front", ("voice", -40))
    evenings.kept("front", show=SECOND)
    evenings.comes("lamp")

    assert alone == ({}, (NotPlanned(WhyNot.NOTHING_BESIDE, "Front"),))
    assert evenings.comes("road") == {("front", "voice", "level"): 20}


def test_nine_songs_kept_raise_nothing_of_a_mix_that_starts_low(evenings: Evenings) -> None:
    """What it once did: +34 dB after nine kept songs. Here each stands at its own difference, and goes back."""
    evenings.carried()
    start = evenings.do(SECOND).position("ears", "kick").setting.level_tenths
    for song in ("lamp", "road") * 5:
        evenings.comes(song)
        for one in list(evenings.do(SECOND).open_requests.values()):
            evenings.do(SECOND, c.Answer((one.id,), Outcome.DONE))
        stands = evenings.do(SECOND).position("ears", "kick").setting.level_tenths
        assert stands - start == (20 if song == "lamp" else 0)
