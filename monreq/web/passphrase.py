"""The desk's passphrase: how another device comes to the desk, and how it is set, changed and taken away."""

from flask import Blueprint, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.domain.show import Show
from monreq.services.passphrases import PassphraseTooShort, is_right, keep
from monreq.services.shows import Shows
from monreq.web.access import Principal, admit
from monreq.web.context import InstallationSettings, web
from monreq.web.desk import desk_show
from monreq.web.entry import open_shows
from monreq.web.forms import ConfirmForm, PassphraseForm
from monreq.web.speech import N_, _, refusal_said
from monreq.web.tries import PASSPHRASES

blueprint = Blueprint("passphrase", __name__, url_prefix="/desk")

PASSPHRASE = "desk_passphrase"  # noqa: S105 - a setting's name
"""The setting that keeps its hash; empty if there is none."""

_NOT_THIS_WAY = N_("This does not open the desk. The link that monreq printed when it started does.")


def has_passphrase() -> bool:
    """Tell whether the desk has one."""
    return bool(web().settings.get(PASSPHRASE))


def put_passphrase(settings: InstallationSettings, shows: Shows, passphrase: str | None) -> bool:
    """Set, change or (None) take away the passphrase.

    Whoever came in by an earlier one is put out: every desk's code is replaced, and with it what was admitted by
    any, in all workers at once. The first passphrase puts nobody out, and neither does the one that there is.

    Returns:
        Whether desks were put out.

    Raises:
        PassphraseTooShort, PassphraseTooLong, PassphraseTooCommon: It is not taken, and nothing was changed.
    """
    hashed = "" if passphrase is None else keep(passphrase)
    before = settings.get(PASSPHRASE)
    if before and passphrase is not None and is_right(before, passphrase):
        return False
    had_one = bool(before)
    settings.put(PASSPHRASE, hashed)
    if had_one:
        for entry in shows.entries():
            shows.submit(entry.id, c.ReplaceCode(None))
    return had_one


@blueprint.get("/enter")
def ask_passphrase() -> ResponseReturnValue:
    """Ask a device that has not the desk's link for the passphrase."""
    return render_template("entry/enter.html", form=PassphraseForm())


@blueprint.post("/enter")
def enter() -> ResponseReturnValue:
    """Open the newest show's desk, or say that this does not; in the same words and time whatever is wrong."""
    PASSPHRASES.count()
    form = PassphraseForm()
    is_read = form.validate()
    is_known = is_right(web().settings.get(PASSPHRASE) or None, form.passphrase.data or "")
    shows = open_shows()
    if not (is_read and is_known and shows):
        flash(_(_NOT_THIS_WAY))
        return redirect(url_for("passphrase.ask_passphrase"), 303)
    _admit(shows[-1])
    return redirect(url_for("desk.show_queue"), 303)


@blueprint.post("/codes/passphrase")
def set_passphrase() -> ResponseReturnValue:
    """Set the passphrase, or another in its place."""
    show = desk_show()
    form = PassphraseForm()
    try:
        if not form.validate():
            raise PassphraseTooShort
        were_put_out = put_passphrase(web().settings, web().shows, form.passphrase.data or "")
    except Refusal as refusal:
        flash(refusal_said(refusal))
        return redirect(url_for("codes.show_codes"), 303)
    return _stay(show, _("The passphrase is set."), were_put_out=were_put_out)


@blueprint.post("/codes/passphrase/remove")
def remove_passphrase() -> ResponseReturnValue:
    """Leave the desk's link as the only way in."""
    show = desk_show()
    if not ConfirmForm().validate():
        raise NotLikeThis
    were_put_out = put_passphrase(web().settings, web().shows, None)
    return _stay(show, _("There is no passphrase any more."), were_put_out=were_put_out)


def _stay(show: Show, sentence: str, *, were_put_out: bool) -> ResponseReturnValue:
    """Keep this browser at the desk, and say what became of others."""
    _admit(web().shows.state(show.id))
    flash(sentence)
    if were_put_out:
        flash(
            _(
                "Every other desk is out. The desk's old link opens nothing: monreq token desk tells the new one."
            )
        )
    return redirect(url_for("codes.show_codes"), 303)


def _admit(show: Show) -> None:
    admit(Principal(show.id, None, show.generation(None)))
