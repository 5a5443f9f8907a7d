"""Soundcheck by requests: what is suggested before the mark is bounded, and one typed level a mix makes it workable."""

import pytest

from monreq.domain import commands as c
from monreq.domain.cautions import Basis, CautionCode
from monreq.domain.events import Event, SendPut
from monreq.domain.guard_ear import counted_from, waits_for_start_levels
from monreq.domain.queue import Row
from monreq.domain.requests import Outcome
from monreq.domain.sense import MakesLittleSense
from monreq.domain.setup import Mix, Output, Setting, SourceKind
from monreq.domain.song_commands import BeginGap, BeginSong
from monreq.domain.typed_commands import EnterTyped
from tests.support.soundcheck import AMOUNTS, MUSICIANS, Soundcheck
from tests.support.stage import Stage


@pytest.fixture
def stage() -> Stage:
    """A singer in in-ears at the low start: three direct sources."""
    stage = Stage()
    stage.musician("singer")
    stage.in_ears("ears", "singer")
    for source in ("voice", "guitar", "click"):
        stage.source(source, kind=SourceKind.DIRECT)
    return stage


def row(stage: Stage, source: str | None, change: int = 60) -> Row:
    if stage.row("ears", source) is None:
        stage.ask("ears", source, change)
    found = stage.row("ears", source)
    assert found is not None
    return found


def raised_to_its_bound(stage: Stage, source: str | None = None) -> Row:
    """Take what is suggested until nothing is any more."""
    while (found := row(stage, source)).suggestion.move:
        stage.done(*(one.id for one in found.requests))
        stage.wait(60)
    return found


def enter(stage: Stage, **levels: int) -> tuple[Event, ...]:
    return stage.do(c.EnterSettings("ears", tuple((one, Setting(level)) for one, level in levels.items())))


def test_one_typed_level_a_mix_makes_a_soundcheck_by_requests() -> None:
    soundcheck = Soundcheck()
    soundcheck.type_start_levels(-140)

    soundcheck.play()

    assert soundcheck.most_off < AMOUNTS[-1]
    assert soundcheck.typed == len(MUSICIANS)


def test_from_the_low_start_by_far_more_figures_must_be_typed() -> None:
    soundcheck = Soundcheck()

    soundcheck.play()

    assert soundcheck.typed > 4 * len(MUSICIANS)


def test_suggestions_from_the_low_start_end_at_its_bound_and_say_what_it_counts_from(stage: Stage) -> None:
    found = raised_to_its_bound(stage)

    assert stage.level("ears", None) == -100 + stage.show.settings.in_ear_evening_tenths
    assert found.suggestion.cautions[0].code is CautionCode.EVENING_LIMIT
    assert found.suggestion.cautions[0].basis is Basis.LOW_START
    assert waits_for_start_levels(stage.show, "ears")


def test_a_mix_that_is_entered_as_a_whole_counts_from_all_of_it(stage: Stage) -> None:
    """The output went up by request before: it had used up what the new levels allow."""
    raised_to_its_bound(stage)

    enter(stage, voice=-140, guitar=-140, click=-140)

    began = stage.show.began_as_now("ears")
    assert began is not None
    assert began.levels.output.setting == stage.setting("ears", None)
    assert row(stage, None).suggestion.move == 30
    assert not waits_for_start_levels(stage.show, "ears")


def test_a_level_that_stood_so_already_counts_anew_with_the_whole_mix(stage: Stage) -> None:
    raised_to_its_bound(stage, "voice")
    stood = stage.level("ears", "voice")

    events = enter(stage, voice=stood, guitar=stood, click=stood)

    assert SendPut("ears", "voice", Setting(stood)) in events
    assert row(stage, "voice").suggestion.move == 30


def test_what_is_entered_as_it_began_changes_nothing(stage: Stage) -> None:
    assert enter(stage, voice=-250, guitar=-250, click=-250) == ()


def test_levels_of_some_sends_leave_the_count_of_the_others(stage: Stage) -> None:
    raised_to_its_bound(stage)
    before = stage.show.began_as_now("ears")

    enter(stage, voice=-260, guitar=-260)

    began = stage.show.began_as_now("ears")
    assert before is not None
    assert began is not None
    assert began.levels.output == before.levels.output
    assert row(stage, None).suggestion.move == 0


def test_an_output_that_is_up_by_request_is_not_counted_anew_after_the_mark(stage: Stage) -> None:
    stage.mark()
    raised_to_its_bound(stage)

    enter(stage, voice=-240, guitar=-240, click=-240)

    assert row(stage, None).suggestion.move == 0


def test_the_count_is_told_by_what_it_begins_with(stage: Stage) -> None:
    told = [counted_from(stage.show, "ears")]
    enter(stage, voice=-140, guitar=-140, click=-140)
    told.append(counted_from(stage.show, "ears"))
    stage.mark()
    told.append(counted_from(stage.show, "ears"))
    stage.wait(60)
    stage.mark()
    told.append(counted_from(stage.show, "ears"))
    stage.do(c.PutMix(Mix("ears", "Ears", Output.WEDGE, ("singer",))))
    told.append(counted_from(stage.show, "ears"))

    assert told == [Basis.LOW_START, Basis.START_LEVELS, Basis.MARK, Basis.FIRST_MARK, Basis.LOW_START]
    assert not waits_for_start_levels(stage.show, "ears")


@pytest.mark.parametrize(
    ("begins", "basis", "because"),
    [
        ((), Basis.JUST_NOW, "just_raised"),
        ((BeginSong(), BeginGap()), None, "in_steps"),
    ],
)
def test_a_second_raise_at_once_says_whether_it_waits_for_a_song_or_a_moment(
    stage: Stage, begins: tuple[c.Command, ...], basis: Basis | None, because: str
) -> None:
    enter(stage, voice=-140, guitar=-140, click=-140)
    for command in begins:
        stage.do(command)
    stage.done(*(one.id for one in row(stage, "voice").requests))

    again = row(stage, "voice")

    assert again.suggestion.move == 0
    assert (again.suggestion.cautions[0].code, again.suggestion.cautions[0].basis) == (
        CautionCode.RAISED_ALREADY,
        basis,
    )
    assert again.cut_because == because


@pytest.mark.parametrize(("is_marked", "because"), [(False, "set_by_hand"), (True, "loud_enough")])
def test_a_phone_is_told_apart_what_a_hand_still_does_and_what_is_enough(
    stage: Stage,
    is_marked: bool,  # noqa: FBT001 - a row of the table
    because: str,
) -> None:
    enter(stage, voice=-140, guitar=-140, click=-140)
    if is_marked:
        stage.mark()

    assert raised_to_its_bound(stage).cut_because == because


def test_a_typed_figure_past_the_bound_is_asked_about_and_then_counts_anew(stage: Stage) -> None:
    found = raised_to_its_bound(stage, "voice")
    answer = c.Answer(tuple(one.id for one in found.requests), Outcome.DONE, done=60)

    with pytest.raises(MakesLittleSense) as asked:
        stage.do(EnterTyped(answer))
    stage.do(EnterTyped(answer, confirmed=tuple(one.name for one in asked.value.doubts)))
    stage.wait(60)

    assert row(stage, "voice").suggestion.move == 30
