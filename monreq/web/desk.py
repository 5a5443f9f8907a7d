"""The desk's page: the queue, and every answer to it."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from flask import Blueprint, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import generate_csrf

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain import telling_commands as t
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.domain.requests import Kind, Outcome, Way
from monreq.domain.sense import MakesLittleSense
from monreq.domain.show import Show
from monreq.services.taking_back import take_back_sent
from monreq.web.access import admitted, check_still_valid
from monreq.web.asked_again import looked_at, question
from monreq.web.asked_line import read_line
from monreq.web.call_view import OUT
from monreq.web.context import web
from monreq.web.desk_name import desk_name
from monreq.web.desk_said import figure_again, said, typed_figure
from monreq.web.desk_view import desk_places
from monreq.web.figures import read_figure, read_level, read_pan
from monreq.web.forms import AnswerForm, DeskForm
from monreq.web.health_view import health_places
from monreq.web.no_longer_waiting import told_at_desk
from monreq.web.note_view import note_text
from monreq.web.places import Places
from monreq.web.posting import accepted, asked_again, refused
from monreq.web.presence_view import presence_places
from monreq.web.row_view import row_place
from monreq.web.show_marks import PageOutOfDate, mark_of
from monreq.web.song_buttons import SONG_BUTTONS, plan_what_follows
from monreq.web.submitting import DESK_SCOPE, from_form

blueprint = Blueprint("desk", __name__, url_prefix="/desk")


CORRECTING = "c"
"""Stands before a level that is typed to correct one."""


def desk_show() -> Show:
    """Return the show whose desk this browser was admitted to, as it is now.

    Raises:
        UnknownCode: It was admitted to none.
        CodeReplacedSince: The desk's code was replaced.
    """
    principal = admitted(None)
    show = web().shows.state(principal.show_id)
    check_still_valid(show, principal)
    return show


@blueprint.get("")
def show_queue() -> ResponseReturnValue:
    """Show the queue; an empty show is prepared first."""
    show = web().shows.as_of_now(desk_show())
    if not show.mixes:
        return redirect(url_for("prepare.show_setup"), 303)
    return render_template(
        "desk/queue.html",
        form=DeskForm(client_id=web().new_id()),
        show_mark=mark_of(show.id),
        revision=show.revision,
        as_of=show.at_ms,
        now_ms=web().shows.now_ms(),
        places=web().renderer.everything(_places(show)),
        desk_name=desk_name(),
        sources=list(show.sources.values()),
        mixes=list(show.mixes.values()),
        note_texts=[(words, note_text(words)) for words in show.settings.note_texts],
        open_mics=show.open_mics,
        again=figure_again(url_for("desk.answer")),
        preamp=request.args.get("preamp", ""),
    )


@blueprint.get("/places")
def places() -> ResponseReturnValue:
    """Give a page that missed something all its places again."""
    show = web().shows.as_of_now(desk_show())
    fragments = web().renderer.everything(_places(show))
    return jsonify(revision=show.revision, as_of=show.at_ms, fragments=fragments, csrf_token=generate_csrf())


def _places(show: Show) -> Places:
    """Return the places of the page: the show's own, and those of who is there."""
    return {
        **desk_places(show),
        **presence_places(show, web().presence(show.id)),
        **health_places(web().health.notices()),
    }


@blueprint.post("")
def answer() -> ResponseReturnValue:
    """Take whatever a button of the desk says was done."""
    show = desk_show()
    form = DeskForm()
    try:
        if not form.validate():
            raise PageOutOfDate
        button = form.do.data or ""
        submission = from_form(DESK_SCOPE, form.client_id.data or "", said())
        if form.takes_back.data:
            receipt = take_back_sent(web().shows, show.id, submission)
        else:
            command = _signed(_command(button))
            _check_row(show, button, command)
            is_typed = button.partition(":")[0] in _TYPED
            to_do = looked_at(show, command, typed_figure()) if is_typed else command
            receipt = web().shows.submit(show.id, to_do, submission)
            plan_what_follows(show.id, command)
    except MakesLittleSense as doubtful:
        return asked_again(doubtful, question(show, doubtful, typed_figure()), show_queue)
    except Refusal as refusal:
        place = (form.do.data or "").partition(":")[2].partition(":")[0]
        told = told_at_desk(web().shows.state(show.id), refusal, place)
        return refused(told, url_for("desk.show_queue"))
    return accepted(url_for("desk.show_queue"), receipt.revision)


def _command(button: str) -> c.Command:
    verb, _, target = button.partition(":")
    if verb not in _BUTTONS:
        raise PageOutOfDate
    return _BUTTONS[verb](target)


class RequestsOfAnotherRow(NotLikeThis):
    """These requests are not of this row: nothing was changed. Load the page again."""


def _check_row(show: Show, button: str, command: c.Command) -> None:
    """Refuse what names a row and requests that do not belong together.

    Raises:
        RequestsOfAnotherRow: Some that are open are of another row.
    """
    place = button.partition(":")[2].partition(":")[0]
    if not isinstance(command, c.Answer | t.SayCallsSeen | t.TakeBackRaise) or not place.startswith("row-"):
        return
    claimed = (show.open_requests.get(one) for one in command.requests)
    if any(row_place(one.key) != place for one in claimed if one is not None):
        raise RequestsOfAnotherRow


def _signed(command: c.Command) -> c.Command:
    """Put this desk's name under what other desks and phones are told."""
    if isinstance(command, c.Answer | t.SayCallsSeen | t.TakeBackRaise):
        return replace(command, desk=desk_name())
    return command


def _row(place: str) -> AnswerForm:
    row = AnswerForm(prefix=f"{place}-")  # type: ignore[no-untyped-call]  # Flask-WTF publishes no types
    if not row.validate():
        raise PageOutOfDate
    return row


def _requests(row: AnswerForm) -> tuple[str, ...]:
    return tuple((row.requests.data or "").split())


def _done(place: str) -> c.Answer:
    row = _row(place)
    return _done_as_shown(row, row.move.data or "")


def _same_loudness(place: str) -> c.Answer:
    row = _row(place)
    return replace(_done_as_shown(row, row.against.data or ""), way=Way.SAME_LOUDNESS)


def _rest_down(place: str) -> c.Answer:
    return c.Answer(_requests(_row(place)), Outcome.DONE, way=Way.REST_DOWN)


def _done_as_shown(row: AnswerForm, shown: str) -> c.Answer:
    """Record the move that the desk was showing, unless a day that became full since speaks against it."""
    answer = c.Answer(_requests(row), Outcome.DONE, reason=row.because.data or "", is_as_shown=True)
    if shown.startswith("@"):
        return replace(answer, read_tenths=int(shown.removeprefix("@")))
    return replace(answer, done=int(shown)) if shown else answer


def _done_so(place: str) -> c.Answer:
    row = _row(place)
    typed = row.figure.data or ""
    if place.endswith(f"-{Kind.PAN}"):
        return c.Answer(_requests(row), Outcome.DONE, done=read_pan(typed))
    figure = read_figure(typed)
    if figure.is_level:
        return c.Answer(_requests(row), Outcome.DONE, read_tenths=figure.tenths)
    return c.Answer(_requests(row), Outcome.DONE, done=figure.tenths)


def _set_aside(place: str) -> c.Answer:
    return c.Answer(_requests(_row(place)), Outcome.SET_ASIDE)


def _not_done(target: str) -> c.Answer:
    """Say why not: by the code that the button names, else in words."""
    place, _, code = target.partition(":")
    row = _row(place)
    return c.Answer(_requests(row), Outcome.NOT_DONE, reason=code or row.words.data or "")


def _answered(target: str) -> c.Answer:
    """Say in words what was done about a sound: by the code that the button names, else as typed, else just done."""
    place, has_code, code = target.partition(":")
    row = _row(place)
    return c.Answer(_requests(row), Outcome.DONE, reason=code if has_code else row.said.data or "")


def _corrected(place: str) -> c.CorrectLevel:
    """Enter the level that stands on the desk; what waits in the row goes on waiting."""
    row = _row(place)
    _, mix, source, kind = place.split("-")
    typed = (row.figure.data or "").strip().removeprefix(CORRECTING)
    if kind == Kind.PAN:
        return c.CorrectLevel(mix, source or None, pan_percent=read_pan(typed))
    return c.CorrectLevel(mix, source or None, level_tenths=read_level(typed))


def _seen(place: str) -> t.SayCallsSeen:
    return t.SayCallsSeen(_requests(_row(place)))


def _take_back_raise(place: str) -> t.TakeBackRaise:
    """Record what the desk was showing: where the hand put the source of the last raise."""
    row = _row(place)
    source, _, back_to = (row.raised.data or "").partition(":")
    if not back_to:
        raise PageOutOfDate
    return t.TakeBackRaise(_requests(row), source or None, None if back_to == OUT else int(back_to))


def _own_note(_: str) -> t.SendNote:
    return _note(request.form.get("note-words", ""))


def _note(words: str) -> t.SendNote:
    to = request.form.get("note-to", "")
    return t.SendNote(words, (to,) if to else ())


def _line_check(_: str) -> t.BeginLineCheck:
    return t.BeginLineCheck(request.form.get("line-source") or None)


_BUTTONS: Mapping[str, Callable[[str], c.Command]] = {
    "done": _done,
    "same_loudness": _same_loudness,
    "rest_down": _rest_down,
    "figure": _done_so,
    "set_aside": _set_aside,
    "not_done": _not_done,
    "answered": _answered,
    "corrected": _corrected,
    "undo": c.Undo,
    "seen": _seen,
    "take_back": _take_back_raise,
    "note": _note,
    "note_own": _own_note,
    "note_back": t.TakeNoteBack,
    "line_check": _line_check,
    "line_check_end": t.EndLineCheck,
    "preamp_moved": m.ConfirmPreamp,
    "preamp_moved_though": lambda change: m.ConfirmPreamp(change, though_rows_wait=True),
    "preamp_dropped": m.DropPreampChange,
    "mark": lambda _: c.MarkSoundcheck(),
    "ask_line": lambda _: read_line(desk_show(), request.form.get("asked-line", "")).command,
    **SONG_BUTTONS,
}


_TYPED = ("figure", "corrected")
"""The buttons that bring a figure which somebody typed, and which is looked at."""
