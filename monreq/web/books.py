"""Band books on the desk's pages: the bands that are here, their files, and a file that is brought."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime

from flask import Blueprint, Flask, flash, make_response, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from monreq.domain.band import Band
from monreq.domain.band_refusals import BandNameTaken
from monreq.domain.carry_choices import free_id
from monreq.domain.carry_matching import comparable
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.services.band_ports import BandEntry
from monreq.services.ports import Submission
from monreq.web.access import admission
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import ConfirmForm
from monreq.web.show_marks import PageOutOfDate
from monreq.web.speech import _, ngettext, refusal_said
from monreq.web.submitting import band_scope, from_form

blueprint = Blueprint("books", __name__, url_prefix="/desk/books")

_ROOM_FOR_THE_FORM = 64 * 1024  # chosen: what stands around the file in a posted form [bytes]
_ROOM_FOR_A_PIECE = (
    1024 * 1024
)  # chosen: Werkzeug reads a file in pieces, which must fit beside the fields [bytes]


class NoFileChosen(NotLikeThis):
    """Choose a file first."""


@dataclass(frozen=True, slots=True)
class BandLine:
    """A band as the list shows it.

    Attributes:
        others: Bands that it could be merged with, by id.
    """

    id: str
    name: str
    said: str
    is_of_show: bool
    others: tuple[tuple[str, str], ...]


def init_app(app: Flask) -> None:
    """Let the desk, and nobody else, bring a file larger than any form."""

    @app.before_request
    def make_room() -> None:
        if request.endpoint == "books.bring" and admission(None) is not None:
            request.max_content_length = web().books.largest_bytes + _ROOM_FOR_THE_FORM
            request.max_form_memory_size = _ROOM_FOR_A_PIECE


@blueprint.get("")
def show_books() -> ResponseReturnValue:
    """Show the bands that are here."""
    show = desk_show()
    entries = web().bands.entries()[::-1]
    lines = [_line(one, entries, is_of_show=one.id == show.band) for one in entries]
    return render_template("books/list.html", show=show, bands=lines, confirm=ConfirmForm())


@blueprint.get("/<band>/file")
def download(band: str) -> ResponseReturnValue:
    """Give a band's book, to be put on a USB stick."""
    desk_show()
    chosen = web().bands.get(band)
    answer = make_response(web().books.write(chosen, web().shows.now_ms()))
    answer.headers["Content-Type"] = "application/json"
    answer.headers.set("Content-Disposition", "attachment", filename=f"{_file_name(chosen)}.json")
    return answer


@blueprint.post("/bring")
def bring() -> ResponseReturnValue:
    """Take a book in; another evening of a band that is here is put beside it, to be merged or kept apart."""
    show = desk_show()
    try:
        form = ConfirmForm()
        if not form.validate():
            raise PageOutOfDate
        file = request.files.get("book")
        if file is None or not file.filename:
            raise NoFileChosen
        band = web().books.read(file.stream)
        said = {"band": band.id, "revision": band.revision, "name": band.name}
        page = _taken_in(band, from_form(band_scope(show.id), form.client_id.data or "", said))
    except Refusal as refusal:
        flash(refusal_said(refusal))
        page = url_for("books.show_books")
    return redirect(page, 303)


def _taken_in(band: Band, submission: Submission) -> str:
    """Add a band, or find it; returns the page to go on with."""
    added_before = web().bands.taken(submission)
    entries = [one for one in web().bands.entries() if one.id != added_before]
    known = next((one for one in entries if one.id == band.id), None)
    if known is not None and replace(web().bands.get(known.id), revision=band.revision) == band:
        flash(_("%(name)s is here already, just like in this book.", name=band.name))
        return url_for("books.show_books")
    same_name = next((one for one in entries if comparable(one.name) == comparable(band.name)), None)
    beside = known or same_name
    if beside is None:
        web().bands.add(band, submission)
        flash(_("%(name)s was taken in.", name=band.name))
        return url_for("book_opening.ask_matches", band=band.id)
    apart = replace(
        band,
        id=free_id(band.id, {one.id for one in entries}),
        name=_free_name(band.name, {comparable(one.name) for one in entries}),
    )
    added = web().bands.add(apart, submission)
    flash(_("Another evening of %(name)s is here. Both are kept until you merge them.", name=beside.name))
    return url_for("book_merging.show_both", band=beside.id, other=added.id)


def _free_name(name: str, taken: set[str]) -> str:
    for number in range(2, 100):
        tried = f"{name[:54]} ({number})"
        if comparable(tried) not in taken:
            return tried
    raise BandNameTaken


def _line(entry: BandEntry, entries: list[BandEntry], *, is_of_show: bool) -> BandLine:
    kept = ngettext("%(num)d kept mix", "%(num)d kept mixes", entry.kept)
    said = _("%(kept)s, last changed on %(day)s", kept=kept, day=_day(entry.changed_at_ms))
    others = tuple((one.id, one.name) for one in entries if one.id != entry.id)
    return BandLine(entry.id, entry.name, said, is_of_show, others)


def _day(at_ms: int) -> str:
    return f"{datetime.fromtimestamp(at_ms / 1000, UTC).astimezone():%Y-%m-%d}"


def _file_name(band: Band) -> str:
    """Return the band's name as far as every file system takes it, else its id."""
    kept = "".join(one if one.isascii() and one.isalnum() else "-" for one in band.name)
    return "-".join(part for part in kept.split("-") if part).lower() or band.id
