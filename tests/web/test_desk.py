"""The queue at the desk: what is read there, and what each answer records."""

import json

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.requests import Call, Outcome, RequestState
from monreq.domain.setup import Mix, Output, Setting, Source, SourceKind
from monreq.web.desk_view import desk_places
from monreq.web.places import PlaceRenderer
from tests.support.evening import Evening
from tests.support.visitor import JSON, Page, Visitor

MINUS = "\N{MINUS SIGN}"
VOICE = "row-front-voice-level"
DRUMS = "row-ears-drums-level"


def press(visitor: Visitor, page: Page, value: str, **typed: str) -> Page:
    """Press the button that sends a value, with fields of its row typed, and see where it leads."""
    place = value.partition(":")[2]
    return visitor.do(page, page.button_with(value), {f"{place}-{name}": one for name, one in typed.items()})


def rows(page: Page) -> list[str]:
    return [
        one.attrs["id"]
        for one in page.markup.root.one(id="queue").every("li")
        if one.attrs["id"].startswith("row-")
    ]


def cells(page: Page, mix: str) -> tuple[str, str]:
    """What the table of mixes says of one: its drift, and what waits."""
    found = [one.text for one in page.markup.root.one(id=f"mix-{mix}").every("td")]
    return found[0], found[-1]


def states(evening: Evening, *requests: str) -> list[RequestState]:
    """Where requests stand: answered ones by the decision that stands."""
    show = evening.show
    found = {
        request.id: decision.state_of(request)
        for decision in show.decisions.values()
        if not decision.is_undone
        for request in decision.requests
    }
    return [
        RequestState.WAITING
        if one in show.open_requests and not show.open_requests[one].is_set_aside
        else found[one]
        for one in requests
    ]


# What is read.


def test_empty_queue_says_that_nothing_waits(engineer: Visitor) -> None:
    page = engineer.get("/desk")

    assert page.place("queue") == "Nothing waits."
    assert "0 rows wait" in page.place("status")


def test_row_has_the_sum_who_asked_and_the_level_to_set(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    evening.ask("front", "voice", 30)
    evening.ask("front", "voice", -45)

    row = engineer.get("/desk").place(VOICE)

    assert "+1.5" in row
    assert f"asked 3 times by Ada: +3 +3 {MINUS}4.5" in row
    assert f"{MINUS}4 to {MINUS}2.5" in row
    assert "done +1.5" in row


def test_row_names_everybody_who_asked(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "drums", 10, "bass")
    evening.ask("ears", "drums", 10, "drummer")

    row = engineer.get("/desk").place(DRUMS)

    assert "asked 2 times by Bo and Cy: +1 +1" in row
    assert f"{MINUS}11 to {MINUS}9" in row


def test_row_says_what_was_cut_and_why(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 60)

    row = engineer.get("/desk").place(VOICE)

    assert "+6" in row
    assert "feedback margin not measured: at most +3 in one trip" in row
    assert f"{MINUS}4 to {MINUS}1" in row
    assert "done +3" in row


def test_row_whose_musicians_disagree_has_no_quick_answer(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "drums", 30, "bass")
    evening.ask("ears", "drums", -20, "drummer")

    page = engineer.get("/desk")

    assert f"they disagree: Bo +3, Cy {MINUS}2" in page.place(DRUMS)
    assert f"stay at {MINUS}11" in page.place(DRUMS)
    assert not [one for one in page.markup.buttons() if one.value == f"done:{DRUMS}"]


def test_rows_stand_under_the_head_of_their_mix(evening: Evening, engineer: Visitor) -> None:
    evening.ask("ears", "drums", 30, "bass")

    head = next(
        one
        for one in engineer.get("/desk").markup.root.one(id="queue").every("li")
        if one.attrs["id"].startswith("head-ears-")
    )

    assert "Rhythm" in head.text
    assert "shared in-ear pair" in head.text
    assert "aux 3 and 4, back" in head.text


def test_every_mix_is_in_view_with_its_drift_and_what_waits(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.CorrectLevel("front", None, -20))
    evening.ask("ears", "drums", 30, "bass")
    evening.ask("ears", "voice", 30, "bass")
    evening.do(c.CallDesk("side", None, Call.TALK))

    page = engineer.get("/desk")

    assert cells(page, "front") == ("+4 dB", "0")
    assert cells(page, "ears") == ("0 dB", "2")
    assert cells(page, "side") == ("0 dB", "call")


@pytest.mark.parametrize(
    ("often", "figures"), [(11, " ".join(["+1"] * 11) + " +3"), (12, "12 of +1, 1 of +3")]
)
def test_very_many_figures_are_counted(evening: Evening, engineer: Visitor, often: int, figures: str) -> None:
    for _ in range(often):
        evening.ask("front", "voice", 10)
    evening.ask("front", "voice", 30)

    row = engineer.get("/desk").place(VOICE)

    assert f"asked {often + 1} times by Ada: {figures}" in row


def test_urgent_calls_stand_first_in_their_order(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    evening.do(c.CallDesk("side", None, Call.TALK))
    evening.do(c.CallDesk("ears", "bass", Call.NOTHING))
    evening.do(c.CallDesk("front", None, Call.HURTS))

    page = engineer.get("/desk")

    assert rows(page) == ["row-front--call", "row-ears--call", "row-side--call", VOICE]
    assert "Ada, centre, aux 1: HURTS" in page.place("row-front--call")
    assert f"done: output now {MINUS}12" in page.place("row-front--call")
    assert "Bo, back, aux 3 and 4: NOTHING" in page.place("row-ears--call")


@pytest.mark.security
def test_names_and_words_are_shown_as_they_were_typed(evening: Evening, engineer: Visitor) -> None:
    nasty = "<img src=x onerror=alert(1)>"
    evening.do(c.PutSource(Source("voice", nasty, SourceKind.OPEN_MIC)))
    evening.do(c.AskAboutSound("front", None, "voice", nasty))
    evening.do(c.RenameShow(nasty))

    pages = [engineer.get("/desk"), engineer.get("/desk/mix/front"), engineer.get("/desk/prepare")]

    assert all(nasty in page.text for page in pages[:2])
    assert not any("<img" in page.source for page in pages)


# What is answered.


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
    evening.ask("front", "voice", 30)

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
    evening.do(c.AskForPan("ears", "bass", "voice", -20))
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
    ("typed", "reason"),
    [
        ({"reason": "closer_to_mic"}, "closer_to_mic"),
        ({"reason": "near_feedback", "words": "Your monitor is in the mic"}, "Your monitor is in the mic"),
    ],
)
def test_not_done_says_why(evening: Evening, engineer: Visitor, typed: dict[str, str], reason: str) -> None:
    request = evening.ask("front", "voice", 30)

    press(engineer, engineer.get("/desk"), f"not_done:{VOICE}", **typed)

    (decision,) = evening.show.decisions.values()
    assert (decision.outcome, decision.reason) == (Outcome.NOT_DONE, reason)
    assert states(evening, request) == [RequestState.NOT_DONE]
    assert evening.level("front", "voice") == -40


def test_not_done_without_a_reason_is_refused(evening: Evening, engineer: Visitor) -> None:
    request = evening.ask("front", "voice", 30)
    page = engineer.get("/desk")
    fields = page.sent_by(
        page.button_with(f"not_done:{VOICE}"), {f"{VOICE}-reason": "", f"{VOICE}-words": " "}
    )

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
    evening.do(m.ReadMargin("front", "voice", 70, 2))
    evening.ask("front", "voice", 60)

    press(engineer, engineer.get("/desk"), f"done:{VOICE}")

    assert "asked +6, done +4: near feedback" in singer.get("/mix/front").place("strip-voice")


def test_the_mark_begins_drift_anew(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.CorrectLevel("front", None, -20))

    page = press(engineer, engineer.get("/desk"), "mark:")

    assert cells(page, "front") == ("0 dB", "0")
    assert evening.show.mark == evening.show.levels


def test_a_mix_that_is_switched_off_is_silent_though_the_mark_was_set(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(c.CorrectLevel("front", None, is_on=False))

    page = engineer.get("/desk")

    assert cells(page, "front") == ("silent", "0")


def test_a_mix_added_since_the_mark_has_none(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.PutMix(Mix("late", "Late", Output.WEDGE, ())))

    page = engineer.get("/desk")

    assert cells(page, "late") == ("no mark", "0")


def test_a_decision_answers_exactly_what_was_shown(evening: Evening, engineer: Visitor) -> None:
    shown = evening.ask("front", "voice", 10)
    page = engineer.get("/desk")
    unseen = evening.ask("front", "voice", 20)

    after = press(engineer, page, f"done:{VOICE}")

    assert states(evening, shown, unseen) == [RequestState.DONE, RequestState.WAITING]
    assert evening.level("front", "voice") == -30
    assert f"{MINUS}3 to {MINUS}1" in after.place(VOICE)


def test_a_request_withdrawn_meanwhile_is_not_done(evening: Evening, engineer: Visitor) -> None:
    gone = evening.ask("front", "voice", 10)
    kept = evening.ask("front", "voice", 20)
    page = engineer.get("/desk")
    evening.do(c.Withdraw(gone))

    after = press(engineer, page, f"done:{VOICE}")

    assert after.notes == [f"No longer waiting: {gone}. Nothing was changed."]
    assert states(evening, kept) == [RequestState.WAITING]
    assert evening.level("front", "voice") == -40


def test_of_two_desks_one_wins_and_the_other_is_told(
    evening: Evening, engineer: Visitor, stranger: Visitor
) -> None:
    stranger.scan(evening.link())
    request = evening.ask("front", "voice", 30)
    pages = [one.get("/desk") for one in (engineer, stranger)]

    first = press(engineer, pages[0], f"done:{VOICE}")
    second = press(stranger, pages[1], f"figure:{VOICE}", figure="+2")
    told = stranger.press(pages[1], pages[1].button_with(f"set_aside:{VOICE}"), None, **JSON)

    assert first.notes == []
    assert second.notes == [f"No longer waiting: {request}. Nothing was changed."]
    assert (told.status, json.loads(told.response.data)["error"]) == (409, "already_answered")
    assert evening.level("front", "voice") == -10
    assert len(evening.show.decisions) == 1


def test_the_same_answer_sent_twice_is_one(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    page = engineer.get("/desk")
    button = page.button_with(f"done:{VOICE}")

    answers = [engineer.press(page, button, None, **JSON) for _ in range(2)]

    assert [one.status for one in answers] == [201, 201]
    assert evening.level("front", "voice") == -10
    assert len(evening.show.decisions) == 1


def test_requests_of_two_rows_are_never_answered_together(evening: Evening, engineer: Visitor) -> None:
    mine, other = evening.ask("front", "voice", 30), evening.ask("front", "drums", 30)
    page = engineer.get("/desk")
    fields = page.sent_by(page.button_with(f"done:{VOICE}"))

    told = engineer.post("/desk", {**fields, f"{VOICE}-requests": f"{mine} {other}"}, **JSON)

    assert told.status == 422
    assert states(evening, mine, other) == [RequestState.WAITING] * 2


@pytest.mark.parametrize(
    "button",
    ["", "done", "explode:x", "done:", "done:row-front-harp-level", "undo:d1", "not_done:" + "x" * 99],
)
def test_an_unknown_button_is_refused(evening: Evening, engineer: Visitor, button: str) -> None:
    evening.ask("front", "voice", 30)
    before = evening.show
    page = engineer.get("/desk")
    fields = {**page.sent_by(page.button_with(f"done:{VOICE}")), "do": button}

    told, seen = engineer.post("/desk", fields, **JSON), engineer.post("/desk", fields)

    assert told.status in (404, 422)
    assert seen.status == 303
    assert engineer.get("/desk").notes == [json.loads(told.response.data)["message"]]
    assert evening.show == before


def test_a_row_with_many_requests_is_answered_in_one(evening: Evening, engineer: Visitor) -> None:
    for _ in range(400):
        evening.ask("front", "voice", -1, by="desk")

    page = press(engineer, engineer.get("/desk"), f"done:{VOICE}")

    assert page.notes == []
    assert rows(page) == []
    assert evening.level("front", "voice") == -440


def test_desk_of_a_closed_show_takes_nothing(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    page = engineer.get("/desk")
    evening.do(c.CloseShow())

    after = press(engineer, page, f"done:{VOICE}")

    assert after.notes == ["This show is closed."]
    assert "closed" in after.place("status")
    assert evening.level("front", "voice") == -40


def test_an_empty_show_is_prepared_first(evening: Evening, engineer: Visitor) -> None:
    for mix in list(evening.show.mixes):
        evening.do(c.RemoveMix(mix))

    answer = engineer.get("/desk")

    assert (answer.status, answer.headers["Location"]) == (303, "/desk/prepare")


def test_places_give_a_page_everything_again(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)

    again = engineer.get("/desk/places").response.json

    assert again is not None
    assert again["revision"] == evening.show.revision
    drawn = PlaceRenderer(evening.monreq.flask.jinja_env).everything(desk_places(evening.show))
    assert again["fragments"] == drawn
    assert f'id="{VOICE}"' in again["fragments"]["queue"]
