"""Notes and the line check from desk to phones and back, and who is there: all without a script."""

from monreq.domain import commands as c
from monreq.domain import telling_commands as t
from monreq.domain.notes import START_TEXTS
from monreq.domain.requests import Outcome
from monreq.web.note_view import SAID_TEXTS
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor


def send(engineer: Visitor, value: str, **typed: str) -> Page:
    page = engineer.get("/desk")
    return engineer.do(
        page, page.button_with(value), {name.replace("_", "-"): one for name, one in typed.items()}
    )


def answer(phone: Visitor, mix: str, button: str) -> Page:
    page = phone.get(f"/mix/{mix}")
    (found,) = (one for one in page.markup.buttons() if one.value.partition(":")[0] == button)
    return phone.do(page, found)


def line_check(page: Page) -> dict[str, str]:
    rows = page.markup.root.one(id="line-check").every("tr")
    return {next(iter(row.every("th"))).text: next(iter(row.every("td"))).text for row in rows}


def test_note_to_one_phone_is_on_that_phone_alone(
    engineer: Visitor, singer: Visitor, bassist: Visitor
) -> None:
    send(engineer, "note:two minutes", note_to="front")

    assert "two minutes" in singer.get("/mix/front").place("told")
    assert bassist.get("/mix/ears").place("told") == ""


def test_note_in_own_words_goes_to_all_and_each_reply_is_read_at_the_desk(
    engineer: Visitor, singer: Visitor, bassist: Visitor
) -> None:
    send(engineer, "note_own:", note_words="Encore: the slow one")

    answer(singer, "front", "note-ok")
    answer(bassist, "ears", "note-come-here")
    said = engineer.get("/desk").place("notes")

    assert "Encore: the slow one" in said
    assert "Front wedge: ok , Rhythm: come here , Side wedge: no reply yet" in said


def test_note_that_is_settled_leaves_the_phone_and_one_put_off_stays(
    engineer: Visitor, singer: Visitor
) -> None:
    send(engineer, "note:you are next")

    put_off = answer(singer, "front", "note-not-yet")
    settled = answer(singer, "front", "note-ok")

    assert "you said not yet" in put_off.place("told")
    assert settled.place("told") == ""


def test_note_taken_back_is_on_no_phone(evening: Evening, engineer: Visitor, singer: Visitor) -> None:
    send(engineer, "note:two minutes")

    after = send(engineer, f"note_back:{next(iter(evening.show.notes))}")

    assert singer.get("/mix/front").place("told") == ""
    assert "taken back" in after.place("notes")


def test_same_note_to_another_phone_is_another_note(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")
    for mix in ("front", "ears", "ears"):
        engineer.do(page, page.button_with("note:two minutes"), {"note-to": mix})

    assert [note.mixes for note in evening.show.notes.values()] == [("front",), ("ears",)]


def test_empty_note_is_refused(evening: Evening, engineer: Visitor) -> None:
    page = send(engineer, "note_own:", note_words="  ")

    assert page.notes == ["Write what the note is to say."]
    assert dict(evening.show.notes) == {}


def test_texts_of_the_notes_are_the_shows_own(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")

    after = engineer.do(
        page, page.button("keep these"), {"texts": "water, please\n\n  two   minutes\nwater, please"}
    )

    assert evening.show.settings.note_texts == ("water, please", "two minutes")
    assert "water, please" in after.buttons()
    assert START_TEXTS[1] not in after.buttons()


def test_texts_that_begin_every_show_are_said_in_every_language() -> None:
    assert SAID_TEXTS == START_TEXTS


def test_texts_that_are_too_many_are_refused(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")

    after = engineer.do(page, page.button("keep these"), {"texts": "\n".join(f"note {n}" for n in range(13))})

    assert after.notes == ["At most 12 notes, each a line of at most 48 letters."]
    assert evening.show.settings.note_texts == START_TEXTS


def test_line_check_is_a_table_at_the_desk(engineer: Visitor, singer: Visitor, bassist: Visitor) -> None:
    send(engineer, "line_check:", line_source="voice")
    asked = singer.get("/mix/front").place("told")

    answer(singer, "front", "heard-no")
    answer(bassist, "ears", "heard-yes")
    desk = engineer.get("/desk")

    assert asked.startswith("Line check: can you hear Voice?")
    assert line_check(desk) == {
        "Front wedge": "no",
        "Rhythm": "Bo: yes, Cy: no answer yet",
        "Side wedge": "not in this mix, not asked",
    }
    assert desk.place("line-check").startswith("Can you hear Voice? 1 yes, 1 no, 0 no answer")


def test_those_who_share_a_mix_read_who_of_them_said_what(
    evening: Evening, engineer: Visitor, bassist: Visitor, drummer: Visitor
) -> None:
    send(engineer, "line_check:", line_source="voice")
    answer(bassist, "ears", "heard-no")
    alone = line_check(engineer.get("/desk"))["Rhythm"]
    answer(drummer, "ears", "heard-yes")
    heard, desk = bassist.get("/mix/ears").place("told"), engineer.get("/desk")
    evening.do(t.EndLineCheck(evening.show.line_check.id if evening.show.line_check else ""))
    send(engineer, "note:two minutes", note_to="ears")
    answer(bassist, "ears", "note-not-yet")
    told = drummer.get("/mix/ears").place("told")
    drummer.do(page := drummer.get("/mix/ears"), page.button_with("call-talk:"))
    evening.do(c.Answer(tuple(evening.show.open_requests), Outcome.DONE))
    called = bassist.get("/mix/ears").place("calls")

    assert alone == "Bo: no, Cy: no answer yet"
    assert "Bo: no, Cy: yes" in heard
    assert line_check(desk)["Rhythm"] == "Bo: no, Cy: yes"
    assert desk.place("line-check").startswith("Can you hear Voice? 0 yes, 1 no, 1 no answer")
    assert "Bo: not yet" in told
    assert called == "Call of Cy: done"
    assert "you said" not in heard + told


def test_line_check_that_ended_asks_nobody_and_stays_to_be_read(
    evening: Evening, engineer: Visitor, singer: Visitor
) -> None:
    send(engineer, "line_check:")
    assert evening.show.line_check is not None

    after = send(engineer, f"line_check_end:{evening.show.line_check.id}")

    assert singer.get("/mix/front").place("told") == ""
    assert set(line_check(after).values()) == {"no answer"}


def test_phone_that_answers_a_line_check_too_late_is_told_so(
    evening: Evening, engineer: Visitor, singer: Visitor
) -> None:
    send(engineer, "line_check:")
    page = singer.get("/mix/front")
    assert evening.show.line_check is not None
    send(engineer, f"line_check_end:{evening.show.line_check.id}")

    (no,) = (one for one in page.markup.buttons() if one.value.startswith("heard-no"))
    after = singer.do(page, no)

    assert after.notes == ["This line check is over."]


def test_desk_says_beside_each_mix_how_its_phones_are(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")

    assert [page.place(f"phone-{mix}") for mix in evening.show.mixes] == ["no phone yet"] * 3
    assert "no phone yet" in page.place("mix-front")


def test_name_of_a_desk_is_its_browsers_own(evening: Evening, engineer: Visitor) -> None:
    other = Visitor(evening.monreq.flask)
    other.scan(evening.link(None))
    page = engineer.get("/desk")

    named = engineer.do(page, page.button("keep", action="/desk/name"), {"desk_name": " Stage\tside "})

    assert named.markup.root.one(id="desk-name").attrs["value"] == "Stage side"
    assert other.get("/desk").markup.root.one(id="desk-name").attrs["value"] == ""


def test_name_of_a_desk_that_is_too_long_is_refused(engineer: Visitor) -> None:
    page = engineer.get("/desk")

    after = engineer.do(page, page.button("keep", action="/desk/name"), {"desk_name": "x" * 61})

    assert len(after.notes) == 1
    assert after.markup.root.one(id="desk-name").attrs["value"] == ""


def test_mix_that_was_removed_takes_its_note_along(evening: Evening, engineer: Visitor) -> None:
    send(engineer, "note:two minutes", note_to="side")
    evening.do(c.RemoveMix("side"))

    assert "Side wedge" not in engineer.get("/desk").place("notes")
