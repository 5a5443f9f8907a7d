"""What is measured on stage or turned at a preamp, as the desk enters it."""

from collections.abc import Callable

from flask import Blueprint, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import measuring_commands as m
from monreq.domain.commands import Command
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.figures import UnreadableLevel, read_change, read_level
from monreq.web.forms import MarginForm, OpenMicsForm, PreampForm, SentOnceForm, StaleForm
from monreq.web.posting import accepted, refused
from monreq.web.show_marks import PageOutOfDate
from monreq.web.submitting import of_form

blueprint = Blueprint("measuring", __name__, url_prefix="/desk")


class NotFilledIn(NotLikeThis):
    """Fill in every field; how many mics are open is a whole number, like 4."""


class UnreadableMargin(NotLikeThis):
    """Type how far the mic could be raised in dB, like 9 or 7.5."""


@blueprint.post("/mix/<mix>/margin")
def read_margin(mix: str) -> ResponseReturnValue:
    """Enter how far a mic could be raised in a wedge before it rang."""
    form = MarginForm()
    return _do(
        form,
        lambda: m.ReadMargin(
            mix, form.source.data or "", _read_margin(form.margin.data or ""), form.open_mics.data or 0
        ),
        url_for("levels.show_levels", mix=mix, _anchor="margins"),
    )


@blueprint.post("/mix/<mix>/stale")
def make_stale(mix: str) -> ResponseReturnValue:
    """Say that a mix's readings do not hold any more."""
    form = StaleForm()
    return _do(
        form,
        lambda: m.MakeMarginsStale(mix, form.because.data or ""),
        url_for("levels.show_levels", mix=mix, _anchor="margins"),
    )


@blueprint.post("/open-mics")
def count_open_mics() -> ResponseReturnValue:
    """Say how many mics are open now."""
    form = OpenMicsForm()
    return _do(form, lambda: m.CountOpenMics(form.open_mics.data or 0), url_for("desk.show_queue"))


@blueprint.post("/preamp")
def plan_preamp() -> ResponseReturnValue:
    """Plan to turn a preamp; the compensating rows go into the queue."""
    form = PreampForm()
    return _do(
        form,
        lambda: m.PlanPreampChange(form.source.data or "", read_change(form.change.data or "")),
        url_for("desk.show_queue"),
    )


def _do(form: SentOnceForm, command: Callable[[], Command], page: str) -> ResponseReturnValue:
    show = desk_show()
    try:
        if not form.validate():
            raise PageOutOfDate if form.errors.keys() & {"csrf_token", "client_id"} else NotFilledIn
        web().shows.submit(show.id, command(), of_form(form))
    except Refusal as refusal:
        return refused(refusal, page)
    return accepted(page)


def _read_margin(text: str) -> int:
    """Read a margin as it was typed. [0.1 dB]."""
    try:
        return read_level(text)
    except UnreadableLevel as unreadable:
        raise UnreadableMargin from unreadable
