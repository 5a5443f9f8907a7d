"""After the show: what to keep of it, by the engineer's word or the musicians', and the show's end."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from flask import Blueprint, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain.band import Band
from monreq.domain.keeping import Settings, ToKeep, kept_settings, standing_settings
from monreq.domain.keeping_differences import differences, latest_kept
from monreq.domain.lasting import Lasted
from monreq.domain.setup import Mix
from monreq.domain.show import Show
from monreq.services.band_shows import ask_what_to_keep, keep_mixes, to_propose
from monreq.web import wording
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import ConfirmForm, DeskForm
from monreq.web.keeping import band_of, desk_submission, done, with_band_begun
from monreq.web.keeping_forms import KeepForm
from monreq.web.keeping_view import Names, changes
from monreq.web.show_marks import PageOutOfDate
from monreq.web.speech import _, ngettext
from monreq.web.submitting import DESK_SCOPE, from_form, of_form

blueprint = Blueprint("afterwards", __name__, url_prefix="/desk/afterwards")


@dataclass(frozen=True, slots=True)
class ProposalLine:
    """What is proposed to be kept of one mix.

    Attributes:
        left_out: Moves of the moment, in words: what stands now and is not proposed.
        lowered: What the mix gained since the mark and its output is proposed lower by, in words; empty if nothing.
        since: What differs from what was kept last, in words.
        last: What that was called; empty if nothing was kept of it yet.
        agreed, declined, silent: Musicians by their names, once they were asked.
        kept: The name that it was kept under in this show; empty if it was not yet.
    """

    mix: str
    name: str
    left_out: tuple[str, ...]
    lowered: str
    since: tuple[str, ...]
    last: str
    agreed: tuple[str, ...]
    declined: tuple[str, ...]
    silent: tuple[str, ...]
    kept: str


@blueprint.get("")
def show_afterwards() -> ResponseReturnValue:
    """Show what is proposed to be kept, who agreed, and how to end the show."""
    show = desk_show()
    band = band_of(show)
    proposed = to_propose(web().shows, show)
    names = Names(show, band)
    return render_template(
        "desk/afterwards.html",
        show=show,
        band=band,
        lines=[_line(show, band, names, mix, proposed) for mix in show.mixes.values()],
        keep=KeepForm(client_id=web().new_id(), name=show.name),
        ask=DeskForm(client_id=web().new_id()),
        confirm=ConfirmForm(),
        song_s=show.settings.song_s,
    )


@blueprint.post("/ask")
def ask_musicians() -> ResponseReturnValue:
    """Ask every musician on their phone whether to keep what lasted of their mix."""
    show = desk_show()
    form = DeskForm(do="ask")

    def asked() -> str:
        submission = from_form(DESK_SCOPE, form.client_id.data or "", {"do": "ask_what_to_keep"})
        ask_what_to_keep(web().shows, show, submission)
        return _("The phones ask now.")

    return done(form, asked, url_for("afterwards.show_afterwards"))


@blueprint.post("/keep")
def keep_proposed() -> ResponseReturnValue:
    """Keep what is proposed of the mixes that are ticked."""
    show = desk_show()
    form = KeepForm()

    def kept() -> str:
        mixes = tuple(form.mixes.data or ())
        submission = desk_submission(show, form, {"proposed": mixes, "name": form.name.data})
        with_band = with_band_begun(show, form, submission)
        proposed = to_propose(web().shows, show)
        chosen = {mix: proposed[mix] for mix in mixes if mix in proposed}
        wanted = ToKeep(
            mixes,
            form.name.data or "",
            settings={mix: one.settings for mix, one in chosen.items()},
            lowered={mix: one.lowered_tenths for mix, one in chosen.items()},
        )
        keep_mixes(web().shows, web().bands, with_band, wanted, submission)
        return ngettext("%(num)d mix kept.", "%(num)d mixes kept.", len(mixes))

    return done(form, kept, url_for("afterwards.show_afterwards"))


@blueprint.post("/close")
def close_show() -> ResponseReturnValue:
    """End the show; phones go on showing how it ended and what was kept."""
    show = desk_show()
    form = ConfirmForm()
    if not form.validate():
        raise PageOutOfDate
    if show.is_open:
        web().shows.submit(show.id, c.CloseShow(), of_form(form))
    return redirect(url_for("afterwards.show_afterwards"), 303)


def _line(
    show: Show, band: Band | None, names: Names, mix: Mix, proposed: Mapping[str, Lasted]
) -> ProposalLine:
    lasted, now = proposed[mix.id].settings, standing_settings(show.levels[mix.id])
    stood = _before_it_was_lowered(proposed[mix.id])
    last = latest_kept(band, mix.id) if band else None
    question, note = show.keep_questions.get(mix.id), show.kept_notes.get(mix.id)
    agreed = question.agreed if question else ()
    declined = question.declined if question else ()
    silent = [one for one in mix.musicians if one not in (*agreed, *declined)] if question else []
    return ProposalLine(
        mix=mix.id,
        name=mix.name,
        left_out=changes(names, differences(stood, now, show.sources)),
        lowered=_lowered(show, proposed[mix.id].lowered_tenths),
        since=changes(names, differences(kept_settings(last), lasted, show.sources)) if last else (),
        last=last.name if last else "",
        agreed=tuple(map(show.musician_name, agreed)),
        declined=tuple(map(show.musician_name, declined)),
        silent=tuple(map(show.musician_name, silent)),
        kept=note.name if note else "",
    )


def _before_it_was_lowered(lasted: Lasted) -> Settings:
    output = lasted.settings[None]
    level = output.level_tenths + lasted.lowered_tenths
    return {**lasted.settings, None: replace(output, level_tenths=level)}


def _lowered(show: Show, tenths: int) -> str:
    if not tenths:
        return ""
    change = wording.signed(-tenths)
    if show.mark is None:
        return _("output %(change)s dB: as loud as it started", change=change)
    return _("output %(change)s dB: as loud as at the soundcheck mark", change=change)
