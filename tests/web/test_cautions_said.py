"""What is said beside a raise that is cut, on the desk and on the phone: only what holds, and what helps."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.requests import Call, Outcome
from monreq.domain.setup import Mix, Musician, Output, Setting, Settings, Source, SourceKind
from monreq.domain.song_commands import BeginGap, BeginSong
from monreq.web import wording
from monreq.web.row_view import RowView, row_view
from tests.support.ear_levels import COUPLER
from tests.support.evening import Evening
from tests.support.stage import Stage
from tests.support.visitor import MINUS, Visitor

LINK = "at its low start: type the start levels first"
ENTER = "enter these start levels"


@pytest.fixture
def stage() -> Stage:
    """A singer in in-ears, and another in a wedge, both at the low start."""
    stage = Stage()
    for mix, put in (("ears", stage.in_ears), ("front", stage.wedge)):
        put(mix, stage.musician(f"{mix}singer"))
    stage.source("voice")
    stage.source("guitar", kind=SourceKind.DIRECT)
    return stage


def asked(stage: Stage, mix: str, source: str | None, change: int = 60) -> RowView:
    if stage.row(mix, source) is None:
        stage.ask(mix, source, change)
    row = stage.row(mix, source)
    assert row is not None
    return row_view(stage.show, row)


def take(stage: Stage, mix: str, source: str | None) -> None:
    row = stage.row(mix, source)
    assert row is not None
    stage.done(*(one.id for one in row.requests))


def at_its_bound(stage: Stage) -> RowView:
    while (said := asked(stage, "ears", None)).move != "0":
        take(stage, "ears", None)
        stage.wait(60)
    return said


def entered(stage: Stage) -> None:
    stage.do(c.EnterSettings("ears", (("voice", Setting(-140)), ("guitar", Setting(-140)))))


def test_a_bound_says_that_it_counts_from_the_low_start(stage: Stage) -> None:
    assert at_its_bound(stage).cautions == (
        "went up enough since its low start: 0 more; type the start levels first",
    )


def test_a_bound_says_that_it_counts_from_the_start_levels(stage: Stage) -> None:
    entered(stage)

    assert at_its_bound(stage).cautions == (
        "went up enough since its start levels: 0 more; what you type counts anew",
    )


def test_a_bound_says_from_which_mark_it_counts(stage: Stage) -> None:
    stage.mark()
    said = [at_its_bound(stage).cautions]
    stage.mark()

    said.append(asked(stage, "ears", None).cautions)

    assert said == [
        ("went up enough since soundcheck: 0 more",),
        ("went up enough since the first soundcheck mark: 0 more",),
    ]


def test_a_mix_that_came_low_after_the_mark_is_not_told_to_type_start_levels(stage: Stage) -> None:
    stage.mark()
    stage.do(c.PutMix(Mix("ears", "Ears", Output.IN_EAR_PAIR, ("earssinger",), is_fed_mono=True)))
    stage.do(c.PutMix(Mix("side", "Side", Output.IN_EAR_PAIR, ("earssinger",))))
    stage.do(c.EnterSettings("side", (("voice", Setting(-250)),)))
    while (said := asked(stage, "side", None)).move != "0":
        take(stage, "side", None)
        stage.wait(60)

    assert said.cautions == ("went up enough since its low start: 0 more",)


@pytest.mark.parametrize(
    ("begins", "said"),
    [
        ((), "0 more within 30 s of the last raise: listen first"),
        ((BeginSong(), BeginGap()), "went up in this gap already: 0 more"),
        ((BeginSong(),), "went up in this song already: 0 more"),
    ],
)
def test_a_second_raise_says_what_it_waits_for(
    stage: Stage, begins: tuple[c.Command, ...], said: str
) -> None:
    entered(stage)
    for command in begins:
        stage.do(command)
    asked(stage, "ears", "voice")
    take(stage, "ears", "voice")

    assert asked(stage, "ears", "voice").cautions == (said,)


def test_beside_a_suggested_nothing_no_margin_names_a_bound_of_its_own(stage: Stage) -> None:
    stage.put("front", "voice", -20)
    stage.call("front", Call.SQUEAL)
    unmeasured = asked(stage, "front", "voice").cautions
    stage.read_margin("front", "voice", 90)
    stage.call("front", Call.SQUEAL)

    assert unmeasured == (
        "near where it squealed: 0 more until it is rung out again",
        "feedback margin not measured",
    )
    assert asked(stage, "front", "voice").cautions[1] == "feedback margin stale"


def test_a_margin_that_cuts_nothing_is_named_without_its_bound(stage: Stage) -> None:
    assert asked(stage, "front", "voice", 10).cautions == ("feedback margin not measured",)


def test_at_the_end_of_the_range_nothing_is_said_of_one_trip(stage: Stage) -> None:
    stage.put("ears", "guitar", 90)

    said = asked(stage, "ears", "guitar")

    assert (said.move, said.cautions, said.because) == ("10", ("the end of the desk's range",), "")


def test_a_raise_that_makes_up_for_a_preamp_counts_for_no_tighter_bound(stage: Stage) -> None:
    stage.put("front", "voice", -100)
    change = stage.plan_preamp("voice", 60)
    stage.ask("front", "voice", 60)

    said = asked(stage, "front", "voice").cautions

    assert stage.compensating(change)
    assert "feedback margin not measured: at most +3" in said


def test_what_comes_in_lower_than_a_margin_allows_names_one_level_only(stage: Stage) -> None:
    stage.put("front", "voice", -100)
    stage.put("front", "guitar", -100)
    stage.mark()
    stage.correct("front", "voice", is_on=False)
    stage.correct("front", "voice", -50)
    stage.ask_in("front", "voice")
    (row,) = stage.rows

    assert row_view(stage.show, row).cautions == (
        f"comes in at {MINUS}10, not at {MINUS}5",
        "feedback margin not measured",
    )


def test_the_ceiling_of_a_rule_has_its_own_words_on_the_phone(stage: Stage) -> None:
    """Source: 29 CFR 1910.95 Table G-16, which ends at 115 dB(A)."""
    entered(stage)
    stage.mark()
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))
    stage.do(m.MeasureEarLevel("ears", 1096, COUPLER, is_correction=True))

    said = asked(stage, "ears", None)

    assert said.cautions[0] == (
        "above 115 dB(A) no time is permitted, and the level may be 4.4 dB higher: +0.9 more"
    )
    assert wording.reason(said.because) == (
        "near a level at which no time is permitted; ask for less of something else, or come to the desk"
    )


def test_who_asked_before_it_hurt_reads_that_asking_again_helps(stage: Stage) -> None:
    entered(stage)
    asked(stage, "ears", "voice")
    stage.call("ears", Call.HURTS)
    before = asked(stage, "ears", "voice").because
    stage.done(*(one.id for one in stage.rows[0].requests), change=-60)
    stage.withdraw(next(one.id for one in stage.show.open_requests.values()), "ears")

    assert wording.reason(before) == "it hurt since; ask again if you still want it"
    assert asked(stage, "ears", "voice").move == "30"


def test_who_asks_to_where_it_hurt_reads_so_whoever_called(stage: Stage) -> None:
    entered(stage)
    stage.call("ears", Call.HURTS)

    said = asked(stage, "ears", "voice")

    assert (
        wording.reason(said.because) == "near what hurt; ask for less of something else, or come to the desk"
    )


# The pages.


def unmarked(evening: Evening) -> None:
    shows = evening.monreq.shows
    shows.open("show2", c.OpenShow("Tomorrow"))
    for name in ("Voice", "Kick"):
        shows.submit("show2", c.PutSource(Source(name.lower(), name, SourceKind.DIRECT)))
    shows.submit("show2", c.PutMusician(Musician("singer", "Ada")))
    shows.submit("show2", c.PutMix(Mix("solo", "Solo", Output.IN_EAR_PAIR, ("singer",))))


@pytest.fixture
def preparing(evening: Evening, engineer: Visitor) -> Visitor:
    """An engineer at a show without a mark, one mix at its low start, something asked of it."""
    unmarked(evening)
    show = evening.monreq.shows.submit("show2", c.AskForLevel("solo", None, "voice", 30)).show
    engineer.scan(evening.monreq.link(show, None, ""))
    return engineer


def test_the_desk_links_to_the_start_levels_of_a_mix_at_its_low_start(preparing: Visitor) -> None:
    page = preparing.get("/desk")

    (link,) = [one for one in page.markup.root.every("a") if one.text == LINK]
    assert link.attrs["href"] == "/desk/mix/solo#start"
    assert "at its low start" in page.place("mix-solo")
    assert "This mix is at its low start." in preparing.get("/desk/mix/solo").text


def test_one_level_for_all_that_is_on_enters_the_whole_mix(evening: Evening, preparing: Visitor) -> None:
    page = preparing.do(preparing.get("/desk/mix/solo"), ENTER, {"all-level": "-14", "kick-level": "-20"})

    levels = evening.monreq.shows.state("show2").levels["solo"]
    assert page.notes == ["2 entered."]
    assert [at.setting.level_tenths for at in levels.sends.values()] == [-140, -200]
    assert levels.output.setting == Setting(-100)
    assert LINK not in preparing.get("/desk").text
    assert "at its low start" not in page.text


def test_what_is_off_stays_as_it_is_when_all_is_entered(evening: Evening, preparing: Visitor) -> None:
    evening.monreq.shows.submit("show2", c.PutSend("solo", "kick", Setting(-250, is_on=False)))

    preparing.do(preparing.get("/desk/mix/solo"), ENTER, {"all-level": "-14"})

    sends = evening.monreq.shows.state("show2").levels["solo"].sends
    assert (sends["voice"].setting, sends["kick"].setting) == (Setting(-140), Setting(-250, is_on=False))


def test_an_unreadable_level_for_all_is_refused_and_stays_in_its_field(
    evening: Evening, preparing: Visitor
) -> None:
    before = evening.monreq.shows.state("show2")

    page = preparing.do(preparing.get("/desk/mix/solo"), ENTER, {"all-level": "loud"})

    assert page.notes == ["All that is on: Type the level as it stands on the desk, like -12 or -4.5."]
    assert evening.monreq.shows.state("show2") == before


def test_after_the_mark_nothing_is_said_of_start_levels(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)

    assert LINK not in engineer.get("/desk").text
    assert "all that is on at" not in engineer.get("/desk/mix/front").text


def test_a_margin_that_a_squeal_disproved_shows_no_figure_that_grows(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(m.ReadMargin("front", "voice", 90, 1))
    evening.do(c.CallDesk("front", "singer", Call.SQUEAL))
    evening.do(c.Answer(tuple(evening.show.open_requests), outcome=Outcome.DONE, done=-30))

    lines = engineer.get("/desk/mix/front").markup.root.one(id="margins").every("li")

    assert next(lines).text == "Voice stale read 9 dB with 1 open; it squealed since"
