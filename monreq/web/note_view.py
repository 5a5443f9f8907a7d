"""Notes and the line check as the desk and the phones show them."""

from dataclasses import dataclass
from itertools import islice

from monreq.domain.line_check import Heard, LineCheck
from monreq.domain.notes import DeskNote, Reply, note_on_phone
from monreq.domain.show import Show
from monreq.web.speech import N_, _, listed

_SHORT_WORDS = 26  # chosen: what stands large beside three replies on the narrowest phone
_LAST_NOTES = 3  # chosen: what one looks for between two songs

# Those that every show begins with, for the catalogues; a test holds them to domain/notes.py.
SAID_TEXTS = (
    N_("two minutes"),
    N_("you are next"),
    N_("please play now"),
    N_("please stop playing"),
    N_("after this song"),
    N_("come to the desk"),
)

REPLIES = {Reply.OK: N_("ok"), Reply.NOT_YET: N_("not yet"), Reply.COME_HERE: N_("come here")}
_NEEDS_A_HAND = (Reply.NOT_YET, Reply.COME_HERE)


@dataclass(frozen=True, slots=True)
class ReplyLine:
    """What one mix says."""

    name: str
    text: str
    is_hand: bool


@dataclass(frozen=True, slots=True)
class NoteLine:
    """A note at the desk, with what each mix said to it."""

    note: str
    words: str
    at_ms: int
    is_taken_back: bool
    replies: tuple[ReplyLine, ...]


@dataclass(frozen=True, slots=True)
class LineCheckView:
    """The line check at the desk.

    Attributes:
        answers: One line for each mix of the show.
        count: How many of the mixes asked said yes, no, and nothing yet; where one of several said no, the mix did.
    """

    check: str
    source: str
    is_over: bool
    at_ms: int
    answers: tuple[ReplyLine, ...]
    count: tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class PhoneNote:
    """What a phone is told or asked on top; empty ids where there is nothing.

    Attributes:
        said: What was said to the note so far, by name where several hear this mix.
        heard: What was answered to the line check so far, likewise.
    """

    note: str
    words: str
    is_long: bool
    at_ms: int
    said: str
    check: str
    source: str
    heard: str


def note_lines(show: Show) -> tuple[NoteLine, ...]:
    """Return the last notes, the newest first."""
    return tuple(_note_line(show, note) for note in islice(reversed(list(show.notes.values())), _LAST_NOTES))


def line_check_view(show: Show) -> LineCheckView | None:
    """Return the line check that runs, or the last one."""
    check = show.line_check
    if check is None:
        return None
    heard = [all(one.is_heard for one in said) for mix, said in check.answers.items() if mix in check.mixes]
    return LineCheckView(
        check=check.id,
        source=show.source_name(check.source) or "",
        is_over=check.is_over,
        at_ms=check.at_ms,
        answers=tuple(_heard_line(show, mix) for mix in show.mixes),
        count=(sum(heard), len(heard) - sum(heard), len(check.mixes) - len(heard)),
    )


def phone_note(show: Show, mix: str) -> PhoneNote:
    """Return what a mix's phone is told and asked."""
    note, check = note_on_phone(show.notes, mix), show.line_check
    replied = note.replies.get(mix) if note else None
    words = note_text(note.words) if note else ""
    is_asked = check is not None and check.asks(mix)
    heard = check.answers.get(mix, ()) if check and is_asked else ()
    return PhoneNote(
        note=note.id if note else "",
        words=words,
        is_long=len(words) > _SHORT_WORDS,
        at_ms=note.at_ms if note else 0,
        said=_said_here(show, mix, replied.musician, _(REPLIES[replied.reply])) if replied else "",
        check=check.id if check and is_asked else "",
        source=(show.source_name(check.source) or "") if check and is_asked else "",
        heard=listed(_said_here(show, mix, one.musician, _yes_or_no(one)) for one in heard),
    )


def _said_here(show: Show, mix: str, musician: str, answer: str) -> str:
    """Say who said what: the phones of a mix that is shared all show the same."""
    if _is_shared(show, mix):
        return _by(show, musician, answer)
    return _("you said %(answer)s", answer=answer)


def _by(show: Show, musician: str, answer: str) -> str:
    return _("%(name)s: %(answer)s", name=show.musician_name(musician), answer=answer)


def _is_shared(show: Show, mix: str) -> bool:
    return len(show.mix(mix).musicians) > 1


def _yes_or_no(heard: Heard) -> str:
    return _("yes") if heard.is_heard else _("no")


def note_text(words: str) -> str:
    """Return a note in the language at hand, if it is one of those that every show begins with; else as it was typed."""
    return _(words) if words in SAID_TEXTS else words


def _note_line(show: Show, note: DeskNote) -> NoteLine:
    replies = [(mix, note.reply_of(mix)) for mix in note.mixes if mix in show.mixes]
    return NoteLine(
        note=note.id,
        words=note_text(note.words),
        at_ms=note.at_ms,
        is_taken_back=note.is_taken_back,
        replies=tuple(
            ReplyLine(
                show.mixes[mix].name,
                _("no reply yet") if reply is None else _(REPLIES[reply]),
                reply in _NEEDS_A_HAND,
            )
            for mix, reply in replies
        ),
    )


def _heard_line(show: Show, mix: str) -> ReplyLine:
    check = show.line_check
    name = show.mixes[mix].name
    if check is None or mix not in check.mixes:
        return ReplyLine(name, _("not in this mix, not asked"), is_hand=False)
    heard = check.answers.get(mix, ())
    nothing = _("no answer") if check.is_over else _("no answer yet")
    if not heard:
        return ReplyLine(name, nothing, is_hand=False)
    said = _heard_by_name(show, check, mix, nothing) if _is_shared(show, mix) else _yes_or_no(heard[-1])
    return ReplyLine(name, said, is_hand=not all(one.is_heard for one in heard))


def _heard_by_name(show: Show, check: LineCheck, mix: str, nothing: str) -> str:
    answers = [(who, check.answer_of(mix, who)) for who in show.mix(mix).musicians]
    return listed(_by(show, who, _yes_or_no(heard) if heard else nothing) for who, heard in answers)
