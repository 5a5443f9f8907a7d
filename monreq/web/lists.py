"""Lists pasted into Prepare: the inputs, and who plays."""

from collections.abc import Callable

from flask import Blueprint, Flask, request
from flask.typing import ResponseReturnValue
from wtforms import TextAreaField
from wtforms.validators import Length

from monreq.domain.carry_commands import DoTogether
from monreq.domain.chair_list import read_chair_list
from monreq.domain.input_list import read_input_list
from monreq.domain.listing import Listing, NewId, list_chairs, list_sources
from monreq.domain.show import Show
from monreq.web.access import admission
from monreq.web.forms import SentOnceForm
from monreq.web.preparing import prepared
from monreq.web.speech import _, listed

blueprint = Blueprint("lists", __name__, url_prefix="/desk/prepare/lists")

_LONGEST = (
    30_000  # chosen: 200 lines of far more than a name each, well within the size of a form [characters]
)
_ROOM = 16 * _LONGEST  # a letter of any script takes up to twelve bytes in a form


def init_app(app: Flask) -> None:
    """Let the desk, and nobody else, send a list larger than any other form."""

    @app.before_request
    def make_room() -> None:
        if request.blueprint == blueprint.name and admission(None) is not None:
            request.max_content_length = request.max_form_memory_size = _ROOM


class PastedForm(SentOnceForm):
    """A list, a line each."""

    lines = TextAreaField(validators=[Length(max=_LONGEST)])


@blueprint.post("/sources")
def paste_sources() -> ResponseReturnValue:
    """Add the sources of a pasted input list."""
    form = PastedForm()
    return _taken(
        form, lambda show: list_sources(show, read_input_list(form.lines.data or ""), _ids(form)), "sources"
    )


@blueprint.post("/chairs")
def paste_chairs() -> ResponseReturnValue:
    """Add the chairs of a pasted list, each line with its mix."""
    form = PastedForm()
    return _taken(
        form, lambda show: list_chairs(show, read_chair_list(form.lines.data or ""), _ids(form)), "players"
    )


def _taken(form: PastedForm, read: Callable[[Show], Listing], part: str) -> ResponseReturnValue:
    def said(before: Show, _after: Show) -> str:
        already = read(before).already
        return (
            _("On the list already, left as they are: %(names)s.", names=listed(already)) if already else ""
        )

    return prepared(form, lambda show: DoTogether(read(show).commands), part, said)


def _ids(form: PastedForm) -> NewId:
    """Return ids that are the same ones when the page's form is sent again."""
    stem = (form.client_id.data or "").lower()[:8]
    return lambda number: f"{stem}{number:03d}"
