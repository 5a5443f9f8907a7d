"""Submissions as the pages and the JSON interface make them: an id, and a fingerprint of all that was said."""

import hashlib
import json
from collections.abc import Mapping

from flask import request

from monreq.services.ports import Submission
from monreq.web.forms import SentOnceForm
from monreq.web.show_marks import SHOW, mark_of_page

DESK_SCOPE = "@desk"  # no mix can be called so

_ABOUT_SENDING = ("csrf_token", "client_id", SHOW)


def fingerprint(said: Mapping[str, object]) -> str:
    """Return a digest of everything a submission says, whatever the order of its fields."""
    text = json.dumps(said, sort_keys=True, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def from_form(scope: str, page_id: str, said: Mapping[str, object]) -> Submission:
    """Return the submission of a form whose id was drawn with its page.

    One page holds many buttons under one id. So the id sent on is the page's with what was said, where and of which
    show: the same button twice is one submission, another button of the same page is another.
    """
    print_of_said = fingerprint({"show": mark_of_page(), "route": request.path, "said": said})
    return Submission(scope, f"{page_id}.{print_of_said[:12]}", print_of_said)


def of_form(form: SentOnceForm, scope: str = DESK_SCOPE) -> Submission:
    """Return the submission of a form of the desk that says what it says with all its fields."""
    said = {name: values for name, values in request.form.lists() if name not in _ABOUT_SENDING}
    return from_form(scope, form.client_id.data or "", said)


def of_band_form(show_id: str, form: SentOnceForm) -> Submission:
    """Return the same of a form about a band: bands are changed by the desks of many shows."""
    return of_form(form, band_scope(show_id))


def band_scope(show_id: str) -> str:
    """Return the scope of what a show's desk sends about bands."""
    return f"{show_id}/{DESK_SCOPE}"
