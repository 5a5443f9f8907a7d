"""The desk's page: the queue, and every answer to it."""

from collections.abc import Callable, Mapping

from flask import Blueprint, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import generate_csrf

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.domain.requests import Kind, Outcome, Way
from monreq.domain.show import Show
from monreq.web.access import admitted, check_still_valid
from monreq.web.context import web
from monreq.web.desk_view import desk_places
from monreq.web.figures import read_figure, read_pan
from monreq.web.forms import AnswerForm, DeskForm
from monreq.web.health_view import health_places
from monreq.web.places import Places
from monreq.web.posting import accepted, refused
from monreq.web.submitting import DESK_SCOPE, from_form

blueprint = Blueprint("desk", __name__, url_prefix="/desk")


class PageOutOfDate(NotLikeThis):
    """This page is out of date. Load it again."""


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
    show = desk_show()
    if not show.mixes:
        return redirect(url_for("prepare.show_setup"), 303)
    return render_template(
        "desk/queue.html",
        form=DeskForm(client_id=web().new_id()),
        revision=show.revision,
        now_ms=web().shows.now_ms(),
        places=web().renderer.everything(_places(show)),
        sources=list(show.sources.values()),
        open_mics=show.open_mics,
    )


@blueprint.get("/places")
def places() -> ResponseReturnValue:
    """Give a page that missed something all its places again."""
    show = desk_show()
    fragments = web().renderer.everything(_places(show))
    return jsonify(revision=show.revision, fragments=fragments, csrf_token=generate_csrf())


def _places(show: Show) -> Places:
    """Return the places of the page: the show's own, and what is wrong with the laptop."""
    return {**desk_places(show), **health_places(web().health.notices())}


@blueprint.post("")
def answer() -> ResponseReturnValue:
    """Take whatever a button of the desk says was done."""
    show = desk_show()
    form = DeskForm()
    try:
        if not form.validate():
            raise PageOutOfDate
        command = _command(form.do.data or "")
        submission = from_form(DESK_SCOPE, form.client_id.data or "", _said())
        web().shows.submit(show.id, command, submission)
    except Refusal as refusal:
        return refused(refusal, url_for("desk.show_queue"))
    return accepted(url_for("desk.show_queue"))


def _command(button: str) -> c.Command:
    verb, _, target = button.partition(":")
    if verb not in _BUTTONS:
        raise PageOutOfDate
    return _BUTTONS[verb](target)


def _row(place: str) -> AnswerForm:
    row = AnswerForm(prefix=f"{place}-")
    if not row.validate():
        raise PageOutOfDate
    return row


def _requests(row: AnswerForm) -> tuple[str, ...]:
    return tuple((row.requests.data or "").split())


def _done(place: str) -> c.Answer:
    return _done_as_shown(place, Way.PLAIN)


def _same_loudness(place: str) -> c.Answer:
    return _done_as_shown(place, Way.SAME_LOUDNESS)


def _rest_down(place: str) -> c.Answer:
    return c.Answer(_requests(_row(place)), Outcome.DONE, way=Way.REST_DOWN)


def _done_as_shown(place: str, way: Way) -> c.Answer:
    """Record the move that the desk was showing, whatever would be suggested by now: that is what the hand did."""
    row = _row(place)
    shown = row.move.data
    return c.Answer(
        _requests(row),
        Outcome.DONE,
        done=int(shown) if shown else None,
        reason=row.because.data or "",
        way=way,
    )


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


def _not_done(place: str) -> c.Answer:
    row = _row(place)
    reason = row.words.data or row.reason.data or ""
    return c.Answer(_requests(row), Outcome.NOT_DONE, reason=reason)


_BUTTONS: Mapping[str, Callable[[str], c.Command]] = {
    "done": _done,
    "same_loudness": _same_loudness,
    "rest_down": _rest_down,
    "figure": _done_so,
    "set_aside": _set_aside,
    "not_done": _not_done,
    "undo": c.Undo,
    "preamp_moved": m.ConfirmPreamp,
    "preamp_dropped": m.DropPreampChange,
    "mark": lambda _: c.MarkSoundcheck(),
}


def _said() -> dict[str, object]:
    """Return what was said: the button, and the fields of its row alone."""
    button = request.form.get("do", "")
    place = button.partition(":")[2]
    fields = {name: value for name, value in request.form.items() if place and name.startswith(f"{place}-")}
    return {"do": button, **fields}
