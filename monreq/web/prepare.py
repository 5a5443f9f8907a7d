"""Prepare: the input list, the musicians and their mixes, before the first note."""

from collections.abc import Callable

from flask import Blueprint, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.domain.setup import Mix, Musician, Output, Source, SourceKind, SourceUse
from monreq.web import wording
from monreq.web.access import Principal, admit
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import ConfirmForm, MixForm, MusicianForm, ShowForm, SourceForm

blueprint = Blueprint("prepare", __name__, url_prefix="/desk/prepare")


class FormIncomplete(NotLikeThis):
    """Something is missing there, or not as it should be."""


@blueprint.get("")
def show_setup() -> ResponseReturnValue:
    """Show the whole set-up, each line ready to be changed."""
    show = desk_show()
    new_id = web().new_id()
    return render_template(
        "prepare/setup.html",
        show=show,
        show_form=ShowForm(name=show.name),
        new_source=SourceForm(client_id=new_id),
        new_musician=MusicianForm(client_id=new_id),
        new_mix=MixForm(client_id=new_id),
        mix_kinds={mix.id: wording.mix_kind(mix) for mix in show.mixes.values()},
        confirm=ConfirmForm(),
        kinds=wording.SOURCE_KINDS,
        uses=wording.SOURCE_USES,
        outputs=wording.OUTPUTS,
    )


@blueprint.post("/show")
def rename_show() -> ResponseReturnValue:
    """Give the show a name."""
    form = ShowForm()
    return _do(form.validate(), lambda: c.RenameShow(form.name.data or ""))


@blueprint.post("/next-show/<after>")
def begin_next_show(after: str) -> ResponseReturnValue:
    """Close the show that the page was drawn for, and begin an empty one at the same desk; sent twice, once."""
    show = desk_show()
    if show.id != after:
        return redirect(url_for("prepare.show_setup"), 303)
    if show.is_open:
        web().shows.submit(show.id, c.CloseShow())
    begun = web().shows.open(web().new_show_id(), c.OpenShow("New show", show.is_demo)).show
    admit(Principal(begun.id, None, begun.generation(None)))
    return redirect(url_for("prepare.show_setup"), 303)


@blueprint.post("/sources/<source>")
def put_source(source: str) -> ResponseReturnValue:
    """Add a source, or change one."""
    form = SourceForm()
    return _do(
        form.validate(),
        lambda: c.PutSource(
            Source(
                source,
                form.name.data or "",
                SourceKind(form.kind.data or ""),
                bool(form.is_stereo.data),
                SourceUse(form.use.data or ""),
            )
        ),
        "sources",
    )


@blueprint.post("/sources/<source>/remove")
def remove_source(source: str) -> ResponseReturnValue:
    """Take a source off the input list."""
    return _do(ConfirmForm().validate(), lambda: c.RemoveSource(source), "sources")


@blueprint.post("/sources/<source>/up")
def move_source_up(source: str) -> ResponseReturnValue:
    """Move a source one line up."""
    order = list(desk_show().sources)
    if source in order[1:]:
        place = order.index(source)
        order[place - 1], order[place] = order[place], order[place - 1]
    return _do(ConfirmForm().validate(), lambda: c.ReorderSources(tuple(order)), "sources")


@blueprint.post("/musicians/<musician>")
def put_musician(musician: str) -> ResponseReturnValue:
    """Add a musician, or rename one."""
    form = MusicianForm()
    return _do(form.validate(), lambda: c.PutMusician(Musician(musician, form.name.data or "")), "musicians")


@blueprint.post("/musicians/<musician>/remove")
def remove_musician(musician: str) -> ResponseReturnValue:
    """Take a musician out of the show."""
    return _do(ConfirmForm().validate(), lambda: c.RemoveMusician(musician), "musicians")


@blueprint.post("/mixes/<mix>")
def put_mix(mix: str) -> ResponseReturnValue:
    """Add a mix, or change its facts."""
    form = MixForm()
    return _do(form.validate(), lambda: c.PutMix(_mix(mix, form)), "mixes")


@blueprint.post("/mixes/<mix>/remove")
def remove_mix(mix: str) -> ResponseReturnValue:
    """Take a mix out of the show."""
    return _do(ConfirmForm().validate(), lambda: c.RemoveMix(mix), "mixes")


def _mix(mix: str, form: MixForm) -> Mix:
    return Mix(
        mix,
        form.name.data or "",
        Output(form.output.data or ""),
        tuple(form.musicians.data or ()),
        form.place.data or "",
        tuple(int(aux) for aux in (form.auxes.data or "").replace(",", " ").split()),
        bool(form.is_fed_mono.data),
    )


def _do(is_complete: bool, command: Callable[[], c.Command], part: str = "show") -> ResponseReturnValue:  # noqa: FBT001
    show = desk_show()
    try:
        if not is_complete:
            raise FormIncomplete
        web().shows.submit(show.id, command())
    except Refusal as refusal:
        flash(refusal.sentence)
    return redirect(url_for("prepare.show_setup", _anchor=part), 303)
