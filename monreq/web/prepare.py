"""Prepare: the input list, the musicians and their mixes, before the first note."""

from flask import Blueprint, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from wtforms import StringField

from monreq.domain import commands as c
from monreq.domain.setup import Mix, Musician, Output, Source, SourceKind, SourceUse, TakenAt
from monreq.services.next_show import begin_next
from monreq.web import typed, wording
from monreq.web.access import Principal, admit
from monreq.web.aux_plan_view import LINKS, aux_plan_view
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.exposure_words import RULES
from monreq.web.forms import ConfirmForm, MixForm, MusicianForm, SentOnceForm, ShowForm, SourceForm
from monreq.web.groups import offers
from monreq.web.kept_typing import refused_id, refused_sentence, typed_in
from monreq.web.mix_cautions import low_start, mix_cautions
from monreq.web.preparing import prepared
from monreq.web.show_marks import PageOutOfDate
from monreq.web.show_settings import SettingsForm, settings_groups
from monreq.web.stage import musician_places, source_places
from monreq.web.stage_drawing import stage_drawing
from monreq.web.start_mixes import FORWARD, start_views
from monreq.web.submitting import of_form

blueprint = Blueprint("prepare", __name__, url_prefix="/desk/prepare")


@blueprint.get("")
def show_setup() -> ResponseReturnValue:
    """Show the whole set-up, each line ready to be changed."""
    show = desk_show()
    new_id = refused_id(web().new_id)
    return render_template(
        "prepare/setup.html",
        show=show,
        new_id=new_id,
        typed_in=typed_in,
        sentence=refused_sentence(),
        confirm=SentOnceForm(client_id=new_id, formdata=None),
        mix_kinds={mix.id: wording.mix_kind(mix) for mix in show.mixes.values()},
        mix_cautions=mix_cautions(show),
        kinds=wording.SOURCE_KINDS,
        source_kind=wording.source_kind,
        uses=wording.SOURCE_USES,
        outputs=wording.OUTPUTS,
        taken_ats=wording.TAKEN_ATS,
        trims={source.id: typed.amount(source.trim_tenths) for source in show.sources.values()},
        offers=offers(show),
        starts=start_views(show),
        forward=FORWARD,
        auxes=aux_plan_view(show),
        links=LINKS,
        drawing=stage_drawing(show),
        musician_places=musician_places(show),
        source_places=source_places(show),
        settings_form=SettingsForm(client_id=new_id, seen=show.revision, formdata=None),
        settings_groups=settings_groups(show),
        rules=RULES,
    )


@blueprint.post("/show")
def rename_show() -> ResponseReturnValue:
    """Give the show a name."""
    form = ShowForm()
    return prepared(form, lambda _: c.RenameShow(form.name.data or ""), "show")


@blueprint.post("/next-show/<after>")
def begin_next_show(after: str) -> ResponseReturnValue:
    """Close the show that the page was drawn for, and begin the next at the same desk: one, at however many desks."""
    show, form = desk_show(), ConfirmForm()
    if not form.validate() or show.id != after:
        raise PageOutOfDate
    if show.is_open:
        web().shows.submit(show.id, c.CloseShow(), of_form(form))
    begun = begin_next(web().shows, web().show_id, show.id, is_demo=show.is_demo)
    admit(Principal(begun.id, None, begun.generation(None)))
    return redirect(url_for("prepare.show_setup"), 303)


@blueprint.post("/sources/<source>")
def put_source(source: str) -> ResponseReturnValue:
    """Add a source, or change one."""
    form = SourceForm()
    return prepared(form, lambda _: c.PutSource(_source(source, form)), "sources")


@blueprint.post("/sources/<source>/remove")
def remove_source(source: str) -> ResponseReturnValue:
    """Take a source off the input list."""
    return prepared(ConfirmForm(), lambda _: c.RemoveSource(source), "sources")


@blueprint.post("/sources/<source>/up")
def move_source_up(source: str) -> ResponseReturnValue:
    """Move a source one line up."""
    return prepared(
        ConfirmForm(), lambda show: c.ReorderSources(_one_up(list(show.sources), source)), "sources"
    )


@blueprint.post("/musicians/<musician>")
def put_musician(musician: str) -> ResponseReturnValue:
    """Add a musician, or rename one."""
    form = MusicianForm()
    return prepared(form, lambda _: c.PutMusician(_musician(musician, form)), "musicians")


@blueprint.post("/musicians/<musician>/remove")
def remove_musician(musician: str) -> ResponseReturnValue:
    """Take a musician out of the show."""
    return prepared(ConfirmForm(), lambda _: c.RemoveMusician(musician), "musicians")


@blueprint.post("/mixes/<mix>")
def put_mix(mix: str) -> ResponseReturnValue:
    """Add a mix, or change its facts."""
    form = MixForm()
    return prepared(
        form,
        lambda _: c.PutMix(_mix(mix, form)),
        "mixes",
        lambda before, after: low_start(before, mix, after),
    )


@blueprint.post("/mixes/<mix>/remove")
def remove_mix(mix: str) -> ResponseReturnValue:
    """Take a mix out of the show."""
    return prepared(ConfirmForm(), lambda _: c.RemoveMix(mix), "mixes")


def _source(source: str, form: SourceForm) -> Source:
    is_pickup = form.kind.data == wording.ACOUSTIC_PICKUP
    return Source(
        source,
        form.name.data or "",
        SourceKind.DIRECT if is_pickup else SourceKind(form.kind.data or ""),
        bool(form.is_stereo.data),
        SourceUse(form.use.data or ""),
        typed.read_amount(form.trim.data or ""),
        is_acoustic=is_pickup,
    )


def _musician(musician: str, form: MusicianForm) -> Musician:
    return Musician(
        musician,
        form.name.data or "",
        bool(form.is_lead.data),
        form.chair.data or "",
        form.deputy.data or "",
    )


def _one_up(order: list[str], source: str) -> tuple[str, ...]:
    if source in order[1:]:
        place = order.index(source)
        order[place - 1], order[place] = order[place], order[place - 1]
    return tuple(order)


def _mix(mix: str, form: MixForm) -> Mix:
    return Mix(
        mix,
        form.name.data or "",
        Output(form.output.data or ""),
        tuple(form.musicians.data or ()),
        form.place.data or "",
        tuple(int(aux) for aux in (form.auxes.data or "").replace(",", " ").split()),
        bool(form.is_fed_mono.data),
        TakenAt(form.taken_at.data or ""),
        _yes_or_no(form.is_cut_by_mutes),
        _yes_or_no(form.has_limiter),
        _yes_or_no(form.is_pack_low),
    )


def _yes_or_no(field: StringField) -> bool | None:
    return {"yes": True, "no": False}.get(field.data or "")
