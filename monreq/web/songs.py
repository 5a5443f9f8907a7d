"""The set list as it is prepared, and what a line typed for somebody means."""

from flask import Blueprint, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from monreq.domain.refusals import Refusal
from monreq.domain.song_commands import PutSetList
from monreq.domain.songs import songs_of_lines
from monreq.services.song_moves import plan_what_follows
from monreq.web.asked_line import read_line
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import SetListForm
from monreq.web.posting import accepted, refused
from monreq.web.song_view import set_list_text
from monreq.web.speech import refusal_said
from monreq.web.submitting import of_form
from monreq.web.wording import signed

blueprint = Blueprint("songs", __name__, url_prefix="/desk/songs")


@blueprint.get("")
def show_songs() -> ResponseReturnValue:
    """Show the set list, to be changed."""
    show = desk_show()
    return render_template(
        "prepare/songs.html", show=show, form=SetListForm(lines=set_list_text(show)), count=len(show.songs)
    )


@blueprint.post("")
def put_set_list() -> ResponseReturnValue:
    """Take a set list, a song a line."""
    show = desk_show()
    form = SetListForm()
    page = url_for("songs.show_songs")
    if not form.validate():
        return redirect(page, 303)
    try:
        songs = songs_of_lines(form.lines.data or "", show.songs.values(), web().new_id)
        web().shows.submit(show.id, PutSetList(songs), of_form(form))
    except Refusal as refusal:
        return refused(refusal, page)
    plan_what_follows(web().shows, web().bands, show.id)
    return accepted(page)


@blueprint.get("/asked")
def read_asked_line() -> ResponseReturnValue:
    """Say what a line typed for somebody would ask, or why it would not."""
    show = desk_show()
    try:
        asked = read_line(show, request.args.get("line", "")[:80])
    except Refusal as refusal:
        return jsonify(reads=refusal_said(refusal))
    change = asked.command.change
    figure = signed(change) if isinstance(change, int) else ""
    return jsonify(reads=" ".join(part for part in (f"{asked.who}:", asked.source, figure) if part))
