"""Several desks of one show: what this one is called, such as front of house or stage side."""

from flask import Blueprint, url_for
from flask.typing import ResponseReturnValue
from wtforms import StringField
from wtforms.validators import Length, Optional

from monreq.domain.refusals import Refusal
from monreq.web.desk import desk_show
from monreq.web.desk_name import call_this_desk
from monreq.web.forms import ProtectedForm
from monreq.web.posting import accepted, refused
from monreq.web.show_marks import PageOutOfDate

blueprint = Blueprint("desks", __name__, url_prefix="/desk/name")


class DeskNameForm(ProtectedForm):
    """What this desk is called; empty takes the name away."""

    desk_name = StringField(validators=[Optional(), Length(max=6000)])


@blueprint.post("")
def name_this_desk() -> ResponseReturnValue:
    """Keep this desk's name in its browser's cookie."""
    desk_show()
    form = DeskNameForm()
    page = url_for("desk.show_queue")
    try:
        if not form.validate():
            raise PageOutOfDate
        call_this_desk(form.desk_name.data or "")
    except Refusal as refusal:
        return refused(refusal, page)
    return accepted(page)
