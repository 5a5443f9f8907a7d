"""One mix as it stood at a moment of its history."""

from dataclasses import dataclass

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from monreq.domain.setup import Mix, Setting
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.speech import _

blueprint = Blueprint("moments", __name__, url_prefix="/desk/mix/<mix>/at")


@dataclass(frozen=True, slots=True)
class ThenLine:
    """Where one send, or the output, stood."""

    name: str
    level: str
    pan: str


@blueprint.get("/<int:revision>")
def show_then(mix: str, revision: int) -> ResponseReturnValue:
    """Show where a mix stood right after an entry of its history."""
    show = desk_show()
    then = web().shows.at(show.id, revision)
    return render_template(
        "desk/mix_then.html",
        show=show,
        mix=then.mix(mix),
        kind=wording.mix_kind(then.mix(mix)),
        at_ms=then.at_ms,
        lines=_lines(then, then.mix(mix)),
    )


def _lines(then: Show, mix: Mix) -> list[ThenLine]:
    output = _line(_("Whole mix (output)"), then.position(mix.id, None).setting)
    sends = then.sends_in_order(mix.id)
    return [output, *(_line(source.name, position.setting, mix) for source, position in sends)]


def _line(name: str, setting: Setting, mix: Mix | None = None) -> ThenLine:
    level = wording.level(setting.level_tenths) if setting.is_on else _("off")
    return ThenLine(name, level, wording.pan(setting.pan_percent) if mix and mix.is_stereo else "")
