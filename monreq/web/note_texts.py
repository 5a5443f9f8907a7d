"""The notes that the desk sends with one press: a show's own, typed one a line."""

from dataclasses import replace

from flask import Blueprint, url_for
from flask.typing import ResponseReturnValue
from wtforms import TextAreaField
from wtforms.validators import Length, Optional

from monreq.domain import commands as c
from monreq.domain.notes import MOST_TEXTS, NOTE_LIMIT
from monreq.domain.refusals import Refusal
from monreq.domain.texts import clean
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import SentOnceForm
from monreq.web.posting import accepted, refused
from monreq.web.show_marks import PageOutOfDate
from monreq.web.submitting import of_form

blueprint = Blueprint("note_texts", __name__, url_prefix="/desk/note-texts")


class NoteTextsForm(SentOnceForm):
    """One note a line; those that begin every show are typed in the language of the page."""

    texts = TextAreaField(validators=[Optional(), Length(max=8 * MOST_TEXTS * NOTE_LIMIT)])


@blueprint.post("")
def change_texts() -> ResponseReturnValue:
    """Take the lines that are not empty."""
    show, form = desk_show(), NoteTextsForm()
    page = url_for("desk.show_queue", _anchor="note-to")
    try:
        if not form.validate():
            raise PageOutOfDate
        lines = [clean(line, NOTE_LIMIT) for line in (form.texts.data or "").splitlines()]
        texts = tuple(dict.fromkeys(filter(None, lines)))
        web().shows.submit(show.id, c.ChangeSettings(replace(show.settings, note_texts=texts)), of_form(form))
    except Refusal as refusal:
        return refused(refusal, page)
    return accepted(page)
