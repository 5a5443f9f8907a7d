"""What a musician sees, asks and is told on the phone page, without JavaScript and with."""

from collections.abc import Sequence

import pytest

from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind
from monreq.web.pace import BURST
from monreq.web.phone_view import phone_places
from monreq.web.wording import SOUND_WORDS
from tests.support.evening import Evening
from tests.support.visitor import JSON, Page, Visitor

AMOUNTS = {"touch": 10, "some": 30, "lot": 60}


def answer(
    evening: Evening, outcome: Outcome, *requests: str, done: int | None = None, reason: str = ""
) -> None:
    evening.do(c.Answer(requests, outcome, done, reason=reason))


def waiting(evening: Evening) -> list[tuple[str | None, str, int]]:
    return [(source, kind, amount) for _, source, kind, amount in evening.asked()]


def names_on_strips(page: Page) -> list[str]:
    strips = page.markup.root.one("ul", id="strips")
    return [one.text for one in strips.every("b")]


def error_of(page: Page) -> object:
    return (page.response.json or {}).get("error")


# What is seen.


def test_phone_shows_the_sources_of_its_own_mix_in_the_order_of_the_input_list(
    singer: Visitor, bassist: Visitor
) -> None:
    assert names_on_strips(singer.get("/mix/front")) == ["Voice", "Drums", "Guitar", "Talkback"]
    assert names_on_strips(bassist.get("/mix/ears")) == ["Voice", "Drums", "Guitar", "Click", "Talkback"]


@pytest.mark.security
def test_phone_shows_nothing_of_another_mix(evening: Evening, singer: Visitor) -> None:
    before = singer.get("/mix/front").text
    evening.ask("side", "harp", 37)
    evening.ask("ears", "drums", -21, "drummer")
    evening.do(c.AskAboutSound("side", None, "drums", "tinny as a biscuit tin"))
    answer(evening, Outcome.NOT_DONE, evening.ask("side", "drums", 44), reason="ask Dorothea about it")

    page, places = singer.get("/mix/front"), singer.get("/mix/front/places")

    theirs = ("Glass harp", "Dorothea", "Side wedge", "Rhythm", "biscuit", "3.7", "2.1", "4.4", "Bo", "Cy")
    assert page.text == before
    assert [word for word in theirs if word in page.source] == []
    assert [word for word in theirs if word in places.response.text] == []


def test_phone_says_how_much_each_amount_is(singer: Visitor) -> None:
    page = singer.get("/mix/front")

    labels = {one.attrs["for"]: one.text for one in page.markup.root.every("label")}
    assert labels == {
        "amount-touch": "a touch 1 dB",
        "amount-some": "some 3 dB",
        "amount-lot": "a lot 6 dB",
    }
    assert page.markup.fields(page.button("more Voice").form)["amount"] == ["some"]


@pytest.mark.parametrize("given", ["enormous", "", "some\n"])
def test_an_amount_that_is_none_leaves_the_usual_one_chosen(singer: Visitor, given: str) -> None:
    page = Page(singer.client.get("/mix/front", query_string={"amount": given}))

    assert page.markup.fields(page.button("more Voice").form)["amount"] == ["some"]


def test_wedge_has_no_left_and_right(singer: Visitor, bassist: Visitor) -> None:
    def sides(page: Page) -> list[str]:
        return [name for name in page.buttons() if name.endswith((" left", " right"))]

    assert sides(singer.get("/mix/front")) == []
    assert sides(bassist.get("/mix/ears"))[:2] == ["Voice further left", "Voice further right"]


def test_in_ear_pair_that_is_fed_mono_has_no_left_and_right(evening: Evening, bassist: Visitor) -> None:
    evening.do(c.PutMix(Mix("ears", "Rhythm", Output.IN_EAR_PAIR, ("bass", "drummer"), is_fed_mono=True)))

    buttons = bassist.get("/mix/ears").buttons()

    assert "more Voice" in buttons
    assert [name for name in buttons if name.endswith((" left", " right"))] == []


def test_talkback_has_no_less_on_a_phone(singer: Visitor) -> None:
    buttons = [name for name in singer.get("/mix/front").buttons() if "Talkback" in name]

    assert "more Talkback" in buttons
    assert not {"less Talkback", "take Talkback out"} & set(buttons)


# What is asked.


@pytest.mark.parametrize("amount", AMOUNTS)
@pytest.mark.parametrize(("button", "sign"), [("more Voice", 1), ("less Voice", -1)])
def test_more_and_less_ask_by_the_chosen_amount(
    evening: Evening, singer: Visitor, button: str, sign: int, amount: str
) -> None:
    page = singer.get("/mix/front")

    sent = singer.press(page, button, {"amount": amount})

    assert (sent.status, sent.headers["Location"]) == (303, f"/mix/front?amount={amount}")
    assert evening.asked() == [("front", "voice", "level", sign * AMOUNTS[amount])]


def test_the_chosen_amount_stays_chosen(singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice", {"amount": "lot"})

    assert page.markup.fields(page.button("more Voice").form)["amount"] == ["lot"]


def test_the_amounts_are_those_of_the_show(evening: Evening, singer: Visitor) -> None:
    settings = evening.show.settings
    evening.do(
        c.ChangeSettings(
            type(settings)(touch_tenths=15, some_tenths=settings.some_tenths, lot_tenths=settings.lot_tenths)
        )
    )

    singer.do(singer.get("/mix/front"), "more Voice", {"amount": "touch"})

    assert waiting(evening) == [("voice", "level", 15)]


def test_asked_is_seen_at_once_as_waiting(singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")

    assert "asked +3, waiting" in page.place("strip-voice")
    assert "waiting" not in page.place("strip-drums")


def test_asked_again_adds_up(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")
    page = singer.do(page, "more Voice")

    page = singer.do(page, "less Voice", {"amount": "touch"})

    assert [amount for _, _, amount in waiting(evening)] == [30, 30, -10]
    assert "asked +5, waiting" in page.place("strip-voice")


def test_asked_and_taken_back_by_the_opposite_leaves_nothing_waiting(
    evening: Evening, singer: Visitor
) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")

    page = singer.do(page, "less Voice")

    assert evening.asked() == []
    assert "waiting" not in page.place("strip-voice")


@pytest.mark.parametrize(("button", "amount"), [("Voice further left", -20), ("Voice further right", 20)])
def test_left_and_right_ask_by_one_step(evening: Evening, bassist: Visitor, button: str, amount: int) -> None:
    page = bassist.do(bassist.get("/mix/ears"), button)

    assert evening.asked() == [("ears", "voice", "pan", amount)]
    side = "left" if amount < 0 else "right"
    assert f"asked 20 to the {side}, waiting" in page.place("strip-voice")


def test_take_out_and_put_in(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "take Drums out")

    page = singer.do(page, "put Guitar in")

    assert waiting(evening) == [("drums", "in_out", -1), ("guitar", "in_out", 1)]
    assert "asked out, waiting" in page.place("strip-drums")
    assert "asked in, waiting" in page.place("strip-guitar")


def test_a_source_that_is_off_says_so_and_has_neither_more_nor_less(singer: Visitor) -> None:
    page = singer.get("/mix/front")

    assert "off in your mix" in page.place("strip-guitar")
    assert not {"more Guitar", "less Guitar", "take Guitar out"} & set(page.buttons())


@pytest.mark.parametrize(("button", "amount"), [("whole mix louder", 30), ("whole mix softer", -30)])
def test_whole_mix_is_asked_for_as_one(evening: Evening, singer: Visitor, button: str, amount: int) -> None:
    page = singer.do(singer.get("/mix/front"), button)

    assert evening.asked() == [("front", None, "level", amount)]
    assert "waiting" in page.place("whole")


@pytest.mark.parametrize("word", SOUND_WORDS)
def test_sound_is_asked_in_a_word(evening: Evening, singer: Visitor, word: str) -> None:
    page = singer.do(singer.get("/mix/front"), f"Voice sounds {word}")

    (request,) = evening.show.open_requests.values()
    assert (request.key.source, request.key.kind, request.words) == ("voice", "sound", word)
    assert f"{word}: waiting" in page.place("strip-voice")


@pytest.mark.parametrize("call", ["hurts", "squeal", "nothing", "talk"])
def test_a_call_reaches_the_desk(evening: Evening, singer: Visitor, call: str) -> None:
    page = singer.get("/mix/front")

    page = singer.do(page, page.button_with(f"call-{call}:"))

    (request,) = evening.show.open_requests.values()
    assert (request.key.mix, request.call) == ("front", call)
    assert f"Desk called: {call}" in page.place("calls")


@pytest.mark.parametrize(
    ("who", "call", "advice"),
    [
        ("singer", "hurts", "Step away from the wedge."),
        ("singer", "squeal", "Step back from the wedge; keep the mic off it."),
        ("singer", "nothing", "Check the wedge: power? cable?"),
        ("bassist", "hurts", "Turn the pack down or take BOTH out."),
        ("bassist", "nothing", "Check the pack: on? battery? volume? plug?"),
    ],
)
def test_a_call_says_what_to_do_at_once(
    request: pytest.FixtureRequest, who: str, call: str, advice: str
) -> None:
    visitor: Visitor = request.getfixturevalue(who)
    page = visitor.get("/")
    page = visitor.get(page.headers["Location"])

    page = visitor.do(page, page.button_with(f"call-{call}:"))

    assert advice in page.place("calls")


def test_both_earpieces_are_always_named_together(bassist: Visitor) -> None:
    page = bassist.get("/mix/ears")

    page = bassist.do(page, page.button_with("call-hurts:"))

    assert "one earpiece" not in page.text
    assert page.text.count("take BOTH out") >= 1


def test_withdraw_takes_the_request_back(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")
    (request,) = evening.show.open_requests

    page = singer.do(page, page.button_with(f"withdraw:{request}"))

    assert evening.asked() == []
    assert "waiting" not in page.place("strip-voice")


def test_each_of_several_requests_can_be_taken_back(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    for amount in ("lot", "some", "touch"):
        page = singer.do(page, "more Voice", {"amount": amount})

    names = [name for name in page.buttons() if name.startswith("take back Voice")]
    singer.do(page, "take back Voice +3")

    assert sorted(names) == ["take back Voice +1", "take back Voice +3", "take back Voice +6"]
    assert [amount for _, _, amount in waiting(evening)] == [60, 10]


def test_the_newest_request_is_the_first_to_be_taken_back(evening: Evening) -> None:
    requests = [evening.ask("front", "voice", tenths) for tenths in (60, 30, 10)]

    strip = phone_places(evening.show, "front")["strip-voice"].view

    assert [one.request for one in strip.take_back] == requests[::-1]
    assert [one.text for one in strip.take_back] == ["+1", "+3", "+6"]


@pytest.mark.security
def test_withdraw_reaches_no_other_mix(evening: Evening, singer: Visitor) -> None:
    theirs = evening.ask("side", "harp", 30)
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("more Voice"))

    sent = singer.post("/mix/front", {**fields, "do": f"withdraw:{theirs}"}, **JSON)

    assert (sent.status, error_of(sent)) == (404, "unknown_request")
    assert evening.asked() == [("side", "harp", "level", 30)]


# How it is sent.


def test_the_same_form_sent_twice_is_one_request(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")

    answers = [singer.press(page, "more Voice") for _ in range(2)]

    assert [one.status for one in answers] == [303, 303]
    assert waiting(evening) == [("voice", "level", 30)]


def test_another_button_or_amount_of_the_same_page_is_another_request(
    evening: Evening, singer: Visitor
) -> None:
    page = singer.get("/mix/front")

    singer.press(page, "more Voice")
    singer.press(page, "more Drums")
    singer.press(page, "more Voice", {"amount": "lot"})

    assert waiting(evening) == [("voice", "level", 30), ("drums", "level", 30), ("voice", "level", 60)]


def test_the_page_loaded_again_asks_again(evening: Evening, singer: Visitor) -> None:
    for _ in range(2):
        singer.do(singer.get("/mix/front"), "more Voice")

    assert waiting(evening) == [("voice", "level", 30)] * 2


def test_a_script_is_told_that_it_was_taken_once_or_twice(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")

    answers = [singer.press(page, "more Voice", None, **JSON) for _ in range(2)]

    assert [(one.status, one.response.json) for one in answers] == [(201, {"state": "taken"})] * 2
    assert waiting(evening) == [("voice", "level", 30)]


UNKNOWN_BUTTONS = [
    "",
    "more",
    "explode:voice",
    "more-more:voice",
    "call-pizza:",
    "sound-wonderful:voice",
    "sound:voice",
    "MORE:voice",
    "more:voice\n",
    "more:../../desk",
    "more:" + "v" * 13,
]


@pytest.mark.parametrize("button", UNKNOWN_BUTTONS)
def test_an_unknown_button_is_refused(evening: Evening, singer: Visitor, button: str) -> None:
    page = singer.get("/mix/front")
    fields = {**page.sent_by(page.button("more Voice")), "do": button}

    told, seen = singer.post("/mix/front", fields, **JSON), singer.post("/mix/front", fields)

    assert (told.status, error_of(told)) == (422, "unknown_button")
    assert told.response.json["message"] == "This page is out of date. Load it again."  # type: ignore[index]
    assert (seen.status, singer.get(seen.headers["Location"]).notes) == (303, [told.response.json["message"]])  # type: ignore[index]
    assert evening.asked() == []


@pytest.mark.parametrize("amount", ["huge", "some\n", "SOME", "-6"])
def test_an_unknown_amount_is_refused(evening: Evening, singer: Visitor, amount: str) -> None:
    page = singer.get("/mix/front")
    fields = {**page.sent_by(page.button("more Voice")), "amount": amount}

    told = singer.post("/mix/front", fields, **JSON)

    assert (told.status, error_of(told)) == (422, "unknown_button")
    assert evening.asked() == []


@pytest.mark.parametrize(
    ("button", "code"),
    [
        ("more:nothere", "source_not_in_mix"),
        ("more:harp", "source_not_in_mix"),
        ("more:guitar", "source_off"),
        ("in:voice", "source_already_on"),
        ("less:talk", "talkback_not_less"),
        ("out:talk", "talkback_not_less"),
        ("left:voice", "no_pan_in_mono"),
        ("out:", "source_required"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_code_and_a_sentence(
    evening: Evening, singer: Visitor, button: str, code: str
) -> None:
    page = singer.get("/mix/front")

    told = singer.post("/mix/front", {**page.sent_by(page.button("more Voice")), "do": button}, **JSON)

    assert (told.status, error_of(told)) == (422, code)
    assert str(told.response.json["message"]).endswith((".", "!"))  # type: ignore[index]
    assert evening.asked() == []


def test_what_was_refused_is_told_once_on_the_next_page(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    evening.do(c.PutSend("front", "voice", Setting(-40, is_on=False)))

    told = singer.do(page, "more Voice")

    assert told.notes == ["This source is off in this mix: ask for it to be put in first."]
    assert singer.get("/mix/front").notes == []
    assert evening.asked() == []


def test_withdrawing_what_was_answered_meanwhile_is_told(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")
    (request,) = evening.show.open_requests
    answer(evening, Outcome.DONE, request)

    told = singer.do(page, page.button_with(f"withdraw:{request}"))

    assert told.notes == [f"No longer waiting: {request}. Nothing was changed."]
    assert evening.level("front", "voice") == -10


def test_a_closed_show_takes_nothing_and_says_so(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    evening.do(c.CloseShow())

    seen, told = singer.do(page, "more Voice"), singer.press(page, "more Voice", None, **JSON)

    assert "this show is closed" in seen.place("head")
    assert seen.notes == ["This show is closed."]
    assert (told.status, error_of(told)) == (410, "show_closed")
    assert evening.asked() == []


@pytest.mark.security
def test_a_flood_is_slowed_and_told_when_to_try_again(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("more Voice"))

    answers = [
        singer.post("/mix/front", {**fields, "client_id": f"flood{number}", "do": "withdraw:r1"}, **JSON)
        for number in range(BURST * 3)
    ]

    slowed = [one for one in answers if one.status == 429]
    assert {one.status for one in answers[:BURST]} == {404}
    assert slowed
    assert {error_of(one) for one in slowed} == {"too_fast"}
    assert {one.headers["Retry-After"] for one in slowed} == {"1"}
    assert evening.asked() == []


@pytest.mark.security
def test_one_mix_that_floods_slows_no_other(singer: Visitor, bassist: Visitor) -> None:
    page = singer.get("/mix/front")
    for number in range(BURST * 2):
        singer.press(page, "more Voice", {"client_id": f"flood{number}"})

    told = bassist.press(bassist.get("/mix/ears"), "more Voice", None, **JSON)

    assert told.status == 201


@pytest.mark.security
def test_fifty_waiting_are_the_most(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    for _ in range(50):
        evening.ask("front", "voice", 10)

    told = singer.press(page, "more Voice", None, **JSON)

    assert (told.status, error_of(told)) == (429, "too_many_waiting")
    assert "Retry-After" not in told.headers
    assert len(evening.asked()) == 50


@pytest.mark.security
@pytest.mark.parametrize("kind", ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x"])
def test_an_oversized_body_is_refused(evening: Evening, singer: Visitor, kind: str) -> None:
    answered = singer.client.post("/mix/front", data=b"do=" + b"x" * 100_000, content_type=kind)

    assert answered.status_code == 413
    assert "Content-Security-Policy" in answered.headers
    assert evening.asked() == []


# What the desk did.


def one_asked(evening: Evening, tenths: int = 60, source: str | None = "voice") -> str:
    return evening.ask("front", source, tenths)


def test_done_as_asked_is_told(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))

    strip = singer.get("/mix/front").place("strip-voice")

    assert "done +3" in strip
    assert "asked" not in strip


def test_done_in_part_says_asked_done_and_why(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening), done=40, reason="near_feedback")

    assert "asked +6, done +4: near feedback" in singer.get("/mix/front").place("strip-voice")


@pytest.mark.parametrize(
    ("reason", "words"),
    [
        ("closer_to_mic", "get closer to the mic"),
        ("After the ballad, promised", "After the ballad, promised"),
    ],
)
def test_not_done_says_why(evening: Evening, singer: Visitor, reason: str, words: str) -> None:
    answer(evening, Outcome.NOT_DONE, one_asked(evening), reason=reason)

    assert f"not done: {words}" in singer.get("/mix/front").place("strip-voice")


def test_set_aside_is_told_and_can_still_be_taken_back(evening: Evening, singer: Visitor) -> None:
    request = one_asked(evening)
    answer(evening, Outcome.SET_ASIDE, request)

    page = singer.get("/mix/front")
    after = singer.do(page, page.button_with(f"withdraw:{request}"))

    assert "asked +6, set aside by the desk" in page.place("strip-voice")
    assert after.place("strip-voice") == after.place("strip-voice").replace("done", "")
    assert evening.asked() == []


def test_undone_waits_again(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))
    (decision,) = evening.show.decisions
    evening.do(c.Undo(decision))

    strip = singer.get("/mix/front").place("strip-voice")

    assert "asked +3, waiting" in strip
    assert "done" not in strip


def test_a_call_that_was_answered_is_told(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    singer.do(page, page.button_with("call-hurts:"))
    answer(evening, Outcome.DONE, *evening.show.open_requests)

    assert "done" in singer.get("/mix/front").place("calls")
    assert "Desk called" not in singer.get("/mix/front").place("calls")


def test_whole_mix_answer_is_told(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30, None))

    assert "done +3" in singer.get("/mix/front").place("whole")


def test_taken_off_the_list_is_told_as_gone(evening: Evening, singer: Visitor) -> None:
    one_asked(evening)
    evening.do(c.RemoveSend("front", "voice"))

    page = singer.get("/mix/front")

    assert not page.has_place("strip-voice")
    assert evening.asked() == []


def test_musicians_of_a_shared_mix_see_that_they_disagree(
    evening: Evening, bassist: Visitor, drummer: Visitor
) -> None:
    bassist.do(bassist.get("/mix/ears"), "more Drums")

    page = drummer.do(drummer.get("/mix/ears"), "less Drums")

    for seen in (page, bassist.get("/mix/ears")):
        strip = seen.place("strip-drums")
        assert "you disagree" in strip
        assert "Bo +3, Cy \N{MINUS SIGN}3" in strip
        assert "waiting" in strip
    assert len(evening.asked()) == 2


def test_a_shared_mix_says_whose_request_would_be_taken_back(bassist: Visitor, drummer: Visitor) -> None:
    bassist.do(bassist.get("/mix/ears"), "more Drums")

    page = drummer.do(drummer.get("/mix/ears"), "more Drums", {"amount": "touch"})

    assert {"take back Drums Bo +3", "take back Drums Cy +1"} <= set(page.buttons())


# What people type.

NASTY: Sequence[str] = ("<script>alert(1)</script>", '"><img src=x onerror=1>', "{{ 7*7 }}", "a' & b")


@pytest.mark.security
@pytest.mark.parametrize("name", NASTY)
def test_names_are_shown_as_they_were_typed(evening: Evening, singer: Visitor, name: str) -> None:
    evening.do(c.PutSource(Source("voice", name, SourceKind.OPEN_MIC)))
    evening.do(c.PutMusician(Musician("singer", name)))
    evening.do(c.PutMix(Mix("front", name, Output.WEDGE, ("singer",), name[:40])))
    evening.do(c.RenameShow(name))
    answer(evening, Outcome.NOT_DONE, one_asked(evening), reason=name)

    page = singer.get("/mix/front")

    assert names_on_strips(page)[0] == name
    assert f"not done: {name}" in page.place("strip-voice")
    assert "<script>alert" not in page.source
    assert "<img" not in page.source
    assert f"more {name}" in page.buttons()
