"""How monreq reckons: a page for everybody that says each formula, what it rests on, and what to mind."""

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from monreq.web.reckoned_balance import balance_chapters
from monreq.web.reckoned_exposure import exposure_chapters
from monreq.web.reckoned_feedback import feedback_chapters
from monreq.web.reckoned_guard import guard_chapters
from monreq.web.reckoned_plans import plan_chapters
from monreq.web.reckoned_shows import show_chapters
from monreq.web.speech import _

blueprint = Blueprint("reckoning", __name__)


@blueprint.get("/reckoning")
def show_reckoning() -> ResponseReturnValue:
    """Show every formula with its assumptions and sources; it tells nothing of any show."""
    parts = (
        (_("Balance and loudness"), balance_chapters()),
        (_("Going up"), guard_chapters()),
        (_("Feedback"), feedback_chapters()),
        (_("Exposure"), exposure_chapters()),
        (_("From show to show"), show_chapters()),
        (_("Plans"), plan_chapters()),
    )
    return render_template("reckoning.html", parts=parts)
