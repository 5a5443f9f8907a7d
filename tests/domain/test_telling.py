"""What desk and phones tell one another: calls seen, notes and what is said to them, the line check."""

import pytest

from monreq.domain import commands as c
from monreq.domain import telling_commands as t
from monreq.domain.notes import MOST_KEPT, NOTE_LIMIT, Reply, note_on_phone
from monreq.domain.refusals import (
    AlreadyAnswered,
    BadSetting,
    MusicianRequired,
    TextTooLong,
    UnknownMix,
    UnknownMusician,
    UnknownSource,
)
from monreq.domain.requests import Call, Outcome
from monreq.domain.setup import Settings
from monreq.domain.subjects import subjects
from monreq.domain.telling_refusals import (
    LineCheckOver,
    NobodyToTell,
    NotACall,
    NoteRequired,
    UnknownLineCheck,
    UnknownNote,
)
from tests.support.stage import START_MS, Stage


def sent(stage: Stage, words: str = "two minutes", *mixes: str) -> str:
    """Send a note; returns its id."""
    stage.do(t.SendNote(words, mixes))
    return list(stage.show.notes)[-1]


def shown(stage: Stage, mix: str) -> str:
    """Return the words of the note that a mix's phone shows; empty if none."""
    note = note_on_phone(stage.show.notes, mix)
    return "" if note is None else note.words


def begun(stage: Stage, source: str | None = None) -> str:
    """Begin a line check; returns its id."""
    stage.do(t.BeginLineCheck(source))
    assert stage.show.line_check is not None
    return stage.show.line_check.id


def said(stage: Stage) -> dict[str, bool]:
    """Return what the mixes answered to the last line check."""
    assert stage.show.line_check is not None
    return {mix: heard[-1].is_heard for mix, heard in stage.show.line_check.answers.items()}


def test_call_seen_is_stamped_with_time_and_desk(stage: Stage) -> None:
    call = stage.call("front", Call.HURTS)
    stage.wait(4)

    events = stage.do(t.SayCallsSeen((call,), desk=" Stage  side "))

    request = stage.show.open_requests[call]
    assert (request.seen_at_ms, request.seen_by) == (START_MS + 4000, "Stage side")
    assert subjects(events[0]) == ("mix:front",)


def test_call_seen_twice_keeps_the_first(stage: Stage) -> None:
    first = stage.call("front", Call.HURTS)
    stage.do(t.SayCallsSeen((first,), desk="Stage side"))
    second = stage.call("front", Call.SQUEAL)

    stage.do(t.SayCallsSeen((first, second), desk="House"))
    again = stage.do(t.SayCallsSeen((first, second), desk="House"))

    seen = [stage.show.open_requests[one].seen_by for one in (first, second)]
    assert (seen, again) == (["Stage side", "House"], ())


def test_only_open_calls_are_seen(stage: Stage) -> None:
    request, call = stage.ask("front", "voice", 10), stage.call("front", Call.TALK)
    stage.done(call)

    with pytest.raises(NotACall):
        stage.do(t.SayCallsSeen((request,)))
    with pytest.raises(AlreadyAnswered):
        stage.do(t.SayCallsSeen((call,)))


def test_second_desk_is_told_which_desk_answered(stage: Stage) -> None:
    request = stage.ask("front", "voice", 10)
    stage.do(c.Answer((request,), Outcome.DONE, desk="Stage side"))

    with pytest.raises(AlreadyAnswered) as refused:
        stage.done(request)

    assert refused.value.sentence == (
        f"No longer waiting: {request}, answered by Stage side. Nothing was changed."
    )


def test_desk_without_a_name_is_not_named(stage: Stage) -> None:
    request = stage.ask("front", "voice", 10)
    stage.done(request)

    with pytest.raises(AlreadyAnswered, match=f"No longer waiting: {request}. Nothing was changed."):
        stage.done(request)


def test_note_to_all_reaches_every_mix_and_to_one_that_one(stage: Stage) -> None:
    sent(stage, "two minutes")
    sent(stage, "  come to\nthe desk ", "front", "front")

    assert (shown(stage, "front"), shown(stage, "ears")) == ("come to the desk", "two minutes")


def test_note_stays_until_it_has_a_reply_and_the_one_before_comes_back(stage: Stage) -> None:
    first, second = sent(stage, "two minutes"), sent(stage, "after this song")

    stage.do(t.AnswerNote(second, "front", None, Reply.OK))
    one_left = shown(stage, "front")
    stage.do(t.AnswerNote(first, "front", "singer", Reply.OK))

    assert (one_left, shown(stage, "front"), shown(stage, "ears")) == ("two minutes", "", "after this song")


def test_note_that_was_put_off_stays_until_it_is_settled(stage: Stage) -> None:
    note = sent(stage)

    stage.do(t.AnswerNote(note, "front", None, Reply.NOT_YET))
    put_off = shown(stage, "front")
    stage.do(t.AnswerNote(note, "front", None, Reply.COME_HERE))

    assert (put_off, shown(stage, "front")) == ("two minutes", "")
    assert stage.show.notes[note].reply_of("front") is Reply.COME_HERE


def test_same_reply_again_says_nothing_new(stage: Stage) -> None:
    note = sent(stage)
    stage.do(t.AnswerNote(note, "front", None, Reply.OK))

    assert stage.do(t.AnswerNote(note, "front", None, Reply.OK)) == ()


def test_reply_is_recorded_as_its_musicians(stage: Stage) -> None:
    note = sent(stage)

    stage.do(t.AnswerNote(note, "ears", "bass", Reply.OK))

    assert stage.log[-1].by == "bass"


def test_shared_phone_says_who_replies(stage: Stage) -> None:
    note = sent(stage)

    with pytest.raises(MusicianRequired):
        stage.do(t.AnswerNote(note, "ears", None, Reply.OK))
    with pytest.raises(UnknownMusician):
        stage.do(t.AnswerNote(note, "ears", "singer", Reply.OK))


def test_note_taken_back_is_on_no_phone_and_takes_no_reply(stage: Stage) -> None:
    note = sent(stage)

    stage.do(t.TakeNoteBack(note))

    assert shown(stage, "front") == ""
    with pytest.raises(UnknownNote):
        stage.do(t.AnswerNote(note, "front", None, Reply.OK))
    with pytest.raises(UnknownNote):
        stage.do(t.TakeNoteBack(note))


def test_note_to_another_mix_takes_no_reply_from_this(stage: Stage) -> None:
    note = sent(stage, "two minutes", "ears")

    with pytest.raises(UnknownNote):
        stage.do(t.AnswerNote(note, "front", None, Reply.OK))


def test_note_says_something_short_to_somebody(stage: Stage) -> None:
    for words, mixes, refusal in (
        (" \n", (), NoteRequired),
        ("x" * (NOTE_LIMIT + 1), (), TextTooLong),
        ("hello", ("nothere",), UnknownMix),
    ):
        with pytest.raises(refusal):
            stage.do(t.SendNote(words, mixes))
    with pytest.raises(NobodyToTell):
        Stage().do(t.SendNote("hello"))


def test_state_keeps_the_last_notes_alone(stage: Stage) -> None:
    notes = [sent(stage, f"note {number}") for number in range(MOST_KEPT + 3)]

    assert list(stage.show.notes) == notes[3:]


def test_mix_of_the_same_id_starts_without_notes_and_answers(stage: Stage) -> None:
    sent(stage)
    check = begun(stage)
    stage.do(t.AnswerLineCheck(check, "front", None, is_heard=True))
    stage.do(c.RemoveMix("front"))

    stage.wedge("front", "singer")

    assert (shown(stage, "front"), shown(stage, "ears")) == ("", "two minutes")
    assert said(stage) == {}


@pytest.mark.parametrize("texts", [("",), ("two\nlines",), ("x" * (NOTE_LIMIT + 1),), ("go",) * 13])
def test_settings_take_no_unsendable_note(stage: Stage, texts: tuple[str, ...]) -> None:
    with pytest.raises(BadSetting):
        stage.do(c.ChangeSettings(Settings(note_texts=texts)))


def test_line_check_asks_where_the_source_is_on(stage: Stage) -> None:
    stage.correct("front", "voice", is_on=False)

    begun(stage, "voice")
    with_voice = stage.show.line_check
    begun(stage)
    all_mixes = stage.show.line_check

    assert with_voice is not None
    assert all_mixes is not None
    assert (with_voice.mixes, all_mixes.mixes) == (("ears",), ("front", "ears"))


def test_a_phone_is_told_that_the_line_check_it_was_asked_by_is_over_though_the_next_one_does_not_ask_it(
    stage: Stage,
) -> None:
    stage.correct("front", "voice", is_on=False)
    begun(stage)
    asked_at = stage.show.changed_at["front"]

    begun(stage, "voice")

    assert stage.show.changed_at["front"] > asked_at


def test_line_check_gathers_the_latest_answer_of_each_mix(stage: Stage) -> None:
    check = begun(stage, "voice")

    stage.do(t.AnswerLineCheck(check, "front", None, is_heard=False))
    stage.do(t.AnswerLineCheck(check, "ears", "drummer", is_heard=True))
    stage.do(t.AnswerLineCheck(check, "front", None, is_heard=True))

    assert said(stage) == {"front": True, "ears": True}
    assert stage.do(t.AnswerLineCheck(check, "front", None, is_heard=True)) == ()


def test_line_check_that_is_over_takes_no_answer_and_can_be_read(stage: Stage) -> None:
    check = begun(stage)
    stage.do(t.AnswerLineCheck(check, "front", None, is_heard=False))

    stage.do(t.EndLineCheck(check))

    assert said(stage) == {"front": False}
    with pytest.raises(LineCheckOver):
        stage.do(t.AnswerLineCheck(check, "front", None, is_heard=True))
    with pytest.raises(LineCheckOver):
        stage.do(t.EndLineCheck(check))


def test_answer_to_the_line_check_before_is_not_taken_for_this_one(stage: Stage) -> None:
    before = begun(stage, "voice")
    begun(stage, "drums")

    with pytest.raises(UnknownLineCheck):
        stage.do(t.AnswerLineCheck(before, "front", None, is_heard=True))
    assert said(stage) == {}


def test_mix_that_was_not_asked_has_no_say(stage: Stage) -> None:
    check = begun(stage, "click")

    with pytest.raises(UnknownLineCheck):
        stage.do(t.AnswerLineCheck(check, "front", None, is_heard=True))


def test_line_check_asks_somebody_for_something_that_is_there(stage: Stage) -> None:
    with pytest.raises(UnknownSource):
        begun(stage, "horn")
    with pytest.raises(NobodyToTell):
        Stage().do(t.BeginLineCheck())


def test_line_check_for_a_source_that_left_is_forgotten(stage: Stage) -> None:
    begun(stage, "guitar")

    stage.do(c.RemoveSource("guitar"))

    assert stage.show.line_check is None
