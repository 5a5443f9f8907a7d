"""A band is taken over into the show at the desk: what is what, how levels start, everything that changes, then done.

What was chosen stands in the form of each page. Nothing is stored before the last button, and that enters plans: nobody
looked at the desk for them.
"""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from wtforms import HiddenField
from wtforms.validators import Regexp

from monreq.domain.band import Band
from monreq.domain.band_commands import ChooseBand
from monreq.domain.carry_commands import DoTogether
from monreq.domain.carry_over import CarryOver, carry_over
from monreq.domain.carry_refusals import ChangedMeanwhile
from monreq.domain.refusals import Refusal
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.web.book_fields import LEVELS, MATCHES, fields_of, read_answers, read_choices
from monreq.web.book_opening_view import match_parts, mix_levels
from monreq.web.book_report_view import aux_lines, mix_reports, told
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import LevelsForm
from monreq.web.show_marks import PageOutOfDate
from monreq.web.speech import refusal_said
from monreq.web.submitting import DESK_SCOPE, from_form

blueprint = Blueprint("book_opening", __name__, url_prefix="/desk/books/<band>/open")


class TakeForm(LevelsForm):
    """The last button, with what its page was reckoned from.

    Attributes:
        of_band: The band's revision that the page showed.
    """

    of_band = HiddenField(validators=[Regexp(r"[0-9]{1,9}\Z")])


@blueprint.get("")
def ask_matches(band: str) -> ResponseReturnValue:
    """Show what everything of the band is in this show, and ask where that is unsure."""
    return _matches(desk_show(), web().bands.get(band))


@blueprint.post("/matches")
def ask_matches_again(band: str) -> ResponseReturnValue:
    """Show the same with what was chosen before."""
    return _matches(desk_show(), web().bands.get(band))


@blueprint.post("/levels")
def ask_levels(band: str) -> ResponseReturnValue:
    """Ask how each mix is heard and what its levels start from."""
    show, chosen = desk_show(), web().bands.get(band)
    try:
        carry_over(chosen, show, read_answers(chosen, show, request.form))
    except Refusal as refusal:
        return _matches(show, chosen, refusal)
    return _levels(show, chosen)


@blueprint.post("/report")
def show_report(band: str) -> ResponseReturnValue:
    """Show everything that will change."""
    show, chosen = desk_show(), web().bands.get(band)
    try:
        return _report(show, chosen)
    except Refusal as refusal:
        return _levels(show, chosen, refusal)


@blueprint.post("/take")
def take_over(band: str) -> ResponseReturnValue:
    """Take the band over as the page showed it; if something changed meanwhile, show what would change now."""
    show, chosen, form = desk_show(), web().bands.get(band), TakeForm()
    try:
        if not form.validate():
            raise PageOutOfDate
        carried = _as_shown(show, chosen, form)
        said = dict(fields_of((*MATCHES, *LEVELS), request.form))
        command = DoTogether((ChooseBand(chosen.id), *carried.command.commands))
        web().shows.submit(show.id, command, from_form(DESK_SCOPE, form.client_id.data or "", said))
    except ChangedMeanwhile as changed:
        return _report(show, chosen, changed)
    except Refusal as refusal:
        return _matches(show, chosen, refusal)
    return redirect(url_for("prepare.show_setup", _anchor="mixes"), 303)


def _carried(show: Show, band: Band) -> CarryOver:
    return carry_over(band, show, read_choices(band, show, request.form))


def _as_shown(show: Show, band: Band, form: TakeForm) -> CarryOver:
    """Return what is to be done if it is still what the page showed.

    Raises:
        ChangedMeanwhile: It is not.
    """
    shown = _carried(web().shows.at(show.id, int(form.seen.data or "")), band)
    is_same_band = band.revision == int(form.of_band.data or "")
    if is_same_band and _is_done(show, shown):
        return shown
    carried = _carried(show, band)
    if not is_same_band or (carried.command, carried.report) != (shown.command, shown.report):
        raise ChangedMeanwhile
    return carried


def _is_done(show: Show, carried: CarryOver) -> bool:
    """Whether the show is as it would be: the button was pressed twice."""
    after = carried.after
    is_set_up = (after.sources, after.musicians, after.mixes) == (show.sources, show.musicians, show.mixes)
    return is_set_up and _settings(after) == _settings(show)


def _settings(show: Show) -> dict[str, dict[str | None, Setting]]:
    return {mix: levels.settings for mix, levels in show.levels.items()}


def _matches(show: Show, band: Band, refusal: Refusal | None = None) -> ResponseReturnValue:
    if refusal is not None:
        flash(refusal_said(refusal))
    parts = match_parts(band, show, read_answers(band, show, request.form))
    return _page("books/matches.html", show, band, LEVELS, parts=parts)


def _levels(show: Show, band: Band, refusal: Refusal | None = None) -> ResponseReturnValue:
    if refusal is not None:
        flash(refusal_said(refusal))
    mixes = mix_levels(band, show, read_answers(band, show, request.form), request.form)
    return _page("books/levels.html", show, band, MATCHES, mixes=mixes)


def _report(show: Show, band: Band, refusal: Refusal | None = None) -> ResponseReturnValue:
    if refusal is not None:
        flash(refusal_said(refusal))
    report = _carried(show, band).report
    return _page(
        "books/report.html",
        show,
        band,
        (*MATCHES, *LEVELS),
        told=told(report),
        auxes=aux_lines(report),
        mixes=mix_reports(report),
    )


def _page(
    template: str, show: Show, band: Band, sent_on: tuple[str, ...], **shown: object
) -> ResponseReturnValue:
    """Draw a page whose form sends the fields of other pages on."""
    form = TakeForm(formdata=None, client_id=web().new_id(), seen=show.revision, of_band=band.revision)
    fields = fields_of(sent_on, request.form)
    return render_template(template, show=show, band=band, form=form, fields=fields, **shown)
