"""A band taken over into a show: what is done, what is told, and what is refused."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.band import Band
from monreq.domain.carry_choices import ADD, LEAVE_OUT, Choices, MixChoice, match_band, proposed
from monreq.domain.carry_conversion import Levels
from monreq.domain.carry_matching import How
from monreq.domain.carry_over import CarryOver, carry_over
from monreq.domain.carry_refusals import SayWhatItIs, SoundcheckIsOver, TakenTwice, UnknownKeptMix
from monreq.domain.carry_report import MixNote, SendNote, What
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind
from monreq.domain.show import Show
from monreq.domain.stage_commands import DescribeDesk
from tests.support.bands import BAND, EARS, FRONT, MUSICIANS, SOURCES, kept_mix, sure_choices
from tests.support.stage import Stage, standing


@pytest.fixture
def empty() -> Stage:
    return Stage()


def taken_over(stage: Stage, band: Band = BAND, **changed: object) -> CarryOver:
    carried = carry_over(band, stage.show, sure_choices(band, stage.show, **changed))
    stage.do(carried.command)
    return carried


def test_empty_show_gets_the_whole_band_with_its_ids_and_order(empty: Stage) -> None:
    taken_over(empty)

    show = empty.show
    assert tuple(show.sources.values()) == SOURCES
    assert tuple(show.musicians.values()) == MUSICIANS
    assert list(show.mixes) == ["front", "ears"]
    assert show.standings == BAND.standings
    assert show.place_of("kick").is_central


def test_levels_start_as_kept_and_nobody_confirmed_them(empty: Stage) -> None:
    taken_over(empty)

    # By hand: the loudest send of the ears goes from -9 to -25, so that all go down by 16 dB.
    places = [("ears", "voice"), ("ears", None), ("front", "voice")]
    positions = [empty.show.position(*place) for place in places]
    assert [one.setting for one in positions] == [Setting(-270, 60), Setting(-120), Setting(-40)]
    assert {(one.confirmed_at_ms, one.done_tenths) for one in positions} == {(None, 0)}


def test_what_was_said_of_packs_is_asked_again(empty: Stage) -> None:
    wedge, pair = BAND.mixes
    said = replace(pair, has_limiter=True, is_pack_low=True)

    carried = taken_over(empty, replace(BAND, mixes=(wedge, said)))

    mix = empty.show.mix("ears")
    assert (mix.has_limiter, mix.is_pack_low) == (None, None)
    assert MixNote.LIMITER_NOT_SAID in carried.report.mixes[1].notes


def test_what_the_band_never_had_in_a_mix_is_not_put_there(empty: Stage) -> None:
    taken_over(empty)

    assert set(empty.show.levels["front"].sends) == {"voice", "bass", "keys"}


def test_the_plan_says_beforehand_what_the_show_will_be(empty: Stage) -> None:
    carried = taken_over(empty)

    assert carried.after == empty.show


def test_wedge_that_is_added_as_a_pair_is_converted_with_the_stage_plan(empty: Stage) -> None:
    in_ears = {"front": MixChoice(Output.IN_EAR_PAIR, kept="kept1"), "ears": MixChoice(kept="kept2")}

    carried = taken_over(empty, mix_choices=in_ears | {"ears": MixChoice(Output.IN_EAR_PAIR, kept="kept2")})

    # By hand: loudest -4 to -25, so -21 dB; bass is marked central; output -6 down to a new pair's -10.
    assert empty.setting("front", "voice") == Setting(-250)
    assert empty.setting("front", "bass") == Setting(-380)
    assert empty.setting("front", None) == Setting(-100)
    assert MixNote.BECAME_IN_EARS in carried.report.mixes[0].notes
    assert carried.report.mixes[0].shift_tenths == -210


def test_musician_who_is_left_out_is_told_with_the_mix_nobody_hears(empty: Stage) -> None:
    carried = taken_over(empty, musicians={"singer": ADD, "bassist": ADD, "drummer": LEAVE_OUT})

    assert [one.name for one in carried.report.left_out] == ["Cleo"]
    assert MixNote.NOBODY_HEARS_IT in carried.report.mixes[1].notes
    assert "drummer" not in empty.show.musicians
    assert empty.show.place_of("kick").beside == ""


def test_deputy_sits_on_the_chair_and_gets_its_mix(empty: Stage) -> None:
    carried = taken_over(empty, deputies={"singer": "Edda"})

    assert empty.show.musician_name("singer") == "Edda"
    assert empty.show.mix("front").musicians == ("singer",)
    told = next(one for one in carried.report.counterparts if one.what is What.MUSICIAN)
    assert (told.name, told.deputy) == ("Ada", "Edda")


def test_sources_that_the_show_names_otherwise_keep_its_ids(empty: Stage) -> None:
    empty.source("s1", "LEAD VOICE")
    empty.musician("m1", "Ada")
    empty.wedge("w1", "m1", name="Front")

    carried = taken_over(empty)

    assert empty.setting("w1", "s1") == Setting(-40)
    assert empty.setting("w1", None) == Setting(-60)
    voice = next(one for one in carried.report.counterparts if one.name == "Lead voice")
    assert (voice.here_name, voice.how, voice.is_added) == ("LEAD VOICE", How.SAME_NAME, False)


def test_missing_sources_are_left_out_of_a_prepared_show_and_told(empty: Stage) -> None:
    empty.source("s1", "Lead voice")
    empty.musician("m1", "Ada")
    empty.wedge("w1", "m1", name="Front")

    carried = taken_over(empty)

    assert [one.name for one in carried.report.left_out if one.what is What.SOURCE] == [
        "Kick",
        "Bass",
        "Keys",
        "Click",
        "Hall mics",
    ]
    gone = [one.name for one in carried.report.mixes[0].sends if one.notes == (SendNote.SOURCE_LEFT_OUT,)]
    assert gone == ["Bass", "Keys"]


def test_new_sources_start_low_and_are_told(empty: Stage) -> None:
    empty.source("horn", "Trumpet")
    empty.musician("m1", "Ada")
    empty.wedge("w1", "m1", name="Front")

    carried = taken_over(empty)

    assert carried.report.new[What.SOURCE] == ("Trumpet",)
    horn = next(one for one in carried.report.mixes[0].sends if one.name == "Trumpet")
    assert (horn.before, horn.after, horn.notes) == (None, Setting(-200), (SendNote.NEW_SOURCE,))


def test_id_that_is_taken_by_another_source_is_not_used_twice(empty: Stage) -> None:
    empty.source("kick", "Trumpet")

    taken_over(empty, sources=dict.fromkeys([source.id for source in SOURCES], ADD))

    assert [empty.show.sources[one].name for one in ("kick", "kick2")] == ["Trumpet", "Kick"]


def test_auxes_are_planned_on_the_desk_that_is_here(empty: Stage) -> None:
    empty.do(DescribeDesk(DeskFacts(mono=4)))

    carried = taken_over(empty)

    # By hand: the pair needs two linked mono auxes of four, the wedge one.
    assert carried.report.auxes is not None
    assert carried.report.auxes.plan.is_enough
    assert {mix.id: mix.auxes for mix in empty.show.mixes.values()} == dict(carried.report.auxes.numbers)
    assert carried.report.unnumbered == ()


def test_too_few_auxes_are_told_and_what_has_none_is_named(empty: Stage) -> None:
    empty.do(DescribeDesk(DeskFacts(mono=1)))

    carried = taken_over(empty)

    assert carried.report.auxes is not None
    assert (carried.report.auxes.plan.missing_auxes, carried.report.unnumbered) == (2, ("Drums",))


def test_without_a_desk_the_old_numbers_are_not_taken_over(empty: Stage) -> None:
    carried = taken_over(empty)

    assert (carried.report.auxes, carried.report.unnumbered) == (None, ("Front", "Drums"))


def test_song_is_started_from_if_it_was_chosen(empty: Stage) -> None:
    ballad = kept_mix("kept3", "front", -80, {"voice": Setting(-20)}, song="song1")
    band = replace(BAND, kept=(FRONT, EARS, ballad))

    taken_over(empty, band, mix_choices={"front": MixChoice(kept="kept3")})

    assert empty.setting("front", "voice") == Setting(-20)


def test_the_newest_that_is_for_the_whole_show_is_proposed() -> None:
    newer = kept_mix("kept3", "front", -80, {}, at=1)
    ballad = kept_mix("kept4", "front", -80, {}, song="song1", at=2)
    band = replace(BAND, kept=(newer, FRONT, ballad))

    assert sure_choices(band, Stage().show).mix_choices["front"].kept == "kept3"


def test_mix_of_which_nothing_was_kept_starts_as_a_new_one_and_is_told(empty: Stage) -> None:
    carried = taken_over(empty, replace(BAND, kept=()))

    assert empty.setting("front", "voice") == Setting(-200)
    assert [one.notes for one in carried.report.mixes] == [(MixNote.NOTHING_KEPT,)] * 2


def test_unsure_lines_must_be_answered(empty: Stage) -> None:
    empty.source("s1", "Lead vox")

    with pytest.raises(SayWhatItIs):
        taken_over(empty)


def test_two_lines_cannot_be_the_same_source(empty: Stage) -> None:
    empty.source("s1", "Lead voice")
    everything = dict.fromkeys([source.id for source in SOURCES], LEAVE_OUT)

    with pytest.raises(TakenTwice):
        taken_over(empty, sources={**everything, "kick": "s1", "voice": "s1"})


def test_line_that_names_what_is_not_there_is_refused(empty: Stage) -> None:
    everything = dict.fromkeys([source.id for source in SOURCES], LEAVE_OUT)

    with pytest.raises(SayWhatItIs):
        taken_over(empty, sources={**everything, "kick": "nosuch"})


def test_kept_mix_of_another_mix_is_refused(empty: Stage) -> None:
    with pytest.raises(UnknownKeptMix):
        taken_over(empty, mix_choices={"front": MixChoice(kept="kept2")})


def test_after_the_soundcheck_mark_nothing_is_taken_over(empty: Stage) -> None:
    empty.do(c.MarkSoundcheck())

    with pytest.raises(SoundcheckIsOver):
        taken_over(empty)


def test_taking_the_band_over_twice_changes_nothing_the_second_time_but_starts_again(empty: Stage) -> None:
    taken_over(empty)
    first = empty.show

    taken_over(empty)

    assert standing(empty.show) == standing(first)
    assert (empty.show.mixes, empty.show.sources) == (first.mixes, first.sources)


def test_levels_go_by_a_reference_of_the_new_desk(empty: Stage) -> None:
    ears = MixChoice(Output.IN_EAR_PAIR, kept="kept2", levels=Levels(reference=("kick", -120)))

    carried = taken_over(empty, mix_choices={"front": MixChoice(kept="kept1"), "ears": ears})

    assert empty.setting("ears", "bass") == Setting(-130, -30)
    assert carried.report.mixes[1].shift_tenths == -30


HERE = st.lists(st.sampled_from(["Kick", "Bass", "Lead voice", "Trumpet", "Keys 1", "Click"]), unique=True)


@given(HERE, st.data())
def test_every_source_of_both_sides_is_told(names: list[str], data: st.DataObject) -> None:
    stage = Stage()
    for place, name in enumerate(names):
        stage.do(c.PutSource(Source(f"s{place}", name, SourceKind.DIRECT)))
    stage.do(c.PutMusician(Musician("m1", "Ada")))
    stage.do(c.PutMix(Mix("w1", "Front", Output.WEDGE, ("m1",))))
    choices = _answered(stage.show, data)

    report = carry_over(BAND, stage.show, choices).report

    told = [one for one in report.counterparts if one.what is What.SOURCE]
    assert [one.name for one in told] == [source.name for source in SOURCES]
    taken_here = {one.here_name for one in told if one.here_name and not one.is_added}
    assert sorted([*taken_here, *report.new[What.SOURCE]]) == sorted(names)
    for mix in report.mixes:
        kept = EARS if mix.before.id == "ears" else FRONT
        assert sum(one.before is not None for one in mix.sends) == len(kept.sends)


def _answered(show: Show, data: st.DataObject) -> Choices:
    """Answer what is unsure by chance, and each time another."""
    choices = proposed(BAND, show, match_band(BAND, show))
    sources = dict(choices.sources)
    for source in SOURCES:
        if source.id not in sources:
            free = [one for one in show.sources if one not in sources.values()]
            sources[source.id] = data.draw(st.sampled_from([ADD, LEAVE_OUT, *free]))
    return replace(choices, sources=sources)
