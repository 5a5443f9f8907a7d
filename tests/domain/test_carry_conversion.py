"""One kept mix in another show, as computed by hand: low starts, folds, pans, references, ends of the scale."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.band import KeptMix
from monreq.domain.carry_conversion import Converted, Levels, Task, convert
from monreq.domain.carry_refusals import ReferenceNotThere
from monreq.domain.carry_report import MixNote, SendNote
from monreq.domain.setup import Mix, Output, Setting, Settings
from tests.support.bands import EARS, FRONT, PAIR, SOURCES, WEDGE

HERE = {source.id: source for source in SOURCES}
PANS = {"kick": 0, "bass": -45, "voice": 0}
AS_PAIR = replace(WEDGE, output=Output.IN_EAR_PAIR)
AS_WEDGE = replace(PAIR, output=Output.WEDGE, auxes=())
FED_MONO = replace(PAIR, is_fed_mono=True)


def task(kept: KeptMix, before: Mix, after: Mix) -> Task:
    return Task(kept, before, after, HERE, PANS, Settings())


def levels_of(converted: Converted) -> dict[str, int]:
    return {source: setting.level_tenths for source, setting in converted.sends.items()}


def test_a_wedge_that_stays_one_starts_as_it_was_kept() -> None:
    converted = convert(task(FRONT, WEDGE, WEDGE), Levels())

    assert (converted.output, converted.sends) == (FRONT.output, FRONT.sends)
    assert converted.shift_tenths == 0
    assert set(converted.send_notes.values()) == {()}


def test_in_ears_of_this_very_show_come_back_as_they_were_kept() -> None:
    converted = convert(replace(task(EARS, PAIR, PAIR), is_same_evening=True), Levels())

    assert (converted.output, converted.sends) == (EARS.output, EARS.sends)


def test_in_ears_carried_to_in_ears_start_low_on_packs_that_nobody_has_seen() -> None:
    loud = replace(EARS, output=Setting(50))

    converted = convert(task(loud, PAIR, PAIR), Levels())

    # By hand: the loudest goes from -9 to -25 dB, so that all go down by 16 dB; the output from +5 to a new pair's -10.
    assert converted.sends == {
        "kick": Setting(-250),
        "bass": Setting(-260, -30),
        "keys": Setting(-310, 20),
        "voice": Setting(-270, 60),
        "click": Setting(-300),
        "hall": Setting(-460),
    }
    assert converted.output == Setting(-100)
    assert MixNote.STARTS_LOW in converted.notes


def test_wedge_to_in_ear_pair_keeps_the_balance_and_starts_low() -> None:
    converted = convert(task(FRONT, WEDGE, AS_PAIR), Levels())

    # By hand: the loudest send goes from -4 to -25 dB, so that all go down by 21 dB; the output starts at -10.
    assert converted.sends == {
        "voice": Setting(-250),
        "bass": Setting(-380, -45),
        "keys": Setting(-330, is_on=False),
    }
    assert converted.output == Setting(-100)
    assert converted.shift_tenths == -210
    assert converted.notes == (MixNote.BECAME_IN_EARS, MixNote.STARTS_LOW, MixNote.LIMITER_NOT_SAID)


def test_wedge_to_in_ear_pair_tells_which_sources_have_no_place() -> None:
    placed = replace(task(FRONT, WEDGE, AS_PAIR), pans={"bass": -45})

    converted = convert(placed, Levels())

    assert converted.sends["voice"].pan_percent == 0
    assert SendNote.NO_PLACE in converted.send_notes["voice"]
    assert SendNote.PANNED in converted.send_notes["bass"]
    assert (
        SendNote.NO_PLACE not in converted.send_notes["keys"]
    )  # stereo: a balance, which starts in the middle


def test_in_ear_pair_to_wedge_folds_and_leaves_click_and_audience_mics_out() -> None:
    converted = convert(task(EARS, PAIR, AS_WEDGE), Levels())

    # By hand: the loudest goes from -9 to -20 dB, so that all go down by 11 dB; the output was lower than a wedge's start.
    assert converted.sends == {
        "kick": Setting(-200),
        "bass": Setting(-210),
        "keys": Setting(-260),
        "voice": Setting(-220),
    }
    assert converted.output == Setting(-120)
    assert converted.send_notes["click"] == (SendNote.CLICK_LEFT_OUT,)
    assert converted.send_notes["hall"] == (SendNote.AUDIENCE_LEFT_OUT,)
    assert converted.send_notes["voice"] == (SendNote.FOLDED, SendNote.SHIFTED)
    assert converted.send_notes["keys"] == (SendNote.STEREO_FOLDED, SendNote.SHIFTED)
    assert converted.send_notes["kick"] == (SendNote.SHIFTED,)
    assert converted.notes == (MixNote.BECAME_WEDGE, MixNote.STARTS_LOW, MixNote.MARGIN_NOT_MEASURED)


def test_click_goes_into_a_wedge_only_where_it_was_wanted_and_is_cautioned() -> None:
    converted = convert(task(EARS, PAIR, AS_WEDGE), Levels(takes_click=True))

    assert converted.sends["click"] == Setting(-250)
    assert MixNote.CLICK_LEAKS in converted.notes


def test_pair_fed_mono_puts_all_in_the_middle_and_the_output_3_db_down() -> None:
    converted = convert(task(EARS, PAIR, FED_MONO), Levels())

    assert converted.output == Setting(-150)
    assert {setting.pan_percent for setting in converted.sends.values()} == {0}
    assert levels_of(converted) == {
        source: setting.level_tenths - 160 for source, setting in EARS.sends.items()
    }
    assert converted.notes == (MixNote.FED_MONO_NOW, MixNote.STARTS_LOW)


def test_pair_fed_mono_that_becomes_stereo_is_panned_and_no_louder() -> None:
    kept = replace(EARS, sends={"bass": Setting(-100), "voice": Setting(-110)})

    converted = convert(task(kept, FED_MONO, PAIR), Levels())

    assert converted.sends == {"bass": Setting(-250, -45), "voice": Setting(-260)}
    assert converted.output == Setting(-120)
    assert converted.notes == (MixNote.STEREO_NOW, MixNote.STARTS_LOW)


def test_reference_moves_every_send_by_one_figure() -> None:
    converted = convert(task(EARS, PAIR, PAIR), Levels(reference=("kick", -30)))

    # By hand: kick stood at -9 and stands at -3 on the new desk: everything is 6 dB up.
    assert levels_of(converted) == {
        "kick": -30,
        "bass": -40,
        "keys": -90,
        "voice": -50,
        "click": -80,
        "hall": -240,
    }
    assert (converted.output, converted.shift_tenths) == (EARS.output, 60)
    assert converted.notes == (MixNote.BY_REFERENCE,)


def test_output_that_was_read_on_the_new_desk_is_taken_as_it_stands() -> None:
    converted = convert(task(EARS, PAIR, PAIR), Levels(output_tenths=-50))

    assert (converted.output, levels_of(converted)["kick"]) == (Setting(-50), -250)
    assert converted.notes == (MixNote.STARTS_LOW, MixNote.OUTPUT_AS_READ)


def test_what_lies_beyond_the_scale_stops_at_its_end_and_is_told() -> None:
    converted = convert(task(EARS, PAIR, PAIR), Levels(reference=("hall", 90), output_tenths=300))

    # By hand: +39 dB; kick, bass, voice, click and keys would stand above +10.
    assert levels_of(converted) == {
        "kick": 100,
        "bass": 100,
        "keys": 100,
        "voice": 100,
        "click": 100,
        "hall": 90,
    }
    assert converted.send_notes["kick"] == (SendNote.SHIFTED, SendNote.CLIPPED)
    assert converted.send_notes["hall"] == (SendNote.SHIFTED,)
    assert (converted.output, MixNote.OUTPUT_CLIPPED in converted.notes) == (Setting(100), True)


@pytest.mark.parametrize("source", ["keys", "kick", "nosuch"])
def test_reference_that_is_off_or_not_there_is_refused(source: str) -> None:
    with pytest.raises(ReferenceNotThere):
        convert(task(FRONT, WEDGE, WEDGE), Levels(reference=(source, -30)))


def test_source_that_is_not_here_is_told() -> None:
    here = {one: source for one, source in HERE.items() if one != "bass"}

    converted = convert(replace(task(FRONT, WEDGE, WEDGE), sources=here), Levels())

    assert converted.send_notes["bass"] == (SendNote.SOURCE_LEFT_OUT,)
    assert set(converted.sends) == {"voice", "keys"}


SETTINGS = st.builds(Setting, st.integers(-900, 100), st.integers(-100, 100), st.booleans())
KEPT = st.builds(
    lambda sends, output: replace(EARS, sends=sends, output=output),
    st.dictionaries(st.sampled_from(list(HERE)), SETTINGS),
    st.builds(Setting, st.integers(-900, 100)),
)
MIXES = st.sampled_from([PAIR, FED_MONO, AS_WEDGE])


@given(KEPT, MIXES, MIXES)
def test_nothing_starts_above_what_was_kept_and_nothing_is_lost(
    kept: KeptMix, before: Mix, after: Mix
) -> None:
    converted = convert(task(kept, before, after), Levels())

    assert set(converted.send_notes) == set(kept.sends)
    assert converted.output.level_tenths <= kept.output.level_tenths
    for source, setting in converted.sends.items():
        assert setting.level_tenths <= kept.sends[source].level_tenths
        assert setting.is_on is kept.sends[source].is_on
        assert after.is_stereo or setting.pan_percent == 0


@given(KEPT, MIXES, MIXES)
def test_the_balance_is_kept_but_for_the_end_of_the_scale(kept: KeptMix, before: Mix, after: Mix) -> None:
    converted = convert(task(kept, before, after), Levels())

    moved = {
        setting.level_tenths - kept.sends[source].level_tenths
        for source, setting in converted.sends.items()
        if SendNote.CLIPPED not in converted.send_notes[source]
    }

    assert moved <= {converted.shift_tenths}


@given(KEPT, MIXES, st.sampled_from([PAIR, FED_MONO]))
def test_what_comes_into_in_ears_starts_no_higher_than_a_new_pair(
    kept: KeptMix, before: Mix, after: Mix
) -> None:
    converted = convert(task(kept, before, after), Levels())

    assert converted.output.level_tenths <= -100
    assert all(one.level_tenths <= -250 for one in converted.sends.values())
