"""How sources, musicians, mixes and their sends are put, and what is refused."""

import pytest

from monreq.domain import commands as c
from monreq.domain import events as e
from monreq.domain.refusals import (
    BadId,
    BadSetting,
    IdTaken,
    NameRequired,
    NoPanInMono,
    OutsideRange,
    PanOutOfRange,
    Refusal,
    SourceNotInMix,
    TextTooLong,
    TooManyAuxes,
    UnknownMix,
    UnknownMusician,
    UnknownSource,
)
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind, SourceUse
from tests.support.stage import Stage

NOT_IDS = ["", "a" * 13, "Voice", "a b", "a-b", "ä", "\u0661", "a\n", "../x", "mix:*", "\x00"]


def test_new_source_joins_every_mix_that_it_suits_low_and_on(stage: Stage) -> None:
    stage.source("horn")

    assert stage.setting("front", "horn") == Setting(-200)
    assert stage.setting("ears", "horn") == Setting(-250)


@pytest.mark.parametrize("use", [SourceUse.CLICK, SourceUse.AUDIENCE_MIC])
def test_click_and_audience_mics_join_in_ears_only(stage: Stage, use: SourceUse) -> None:
    stage.source("extra", use=use)

    assert stage.setting("ears", "extra") == Setting(-250)
    with pytest.raises(SourceNotInMix):
        stage.setting("front", "extra")


def test_source_that_joins_after_the_mark_is_off(stage: Stage) -> None:
    stage.mark()

    stage.source("late")

    assert stage.setting("front", "late") == Setting(-200, is_on=False)


def test_source_put_again_replaces_its_facts_and_moves_nothing(stage: Stage) -> None:
    stage.put("front", "voice", -100)

    events = stage.do(c.PutSource(Source("voice", "Lead voice", SourceKind.OPEN_MIC)))

    assert events == (e.SourcePut(Source("voice", "Lead voice", SourceKind.OPEN_MIC)),)
    assert stage.level("front", "voice") == -100


def test_same_source_again_is_no_event(stage: Stage) -> None:
    assert stage.do(c.PutSource(stage.show.sources["voice"])) == ()


@pytest.mark.parametrize("bad", NOT_IDS)
def test_ids_are_small_letters_and_digits(stage: Stage, bad: str) -> None:
    with pytest.raises(BadId):
        stage.do(c.PutSource(Source(bad, "Voice", SourceKind.OPEN_MIC)))
    with pytest.raises(BadId):
        stage.do(c.PutMusician(Musician(bad, "Singer")))
    with pytest.raises(BadId):
        stage.do(c.PutMix(Mix(bad, "Front", Output.WEDGE, ())))


@pytest.mark.parametrize("good", ["a", "9", "a" * 12])
def test_ids_of_one_to_twelve_are_taken(stage: Stage, good: str) -> None:
    stage.source(good)

    assert good in stage.show.sources


def test_no_musician_can_be_called_as_the_desk_is(stage: Stage) -> None:
    with pytest.raises(IdTaken):
        stage.musician(e.DESK)


@pytest.mark.parametrize("name", ["", " ", "\u200e\u202e", "\x00\x1f"])
def test_names_must_be_readable(stage: Stage, name: str) -> None:
    with pytest.raises(NameRequired):
        stage.do(c.PutSource(Source("horn", name, SourceKind.OPEN_MIC)))
    with pytest.raises(NameRequired):
        stage.do(c.PutMusician(Musician("horn", name)))
    with pytest.raises(NameRequired):
        stage.do(c.PutMix(Mix("horn", name, Output.WEDGE, ())))
    with pytest.raises(NameRequired):
        stage.do(c.RenameShow(name))


def test_names_and_places_have_a_limit(stage: Stage) -> None:
    with pytest.raises(TextTooLong):
        stage.musician("horn", "x" * 61)
    with pytest.raises(TextTooLong):
        stage.do(c.PutMix(Mix("horn", "Horn", Output.WEDGE, (), place="x" * 41)))


def test_musician_put_again_is_renamed_once(stage: Stage) -> None:
    renamed = stage.do(c.PutMusician(Musician("singer", "Lead singer")))
    again = stage.do(c.PutMusician(Musician("singer", "Lead singer")))

    assert renamed == (e.MusicianPut(Musician("singer", "Lead singer")),)
    assert again == ()


def test_mix_begins_with_an_output_and_the_sources_that_suit_it(stage: Stage) -> None:
    stage.wedge("fill")

    sends = [source.id for source, _ in stage.show.sends_in_order("fill")]
    assert sends == ["voice", "drums", "guitar", "talk"]
    assert stage.setting("fill", None) == Setting(0)


def test_in_ear_mix_begins_lower_than_a_wedge(stage: Stage) -> None:
    assert (stage.level("ears", None), stage.level("ears", "voice")) == (-100, -250)
    assert (stage.level("front", None), stage.level("front", "voice")) == (0, -200)


@pytest.mark.parametrize("trim", [300, -300])
def test_source_has_a_trim_of_up_to_thirty_db(stage: Stage, trim: int) -> None:
    stage.do(c.PutSource(Source("horn", "Horn", SourceKind.OPEN_MIC, trim_tenths=trim)))

    assert stage.show.sources["horn"].trim_tenths == trim


@pytest.mark.parametrize("trim", [301, -301, 10**30])
def test_source_with_a_trim_that_no_channel_needs_is_refused(stage: Stage, trim: int) -> None:
    with pytest.raises(BadSetting):
        stage.do(c.PutSource(Source("horn", "Horn", SourceKind.OPEN_MIC, trim_tenths=trim)))


def test_mix_of_unknown_musicians_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMusician):
        stage.wedge("fill", "singer", "nobody")


@pytest.mark.parametrize("auxes", [(0,), (1000,), (-1,)])
def test_mix_on_auxes_that_no_desk_has_is_refused(stage: Stage, auxes: tuple[int, ...]) -> None:
    with pytest.raises(BadSetting):
        stage.do(c.PutMix(Mix("fill", "Fill", Output.WEDGE, (), auxes=auxes)))


@pytest.mark.parametrize(
    ("output", "is_fed_mono", "auxes"),
    [
        (Output.WEDGE, False, (1, 2)),
        (Output.IN_EAR_PAIR, True, (1, 2)),
        (Output.IN_EAR_PAIR, False, (1, 2, 3)),
    ],
)
def test_mix_on_more_auxes_than_it_has_sides_is_refused(
    stage: Stage, output: Output, *, is_fed_mono: bool, auxes: tuple[int, ...]
) -> None:
    with pytest.raises(TooManyAuxes):
        stage.do(c.PutMix(Mix("fill", "Fill", output, (), auxes=auxes, is_fed_mono=is_fed_mono)))


def test_wedge_is_never_marked_as_fed_mono(stage: Stage) -> None:
    stage.do(c.PutMix(Mix("fill", "Fill", Output.WEDGE, (), is_fed_mono=True)))

    assert not stage.show.mixes["fill"].is_fed_mono


def test_mix_put_again_keeps_its_levels(stage: Stage) -> None:
    stage.put("front", "voice", -77)

    again = stage.do(c.PutMix(stage.show.mixes["front"]))
    stage.wedge("front", "singer", name="Centre wedge")

    assert again == ()
    assert stage.level("front", "voice") == -77
    assert stage.show.mixes["front"].name == "Centre wedge"


def test_mix_that_becomes_mono_loses_its_pan_and_answers_what_waits_for_it(stage: Stage) -> None:
    stage.put("ears", "voice", -90, pan=40)
    pan = stage.ask_pan("ears", "voice", 20, "bass")
    level = stage.ask("ears", "voice", 20, "bass")

    stage.in_ears("ears", "bass", "drummer", is_fed_mono=True)

    assert stage.setting("ears", "voice") == Setting(-250)
    assert list(stage.show.open_requests) == [level]
    assert pan in stage.show.closed


@pytest.mark.parametrize(
    ("command", "refusal"),
    [
        (c.RemoveSource("nosuch"), UnknownSource),
        (c.RemoveMusician("nosuch"), UnknownMusician),
        (c.RemoveMix("nosuch"), UnknownMix),
        (c.RemoveSend("nosuch", "voice"), UnknownMix),
        (c.RemoveSend("front", "click"), SourceNotInMix),
        (c.ReorderSources(("voice", "nosuch")), UnknownSource),
        (c.ReplaceCode("nosuch"), UnknownMix),
        (c.PutSend("nosuch", "voice", Setting(0)), UnknownMix),
        (c.PutSend("front", "nosuch", Setting(0)), UnknownSource),
        (c.PutSend("front", "voice", Setting(101)), OutsideRange),
        (c.PutSend("front", "voice", Setting(0, 1)), NoPanInMono),
        (c.PutSend("ears", "voice", Setting(0, -101)), PanOutOfRange),
    ],
)
def test_set_up_of_what_is_not_there_is_refused(
    stage: Stage, command: c.Command, refusal: type[Refusal]
) -> None:
    before = stage.show

    with pytest.raises(refusal):
        stage.do(command)

    assert stage.show == before


def test_sources_are_reordered_and_those_left_out_follow(stage: Stage) -> None:
    stage.do(c.ReorderSources(("guitar", "voice", "guitar")))
    again = stage.do(c.ReorderSources(("guitar", "voice")))

    assert list(stage.show.sources) == ["guitar", "voice", "drums", "talk", "click"]
    assert again == ()


def test_send_entered_as_it_stands_is_no_event(stage: Stage) -> None:
    assert stage.do(c.PutSend("front", "voice", Setting(-200))) == ()


def test_click_can_be_put_into_a_wedge_on_purpose(stage: Stage) -> None:
    stage.put("front", "click", -200)

    assert stage.level("front", "click") == -200


def test_codes_are_replaced_one_by_one(stage: Stage) -> None:
    stage.do(c.ReplaceCode("front"))
    stage.do(c.ReplaceCode("front"))
    stage.do(c.ReplaceCode(None))

    generations = [stage.show.generation(subject) for subject in ("front", "ears", None)]
    assert generations == [2, 0, 1]
