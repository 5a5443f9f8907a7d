"""How calls seen, notes and line checks change the state."""

from dataclasses import replace
from itertools import islice

from monreq.domain import events as e
from monreq.domain import telling_events as t
from monreq.domain.line_check import Heard, LineCheck
from monreq.domain.notes import MOST_KEPT, DeskNote, Replied
from monreq.domain.show import Show, without


def calls_seen(show: Show, event: t.CallsSeen, recorded: e.Recorded) -> Show:
    """Stamp the calls with when they were seen, and where."""
    seen = {
        request: replace(show.open_requests[request], seen_at_ms=recorded.at_ms, seen_by=event.desk)
        for request in event.requests
    }
    return replace(show, open_requests={**show.open_requests, **seen})


def note_sent(show: Show, event: t.NoteSent, recorded: e.Recorded) -> Show:
    """Keep the note; of very many the oldest are let go."""
    note = DeskNote(event.note, event.words, event.mixes, recorded.at_ms)
    notes = {**show.notes, note.id: note}
    return replace(show, notes=dict(islice(notes.items(), max(0, len(notes) - MOST_KEPT), None)))


def note_answered(show: Show, event: t.NoteAnswered, recorded: e.Recorded) -> Show:
    """Keep what a mix said."""
    note = show.notes[event.note]
    replies = {**note.replies, event.mix: Replied(event.musician, event.reply, recorded.at_ms)}
    return replace(show, notes={**show.notes, note.id: replace(note, replies=replies)})


def note_taken_back(show: Show, event: t.NoteTakenBack, _: e.Recorded) -> Show:
    """Keep that it was taken back."""
    note = replace(show.notes[event.note], is_taken_back=True)
    return replace(show, notes={**show.notes, note.id: note})


def line_check_begun(show: Show, event: t.LineCheckBegun, recorded: e.Recorded) -> Show:
    """Begin it; the one before is over."""
    return replace(show, line_check=LineCheck(event.check, event.source, event.mixes, recorded.at_ms))


def line_heard(show: Show, event: t.LineHeard, recorded: e.Recorded) -> Show:
    """Keep what a musician of a mix said, beside what others who share it said."""
    check = show.line_check
    if check is None:
        return show
    heard = Heard(event.musician, event.is_heard, recorded.at_ms)
    sharing = set(show.mix(event.mix).musicians) - {event.musician}
    others = tuple(one for one in check.answers.get(event.mix, ()) if one.musician in sharing)
    return replace(show, line_check=replace(check, answers={**check.answers, event.mix: (*others, heard)}))


def line_check_ended(show: Show, _event: t.LineCheckEnded, _: e.Recorded) -> Show:
    """Ask nobody any more."""
    check = show.line_check
    return show if check is None else replace(show, line_check=replace(check, is_over=True))


def without_mix(show: Show, mix: str) -> Show:
    """Forget what was told to a mix and what it said: another of the same id starts anew."""
    notes = {
        note.id: replace(
            note,
            mixes=tuple(one for one in note.mixes if one != mix),
            replies=without(note.replies, [mix]),
        )
        for note in show.notes.values()
    }
    check = show.line_check
    if check is not None:
        left = tuple(one for one in check.mixes if one != mix)
        check = replace(check, mixes=left, answers=without(check.answers, [mix]))
    return replace(show, notes=notes, line_check=check)


def without_source(show: Show, source: str) -> Show:
    """Forget a line check for a source that left."""
    is_asked = show.line_check is not None and show.line_check.source == source
    return replace(show, line_check=None) if is_asked else show
