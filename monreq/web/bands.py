"""One stored band: it plays in this show, it is called otherwise, it is removed."""

from flask import Blueprint, render_template, url_for
from flask.typing import ResponseReturnValue

from monreq.domain.band_commands import ChooseBand
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import ConfirmForm
from monreq.web.keeping import done
from monreq.web.keeping_forms import SeenBandForm
from monreq.web.speech import _
from monreq.web.submitting import of_band_form, of_form

blueprint = Blueprint("bands", __name__, url_prefix="/desk/bands/<band>")


@blueprint.get("")
def show_band(band: str) -> ResponseReturnValue:
    """Show a band, to be chosen, renamed or removed."""
    show = desk_show()
    found = web().bands.get(band)
    form = SeenBandForm(seen=found.revision, name=found.name)
    return render_template("desk/kept_band.html", show=show, band=found, form=form, confirm=ConfirmForm())


@blueprint.post("/plays")
def choose_band(band: str) -> ResponseReturnValue:
    """Let a band be this show's: what is kept of the show is kept in it."""
    show, form = desk_show(), ConfirmForm()

    def chosen() -> str:
        found = web().bands.get(band)
        web().shows.submit(show.id, ChooseBand(found.id), of_form(form))
        return _("%(name)s plays in this show.", name=found.name)

    return done(form, chosen, url_for("bands.show_band", band=band))


@blueprint.post("/name")
def rename_band(band: str) -> ResponseReturnValue:
    """Give a band another name."""
    show, form = desk_show(), SeenBandForm()

    def renamed() -> str:
        web().bands.rename(band, form.name.data or "", int(form.seen.data or 0), of_band_form(show.id, form))
        return _("Renamed.")

    return done(form, renamed, url_for("bands.show_band", band=band))


@blueprint.post("/remove")
def remove_band(band: str) -> ResponseReturnValue:
    """Take a band and all its kept mixes out for good."""
    show, form = desk_show(), SeenBandForm()

    def removed() -> str:
        web().bands.remove(band, int(form.seen.data or 0), of_band_form(show.id, form))
        return _("The band was removed, with everything kept of it.")

    return done(form, removed, url_for("books.show_books"))
