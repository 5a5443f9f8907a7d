"""Notes from the desk, and what the phones say to them."""

from monreq.domain import telling_commands as t
from monreq.domain.decide_asking import who_asks
from monreq.domain.events import Event
from monreq.domain.notes import NOTE_LIMIT, DeskNote
from monreq.domain.show import Show
from monreq.domain.telling_events import NoteAnswered, NoteSent, NoteTakenBack
from monreq.domain.telling_refusals import NobodyToTell, NoteRequired, UnknownNote
from monreq.domain.texts import clean


def send_note(show: Show, command: t.SendNote) -> tuple[Event, ...]:
    """Send a note."""
    words = clean(command.words, NOTE_LIMIT)
    if not words:
        raise NoteRequired
    mixes = tuple(show.mix(mix).id for mix in dict.fromkeys(command.mixes)) or tuple(show.mixes)
    if not mixes:
        raise NobodyToTell
    return (NoteSent(f"n{show.revision + 1}", words, mixes),)


def answer_note(show: Show, command: t.AnswerNote) -> tuple[Event, ...]:
    """Say something to a note; another reply later replaces it, the same one says nothing new."""
    musician = who_asks(show, command.mix, command.musician)
    note = _standing(show, command.note)
    if command.mix not in note.mixes:
        raise UnknownNote
    if note.reply_of(command.mix) is command.reply:
        return ()
    return (NoteAnswered(note.id, command.mix, musician, command.reply),)


def take_note_back(show: Show, command: t.TakeNoteBack) -> tuple[Event, ...]:
    """Take a note back."""
    note = _standing(show, command.note)
    return (NoteTakenBack(note.id, note.mixes),)


def _standing(show: Show, note: str) -> DeskNote:
    found = show.notes.get(note)
    if found is None or found.is_taken_back:
        raise UnknownNote
    return found
