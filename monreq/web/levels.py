"""One mix at the desk: its levels, what is asked for somebody without a phone, its history and differences."""

from dataclasses import dataclass, replace

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from monreq.domain import commands as c
from monreq.domain.events import DESK
from monreq.domain.history import difference, history
from monreq.domain.levels import Position
from monreq.domain.panning import STARTING_WIDTH
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.domain.sense import MakesLittleSense
from monreq.domain.setup import Setting
from monreq.domain.shares import share_db
from monreq.domain.show import Show
from monreq.domain.stage_pans import listeners, pans_from_stage
from monreq.domain.subjects import EVERY_MIX, mix_subject
from monreq.services.ports import Submission
from monreq.web import wording
from monreq.web.asked_again import CONFIRMS, looked_at, question
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.exposure import exposure_section
from monreq.web.exposure_forms import EarLevelForm
from monreq.web.exposure_words import RULES
from monreq.web.figures import UnreadableFigure, read_change, read_level, read_pan
from monreq.web.forms import AskForSomebodyForm, ConfirmForm, LevelsForm
from monreq.web.history_view import difference_lines, history_lines
from monreq.web.keeping import keep_part
from monreq.web.kept_typing import typed_in
from monreq.web.margin_view import margin_lines
from monreq.web.mix_cautions import standing_cautions
from monreq.web.posting import accepted, asked_again, refused
from monreq.web.show_marks import SHOW, PageOutOfDate
from monreq.web.speech import _, ngettext, refusal_said
from monreq.web.submitting import DESK_SCOPE, from_form, of_form

blueprint = Blueprint("levels", __name__, url_prefix="/desk/mix/<mix>")

OUTPUT = "output"


@dataclass(frozen=True, slots=True)
class LevelView:
    """One send, or the output, as it stands and as it is typed.

    Attributes:
        field: The beginning of its fields' names.
        level, pan: As a hand finds them, and as they stand in the fields.
        from_stage: The pan that the stage plan would give it; empty if it gives none.
    """

    field: str
    name: str
    level: str
    pan: str
    is_on: bool
    since: str
    stands: str
    confirmed_at_ms: int | None
    from_stage: str = ""


@blueprint.get("")
def show_levels(mix: str) -> ResponseReturnValue:
    """Show where a mix stands and how it came there."""
    show = desk_show()
    facts = show.mix(mix)
    log = web().shows.about(show.id, (mix_subject(mix), EVERY_MIX))
    fills_pans = request.args.get("pans") == "stage"
    missing = [source for source in show.sources.values() if source.id not in show.levels[mix].sends]
    return render_template(
        "desk/mix.html",
        show=show,
        mix=facts,
        kind=wording.mix_kind(facts),
        auxes=wording.auxes(facts),
        cautions=list(standing_cautions(facts)),
        levels=_with_stage_pans(show, mix, is_filled_in=fills_pans),
        fills_pans=fills_pans,
        width=wording.figure(round(10 * STARTING_WIDTH)),
        has_place=listeners(show, mix) is not None,
        missing=missing,
        form=LevelsForm(client_id=web().new_id(), seen=show.revision),
        typed=typed_in(url_for("levels.enter_levels", mix=mix)),
        ask=AskForSomebodyForm(client_id=web().new_id()),
        confirm=ConfirmForm(),
        musicians=[show.musicians[one] for one in facts.musicians],
        history=history_lines(show, history(log)),
        then=request.args.get("then", type=int),
        difference=_difference(show, mix),
        margins=margin_lines(show, mix),
        exposure=exposure_section(show, mix),
        ear_level=EarLevelForm(client_id=web().new_id()),
        rules=RULES,
        **keep_part(show, mix),
    )


@blueprint.post("/levels")
def enter_levels(mix: str) -> ResponseReturnValue:
    """Enter what stands on the desk: a start setting before the soundcheck mark, a correction after it."""
    show = desk_show()
    show.mix(mix)
    form = LevelsForm()
    if not form.validate():
        raise PageOutOfDate
    try:
        seen = web().shows.at(show.id, int(form.seen.data or ""))
        seen.position(mix, None)  # before the mix was put, a page cannot have shown its levels
        command = c.EnterSettings(mix, _entered(seen, show, mix))
        submission = from_form(DESK_SCOPE, form.client_id.data or "", {"mix": mix, **request.form})
        receipt = web().shows.submit(show.id, looked_at(show, command, _typed_text(mix)), submission)
    except MakesLittleSense as doubtful:
        asked = question(show, doubtful, _typed_text(mix))
        return asked_again(doubtful, asked, lambda: show_levels(mix))
    except Refusal as refusal:
        return refused(refusal, _page(mix))
    entered = len(receipt.recorded)
    flash(ngettext("%(num)d entered.", "%(num)d entered.", entered) if entered else _("Nothing was changed."))
    return accepted(_page(mix))


@blueprint.post("/ask")
def ask_for_somebody(mix: str) -> ResponseReturnValue:
    """Ask for a musician who has no phone."""
    show = desk_show()
    form = AskForSomebodyForm()
    try:
        if not form.validate():
            raise UnreadableFigure
        command = c.AskForLevel(
            mix,
            form.musician.data or None,
            form.source.data or None,
            read_change(form.change.data or ""),
            by=DESK,
        )
        said = {"musician": command.musician, "source": command.source, "change": command.change, "mix": mix}
        web().shows.submit(show.id, command, from_form(DESK_SCOPE, form.client_id.data or "", said))
    except Refusal as refusal:
        return refused(refusal, _page(mix))
    return accepted(url_for("desk.show_queue"))


@blueprint.post("/list/<source>")
def put_on_list(mix: str, source: str) -> ResponseReturnValue:
    """Put a source on a mix's list, off: the desk says what it is set to."""
    show = desk_show()
    off = Setting(show.settings.lowest_tenths, is_on=False)
    web().shows.submit(show.id, c.PutSend(mix, source, off), _pressed())
    return redirect(_page(mix), 303)


@blueprint.post("/unlist/<source>")
def take_off_list(mix: str, source: str) -> ResponseReturnValue:
    """Take a source off a mix's list."""
    web().shows.submit(desk_show().id, c.RemoveSend(mix, source), _pressed())
    return redirect(_page(mix), 303)


def _pressed() -> Submission:
    form = ConfirmForm()
    if not form.validate():
        raise PageOutOfDate
    return of_form(form)


def _levels(show: Show, mix: str) -> list[LevelView]:
    output = _level(show, mix, OUTPUT, _("Whole mix (output)"), show.levels[mix].output)
    sends = [
        _level(show, mix, source.id, source.name, position) for source, position in show.sends_in_order(mix)
    ]
    return [output, *sends]


def _with_stage_pans(show: Show, mix: str, *, is_filled_in: bool) -> list[LevelView]:
    """Return the lines with what the stage plan says beside them, or in their fields: nothing is entered by that."""
    advice = {source: wording.pan(percent) for source, percent in pans_from_stage(show, mix).items()}
    return [
        replace(
            view,
            from_stage=advice.get(view.field, ""),
            pan=advice.get(view.field, view.pan) if is_filled_in else view.pan,
        )
        for view in _levels(show, mix)
    ]


def _level(show: Show, mix: str, field: str, name: str, position: Position) -> LevelView:
    setting = position.setting
    stands = None if field == OUTPUT else share_db(show, mix, field)
    has_pan = show.mix(mix).is_stereo and field != OUTPUT
    return LevelView(
        field=field,
        name=name,
        level=wording.level(setting.level_tenths),
        pan=wording.pan(setting.pan_percent) if has_pan else "",
        is_on=setting.is_on,
        since=wording.signed(position.done_tenths) if position.done_tenths else "",
        stands="" if stands is None else wording.signed(round(stands) * 10),
        confirmed_at_ms=position.confirmed_at_ms,
    )


def _entered(seen: Show, show: Show, mix: str) -> tuple[tuple[str | None, Setting], ...]:
    """Return the lines of the form that were typed over; whatever else moved since the page was drawn stays so."""
    entered = []
    for view in _levels(seen, mix):
        source = None if view.field == OUTPUT else view.field
        shown, typed = seen.position(mix, source).setting, _typed(view)
        if typed != shown:
            entered.append((source, _moved_on(show.position(mix, source).setting, shown, typed)))
    return tuple(entered)


def _typed_text(mix: str) -> dict[str, object]:
    """Return what is asked about where it makes little sense: all that stands in the fields."""
    own = ("csrf_token", "client_id", SHOW, "seen", CONFIRMS)
    return {"mix": mix, **{name: value for name, value in request.form.items() if name not in own}}


def _typed(view: LevelView) -> Setting:
    form = request.form
    try:
        return Setting(
            level_tenths=read_level(form.get(f"{view.field}-level", view.level)),
            pan_percent=read_pan(form.get(f"{view.field}-pan", view.pan)) if view.pan else 0,
            is_on=view.field == OUTPUT or f"{view.field}-on" in form,
        )
    except NotLikeThis as unreadable:
        raise type(unreadable)(
            "%(name)s: %(sentence)s", name=view.name, sentence=refusal_said(unreadable)
        ) from unreadable


def _moved_on(now: Setting, shown: Setting, typed: Setting) -> Setting:
    return Setting(
        now.level_tenths if typed.level_tenths == shown.level_tenths else typed.level_tenths,
        now.pan_percent if typed.pan_percent == shown.pan_percent else typed.pan_percent,
        now.is_on if typed.is_on is shown.is_on else typed.is_on,
    )


def _page(mix: str) -> str:
    return url_for("levels.show_levels", mix=mix)


def _difference(show: Show, mix: str) -> list[str]:
    """Return what changed between the moments that the page's address names, by default since the mark."""
    then, now = request.args.get("then", type=int), request.args.get("now", type=int)
    if then is None:
        return []
    before = web().shows.at(show.id, then)
    after = show if now is None else web().shows.at(show.id, now)
    return difference_lines(show, difference(before, after, mix))
