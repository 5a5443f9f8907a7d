"""Exposure at the desk: levels at the ear as they are entered, the rule, and what a mix's page shows of both."""

from dataclasses import replace

from flask import Blueprint, flash, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.refusals import Refusal
from monreq.domain.setup import Output
from monreq.domain.show import Show
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.exposure_forms import (
    EarLevelForm,
    RuleForm,
    UnreadableEarLevel,
    is_field_level,
    method_of,
    read_ear_level,
    rule_of,
)
from monreq.web.exposure_view import ExposureView, exposure_view
from monreq.web.posting import accepted, refused
from monreq.web.show_marks import PageOutOfDate
from monreq.web.speech import _
from monreq.web.submitting import DESK_SCOPE, from_form, of_form

blueprint = Blueprint("exposure", __name__, url_prefix="/desk/mix/<mix>/exposure")


@blueprint.post("")
def measure(mix: str) -> ResponseReturnValue:
    """Enter a level at the ear."""
    show = desk_show()
    form = EarLevelForm()
    try:
        if not form.validate():
            raise UnreadableEarLevel("Type the level at the ear, and say how it was measured.")
        command = m.MeasureEarLevel(
            mix,
            read_ear_level(form.level.data or ""),
            method_of(form),
            form.words.data or "",
            bool(form.is_correction.data),
            _field_level(show, mix, form),
        )
        submission = from_form(DESK_SCOPE, form.client_id.data or "", {"command": command})
        web().shows.submit(show.id, command, submission)
    except Refusal as refusal:
        return refused(refusal, _page(mix))
    flash(_("Level at the ear entered."))
    return accepted(_page(mix))


@blueprint.post("/rule")
def choose_rule(mix: str) -> ResponseReturnValue:
    """Choose the rule by which the whole show is reckoned."""
    show = desk_show()
    form = RuleForm()
    try:
        if not form.validate():
            raise PageOutOfDate
        settings = replace(show.settings, exposure_rule=rule_of(form))
        web().shows.submit(show.id, c.ChangeSettings(settings), of_form(form))
    except Refusal as refusal:
        return refused(refusal, _page(mix))
    return accepted(_page(mix))


def _field_level(show: Show, mix: str, form: EarLevelForm) -> bool | None:
    """Return what was said of the figure; who types an in-ear's level has to say it."""
    said = is_field_level(form)
    if said is None and show.mix(mix).output is not Output.WEDGE:
        raise UnreadableEarLevel("Say whether the figure was converted, or is as it was read.")
    return said


def exposure_section(show: Show, mix: str) -> ExposureView:
    """Return what a mix's page shows of exposure now."""
    return exposure_view(show, mix, ear_exposure(show, mix, web().shows.now_ms()))


def _page(mix: str) -> str:
    return url_for("levels.show_levels", mix=mix, _anchor="exposure")
