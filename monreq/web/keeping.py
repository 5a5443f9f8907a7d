"""Keeping mixes: any or all of them under a name, the list of what is kept, and bringing one back by hand."""

from collections.abc import Callable, Mapping

from flask import Blueprint, flash, render_template, request, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain.band import Band
from monreq.domain.band_refusals import NoBandYet
from monreq.domain.keeping import ToKeep, kept_mix, kept_settings
from monreq.domain.keeping_differences import differences
from monreq.domain.refusals import Refusal
from monreq.domain.show import Show
from monreq.services.band_shows import begin_band, keep_mixes
from monreq.services.ports import Submission
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import ProtectedForm
from monreq.web.keeping_forms import BroughtBackForm, KeepForm, SeenBandForm
from monreq.web.keeping_view import (
    Names,
    back_view,
    changes,
    keep_section,
    kept_line,
    kept_lines,
    read_line,
    songs_to_choose,
)
from monreq.web.posting import accepted, refused
from monreq.web.show_marks import PageOutOfDate
from monreq.web.speech import _, ngettext
from monreq.web.submitting import DESK_SCOPE, band_scope, from_form, of_band_form

blueprint = Blueprint("keeping", __name__, url_prefix="/desk/kept")


def band_of(show: Show) -> Band | None:
    """Return the band of a show; None if it has none, or if that was removed."""
    here = {entry.id for entry in web().bands.entries()}
    return web().bands.get(show.band) if show.band in here else None


def keep_part(show: Show, mix: str) -> dict[str, object]:
    """Return what the part of a mix's page that keeps it is drawn from."""
    band = band_of(show)
    return {
        "keep": KeepForm(client_id=web().new_id(), name=show.name),
        "band": band,
        "kept_before": keep_section(show, band, mix),
        "songs": songs_to_choose(show, band),
    }


@blueprint.get("")
def kept_list() -> ResponseReturnValue:
    """Show what is kept of the show's band, and keep more."""
    show = desk_show()
    band = band_of(show)
    return render_template(
        "desk/kept.html",
        show=show,
        band=band,
        lines=kept_lines(show, band) if band else [],
        keep=KeepForm(client_id=web().new_id(), name=show.name),
        songs=songs_to_choose(show, band),
        chosen=set(request.args.getlist("mix")) or set(show.mixes),
    )


@blueprint.post("")
def keep() -> ResponseReturnValue:
    """Keep mixes as they stand now."""
    show = desk_show()
    form = KeepForm()

    def kept() -> str:
        said = {"mixes": form.mixes.data, "name": form.name.data, "song": form.song.data}
        submission = desk_submission(show, form, said)
        with_band = with_band_begun(show, form, submission)
        wanted = ToKeep(tuple(form.mixes.data or ()), form.name.data or "", form.song.data or None)
        keep_mixes(web().shows, web().bands, with_band, wanted, submission)
        return ngettext("%(num)d mix kept.", "%(num)d mixes kept.", len(wanted.mixes))

    return done(form, kept, url_for("keeping.kept_list"))


@blueprint.get("/<kept>")
def show_kept(kept: str) -> ResponseReturnValue:
    """Show one kept mix: beside another, beside what stands now, and what brings it back."""
    show = desk_show()
    band = _band(show)
    found = kept_mix(band, kept)
    names = Names(show, band)
    others = [one for one in kept_lines(show, band) if one.mix == found.mix and one.id != kept]
    other = request.args.get("other", "")
    compared = kept_mix(band, other) if other else None
    return render_template(
        "desk/kept_mix.html",
        show=show,
        kept=kept_line(show, names, found),
        others=others,
        other=compared,
        difference=changes(names, differences(kept_settings(compared), kept_settings(found), show.sources))
        if compared
        else (),
        back=back_view(show, band, found) if found.mix in show.mixes else None,
        form=BroughtBackForm(client_id=web().new_id()),
        seen=SeenBandForm(seen=band.revision, name=found.name),
    )


@blueprint.post("/<kept>/back")
def brought_back(kept: str) -> ResponseReturnValue:
    """Enter the levels that a hand set on the desk; what was not set stays as it is."""
    show = desk_show()
    form = BroughtBackForm()

    def entered() -> str:
        mix = kept_mix(_band(show), kept).mix
        values = form.lines.data if form.do.data == "all" else form.ticked.data
        lines = [read_line(value) for value in values or ()]
        settings = tuple(line for line in lines if line is not None)
        if len(settings) != len(lines):
            raise PageOutOfDate
        submission = from_form(DESK_SCOPE, form.client_id.data or "", {"kept": kept, "values": values})
        web().shows.submit(show.id, c.EnterSettings(mix, settings), submission)
        return ngettext("%(num)d level entered.", "%(num)d levels entered.", len(settings))

    return done(form, entered, url_for("keeping.show_kept", kept=kept))


@blueprint.post("/<kept>/name")
def rename_kept(kept: str) -> ResponseReturnValue:
    """Give a kept mix another name."""
    show = desk_show()
    form = SeenBandForm()

    def renamed() -> str:
        web().bands.rename_kept(
            show.band, kept, form.name.data or "", int(form.seen.data or 0), of_band_form(show.id, form)
        )
        return _("Renamed.")

    return done(form, renamed, url_for("keeping.show_kept", kept=kept))


@blueprint.post("/<kept>/remove")
def remove_kept(kept: str) -> ResponseReturnValue:
    """Take a kept mix out for good."""
    show = desk_show()
    form = SeenBandForm()

    def removed() -> str:
        web().bands.remove_kept(show.band, [kept], int(form.seen.data or 0), of_band_form(show.id, form))
        return _("Removed from what is kept.")

    return done(form, removed, url_for("keeping.kept_list"))


def done(form: ProtectedForm, do: Callable[[], str], page: str) -> ResponseReturnValue:
    """Do what a form says and lead on to a page, or read there why not."""
    try:
        if not form.validate():
            raise PageOutOfDate
        said = do()
    except Refusal as refusal:
        return refused(refusal, page)
    flash(said)
    return accepted(page)


def desk_submission(show: Show, form: KeepForm, said: Mapping[str, object]) -> Submission:
    """Return the submission of a form of this show's desk: a band is kept in by the desks of many shows."""
    return from_form(band_scope(show.id), form.client_id.data or "", said)


def with_band_begun(show: Show, form: KeepForm, submission: Submission) -> Show:
    """Return the show with a band: its own, or one begun under the name that the form gives.

    Raises:
        NoBandYet: It has none, and none is named.
    """
    if band_of(show) is not None:
        return show
    if not form.band.data:
        raise NoBandYet
    begun = Submission(submission.scope, f"band.{submission.client_id}", submission.fingerprint)
    begin_band(web().shows, web().bands, show, form.band.data, begun)
    return web().shows.state(show.id)


def _band(show: Show) -> Band:
    return web().bands.get(show.band)
