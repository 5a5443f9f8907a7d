"""The queue at the desk: what each answer records, and what undo takes back."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.requests import Call, Outcome, RequestState
from monreq.domain.setup import Setting
from tests.support.desk_page import DRUMS, VOICE, press, rows, states
from tests.support.evening import Evening
from tests.support.visitor import MINUS, Visitor


def test_done_records_the_move_that_was_shown(evening: Evening, engineer: Visitor) -> None:
    request = evening.ask("front", "voice", 60)

    page = press(engineer, engineer.get("/desk"), f"done:{VOICE}")

    assert rows(page) == []
    assert evening.level("front", "voice") == -10
    assert states(evening, request) == [RequestState.DONE_IN_PART]


@pytest.mark.parametrize(
    ("typed", "level"),
    [
        ("+4", 0),
        (f"{MINUS}1,5", -55),
        ("-1.5", -55),
        (" + 2.5 dB ", -15),
        ("0", -40),
        ("@ -12", -120),
        (f"@{MINUS}12,5", -125),
        ("@0", 0),
        ("@ 3.5", 35),
    ],
)
def test_a_figure_is_the_change_or_the_level_read_off(
    evening: Evening, engineer: Visitor, typed: str, level: int
) -> None:
    evening.ask("front", "voice", 30 if level >= -40 else -30)

    page = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure=typed)

    assert page.notes == []
    assert rows(page) == []
    assert evening.level("front", "voice") == level


@pytest.mark.parametrize("typed", ["4", "", "loud", "+", "@", "++4", "+4 +4", "1e3", "+1/2", "@@4"])
def test_an_unreadable_figure_is_refused_with_an_example(
    evening: Evening, engineer: Visitor, typed: str
) -> None:
    evening.ask("front", "voice", 30)
    before = evening.show

    page = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure=typed)

    assert page.notes == [
        "Type the change with its sign, like +4 or -1.5, or @ and the level read off, like @ -12."
    ]
    assert evening.show == before


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("+0.25", "Levels and changes are whole tenths of a dB."),
        ("+99", "That is outside the range of the desk."),
        ("@ 10.1", "That is outside the range of the desk."),
    ],
)
def test_a_figure_that_no_desk_can_have_is_refused(
    evening: Evening, engineer: Visitor, typed: str, sentence: str
) -> None:
    evening.ask("front", "voice", 30)

    page = press(engineer, engineer.get("/desk"), f"figure:{VOICE}", figure=typed)

    assert page.notes == [sentence]
    assert evening.level("front", "voice") == -40


def test_pan_is_answered_as_suggested_or_in_words(evening: Evening, engineer: Visitor) -> None:
    place = "row-ears-voice-pan"
    evening.do(c.AskForPan("ears", "bass", "voice", -20))

    page = press(engineer, engineer.get("/desk"), f"done:{place}")
    evening.do(c.AskForPan("ears", "bass", "voice", 20))
    page = press(engineer, engineer.get("/desk"), f"figure:{place}", figure="right 50")

    assert page.notes == []
    assert evening.show.position("ears", "voice").setting.pan_percent == 30


def test_in_and_out_are_answered(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.AskForInOrOut("front", None, "guitar", is_in=True))

    press(engineer, engineer.get("/desk"), "done:row-front-guitar-in_out")

    assert evening.show.position("front", "guitar").setting == Setting(-160, is_on=True)


def test_a_call_that_hurts_is_answered_by_the_output(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.CallDesk("front", None, Call.HURTS))

    page = press(engineer, engineer.get("/desk"), "done:row-front--call")

    assert rows(page) == []
    assert evening.level("front", None) == -120


def test_whole_mix_moves_the_output_and_no_send(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", None, -30)

    press(engineer, engineer.get("/desk"), "done:row-front--level")

    assert evening.level("front", None) == -90
    assert evening.level("front", "voice") == -40


def test_sound_is_answered_without_a_figure(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.AskAboutSound("front", None, "voice", "muddy"))
    page = engineer.get("/desk")

    after = press(engineer, page, "done:row-front-voice-sound")

    assert "muddy" in page.place("row-front-voice-sound")
    assert not [one for one in page.markup.buttons() if one.value == "figure:row-front-voice-sound"]
    assert rows(after) == []
    assert evening.level("front", "voice") == -40


@pytest.mark.parametrize(
    ("code", "words", "reason"),
    [
        (":closer_to_mic", "", "closer_to_mic"),
        (":near_feedback", "half typed", "near_feedback"),
        ("", "Your monitor is in the mic", "Your monitor is in the mic"),
    ],
)
def test_not_done_says_why(evening: Evening, engineer: Visitor, code: str, words: str, reason: str) -> None:
    request = evening.ask("front", "voice", 30)
    page = engineer.get("/desk")

    engineer.do(page, page.button_with(f"not_done:{VOICE}{code}"), {f"{VOICE}-words": words})

    (decision,) = evening.show.decisions.values()
    assert (decision.outcome, decision.reason) == (Outcome.NOT_DONE, reason)
    assert states(evening, request) == [RequestState.NOT_DONE]
    assert evening.level("front", "voice") == -40


def test_not_done_without_a_reason_is_refused(evening: Evening, engineer: Visitor) -> None:
    request = evening.ask("front", "voice", 30)
    page = engineer.get("/desk")
    fields = page.sent_by(page.button_with(f"not_done:{VOICE}"), {f"{VOICE}-words": " "})

    answer = engineer.post("/desk", fields)

    assert engineer.get(answer.headers["Location"]).notes == [
        "Say why it was not done: the musician reads it."
    ]
    assert states(evening, request) == [RequestState.WAITING]


def test_set_aside_goes_last_and_can_still_be_answered(evening: Evening, engineer: Visitor) -> None:
    request = evening.ask("front", "voice", 30)
    evening.ask("ears", "drums", 30, "bass")

    page = press(engineer, engineer.get("/desk"), f"set_aside:{VOICE}")
    aside = states(evening, request)
    after = press(engineer, page, f"done:{VOICE}")

    assert rows(page) == [DRUMS, VOICE]
    assert "set aside" in page.place(VOICE)
    assert aside == [RequestState.SET_ASIDE]
    assert rows(after) == [DRUMS]
    assert evening.level("front", "voice") == -10


def test_undo_takes_the_move_back_and_lets_the_request_wait_again(
    evening: Evening, engineer: Visitor
) -> None:
    request = evening.ask("front", "voice", 30)
    page = press(engineer, engineer.get("/desk"), f"done:{VOICE}")
    (decision,) = evening.show.decisions

    page = press(engineer, page, f"undo:{decision}")

    assert rows(page) == [VOICE]
    assert evening.level("front", "voice") == -40
    assert states(evening, request) == [RequestState.WAITING]


def test_undo_of_what_was_undone_is_told(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    page = press(engineer, engineer.get("/desk"), f"done:{VOICE}")
    (decision,) = evening.show.decisions
    evening.do(c.Undo(decision))

    after = press(engineer, page, f"undo:{decision}")

    assert after.notes == ["This decision was undone already."]
    assert evening.level("front", "voice") == -40


def test_what_was_cut_is_told_to_the_musician(evening: Evening, engineer: Visitor, singer: Visitor) -> None:
    evening.do(m.ReadMargin("front", "voice", 70, 3))
    evening.ask("front", "voice", 60)

    press(engineer, engineer.get("/desk"), f"done:{VOICE}")

    assert "asked +6, done +4: near feedback" in singer.get("/mix/front").place("strip-voice")


def test_a_row_with_many_requests_is_answered_in_one(evening: Evening, engineer: Visitor) -> None:
    for _ in range(400):
        evening.ask("front", "voice", -1, by="desk")

    page = press(engineer, engineer.get("/desk"), f"done:{VOICE}")

    assert page.notes == []
    assert rows(page) == []
    assert evening.level("front", "voice") == -440
