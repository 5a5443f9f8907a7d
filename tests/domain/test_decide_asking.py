"""What musicians ask, and what is refused."""

import pytest

from monreq.domain import commands as c
from monreq.domain.decide_asking import MOST_WAITING
from monreq.domain.events import DESK
from monreq.domain.refusals import (
    ChangeTooLarge,
    MusicianRequired,
    NobodyInMix,
    NoChange,
    NoPanInMono,
    PanOutOfRange,
    SourceAlreadyOn,
    SourceNotInMix,
    SourceOff,
    SourceRequired,
    TalkbackNotLess,
    TooManyWaiting,
    UnknownMix,
    UnknownMusician,
    WordsRequired,
)
from monreq.domain.requests import Amount, Call, Kind
from monreq.domain.setup import Settings
from tests.support.stage import Stage


def test_request_changes_no_level(stage: Stage) -> None:
    before = stage.show.levels

    stage.ask("front", "voice", 30)

    assert stage.show.levels == before


def test_request_waits_under_the_revision_of_its_event(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)

    assert request == f"r{stage.show.revision}"
    assert list(stage.show.open_requests) == [request]


def test_request_keeps_who_asked_when_and_under_which_submission(stage: Stage) -> None:
    stage.wait(7)

    stage.do(c.AskForLevel("front", None, "voice", 30, client_id="abc"))

    (request,) = stage.show.open_requests.values()
    assert (request.musician, request.at_ms, request.client_id) == ("singer", stage.now_ms, "abc")


@pytest.mark.parametrize(
    ("amount", "is_more", "tenths"),
    [
        (Amount.TOUCH, True, 10),
        (Amount.SOME, True, 30),
        (Amount.LOT, True, 60),
        (Amount.SOME, False, -30),
    ],
)
def test_named_amount_is_its_figure_in_the_settings(
    stage: Stage, amount: Amount, tenths: int, *, is_more: bool
) -> None:
    stage.ask("front", "voice", c.NamedAmount(amount, is_more))

    assert [request.amount for request in stage.show.open_requests.values()] == [tenths]


def test_named_amount_follows_changed_settings(stage: Stage) -> None:
    stage.do(c.ChangeSettings(Settings(touch_tenths=5, some_tenths=20, lot_tenths=45)))

    stage.ask("front", "voice", c.NamedAmount(Amount.LOT, is_more=False))

    assert [request.amount for request in stage.show.open_requests.values()] == [-45]


def test_level_of_nothing_is_refused(stage: Stage) -> None:
    with pytest.raises(NoChange):
        stage.ask("front", "voice", 0)


@pytest.mark.parametrize("change", [120, -120])
def test_level_of_twelve_db_is_taken(stage: Stage, change: int) -> None:
    stage.ask("front", "voice", change)

    assert [request.amount for request in stage.show.open_requests.values()] == [change]


@pytest.mark.parametrize("change", [121, -121, 10**40])
def test_level_beyond_twelve_db_is_refused(stage: Stage, change: int) -> None:
    with pytest.raises(ChangeTooLarge):
        stage.ask("front", "voice", change)


def test_level_of_a_source_that_is_off_is_refused(stage: Stage) -> None:
    stage.correct("front", "voice", is_on=False)

    with pytest.raises(SourceOff):
        stage.ask("front", "voice", 30)


def test_level_of_a_source_outside_the_mix_is_refused(stage: Stage) -> None:
    with pytest.raises(SourceNotInMix):
        stage.ask("front", "click", 30)


@pytest.mark.parametrize("source", ["nosuch", "", "'; drop table", "\x00", "\ud800"])
def test_level_of_a_source_that_never_was_is_refused(stage: Stage, source: str) -> None:
    with pytest.raises(SourceNotInMix):
        stage.ask("front", source, 30)


@pytest.mark.parametrize("mix", ["nosuch", "", "front ", "mix:*"])
def test_request_in_a_mix_that_never_was_is_refused(stage: Stage, mix: str) -> None:
    with pytest.raises(UnknownMix):
        stage.ask(mix, "voice", 30)
    with pytest.raises(UnknownMix):
        stage.call(mix, Call.TALK)


def test_whole_mix_is_asked_without_a_source(stage: Stage) -> None:
    stage.ask("front", None, -30)

    assert stage.row("front", None) is not None


def test_talkback_cannot_be_asked_down_or_out(stage: Stage) -> None:
    with pytest.raises(TalkbackNotLess):
        stage.ask("front", "talk", -10)
    with pytest.raises(TalkbackNotLess):
        stage.ask("front", "talk", c.NamedAmount(Amount.TOUCH, is_more=False))
    with pytest.raises(TalkbackNotLess):
        stage.ask_out("front", "talk")


def test_talkback_can_be_asked_up(stage: Stage) -> None:
    request = stage.ask("front", "talk", 10)

    assert request in stage.show.open_requests


def test_pan_is_asked_in_a_stereo_mix(stage: Stage) -> None:
    stage.ask_pan("ears", "voice", -20, "bass")

    (request,) = stage.show.open_requests.values()
    assert (request.key.kind, request.amount) == (Kind.PAN, -20)


def test_pan_in_a_wedge_is_refused(stage: Stage) -> None:
    with pytest.raises(NoPanInMono):
        stage.ask_pan("front", "voice", 20)


def test_pan_in_an_in_ear_pair_fed_mono_is_refused(stage: Stage) -> None:
    stage.in_ears("mono", "singer", is_fed_mono=True)

    with pytest.raises(NoPanInMono):
        stage.ask_pan("mono", "voice", 20)


def test_pan_needs_a_source_a_change_and_a_limit(stage: Stage) -> None:
    with pytest.raises(SourceRequired):
        stage.ask_pan("ears", None, 20, "bass")
    with pytest.raises(NoChange):
        stage.ask_pan("ears", "voice", 0, "bass")
    with pytest.raises(PanOutOfRange):
        stage.ask_pan("ears", "voice", -201, "bass")


def test_pan_of_a_source_that_is_off_is_refused(stage: Stage) -> None:
    stage.correct("ears", "voice", is_on=False)

    with pytest.raises(SourceOff):
        stage.ask_pan("ears", "voice", 20, "bass")


def test_in_and_out_need_a_source(stage: Stage) -> None:
    with pytest.raises(SourceRequired):
        stage.ask_in("front", None)


def test_in_is_refused_for_a_source_that_is_in(stage: Stage) -> None:
    with pytest.raises(SourceAlreadyOn):
        stage.ask_in("front", "voice")


def test_out_is_refused_for_a_source_that_is_out(stage: Stage) -> None:
    stage.correct("front", "voice", is_on=False)

    with pytest.raises(SourceOff):
        stage.ask_out("front", "voice")


def test_in_is_taken_against_anothers_waiting_out(stage: Stage) -> None:
    stage.ask_out("ears", "voice", "bass")

    stage.ask_in("ears", "voice", "drummer")

    row = stage.row("ears", "voice", Kind.IN_OUT)
    assert row is not None
    assert row.by_musician == (("bass", -1), ("drummer", 1))


def test_sound_keeps_its_words(stage: Stage) -> None:
    stage.ask_sound("front", "voice", " too\tharsh <b>& sharp</b> ")

    (request,) = stage.show.open_requests.values()
    assert request.words == "too harsh <b>& sharp</b>"


@pytest.mark.parametrize("words", ["", "   ", "\n\t", "\u202e\u200f", "\x00\x07"])
def test_sound_without_readable_words_is_refused(stage: Stage, words: str) -> None:
    with pytest.raises(WordsRequired):
        stage.ask_sound("front", "voice", words)


def test_sound_of_a_source_outside_the_mix_is_refused(stage: Stage) -> None:
    with pytest.raises(SourceNotInMix):
        stage.ask_sound("front", "click", "too loud")


def test_who_asks_must_be_said_in_a_shared_mix(stage: Stage) -> None:
    with pytest.raises(MusicianRequired):
        stage.ask("ears", "voice", 30)


@pytest.mark.parametrize("musician", ["singer", "nobody", "", "desk"])
def test_only_a_musician_of_the_mix_can_ask_in_it(stage: Stage, musician: str) -> None:
    with pytest.raises(UnknownMusician):
        stage.ask("ears", "voice", 30, musician)


def test_fifty_may_wait_and_no_more(stage: Stage) -> None:
    for _ in range(MOST_WAITING):
        stage.ask("front", "voice", 10)

    with pytest.raises(TooManyWaiting):
        stage.ask("front", "drums", 10)

    assert len(stage.show.open_requests) == 50


def test_limit_of_waiting_is_each_musicians_own(stage: Stage) -> None:
    for _ in range(MOST_WAITING):
        stage.ask("ears", "voice", 10, "bass")

    request = stage.ask("ears", "voice", 10, "drummer")

    assert request in stage.show.open_requests


def test_desk_may_enter_requests_beyond_the_limit(stage: Stage) -> None:
    for _ in range(MOST_WAITING):
        stage.ask("front", "voice", 10)

    request = stage.ask("front", "drums", 10, by=DESK)

    assert request in stage.show.open_requests


def test_a_mix_that_nobody_hears_is_asked_for_by_nobody(stage: Stage) -> None:
    stage.wedge("fill")

    with pytest.raises(NobodyInMix):
        stage.ask("fill", "voice", 30)
