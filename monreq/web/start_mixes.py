"""Start mixes on Prepare: in every mix the own source forward."""

from dataclasses import dataclass

from flask import Blueprint
from flask.typing import ResponseReturnValue

from monreq.domain.carry_commands import CarryLevels, DoTogether
from monreq.domain.show import Show
from monreq.domain.start_mixes import FORWARD_TENTHS, own_forward, own_sources
from monreq.web.forms import ConfirmForm
from monreq.web.preparing import prepared
from monreq.web.wording import signed

blueprint = Blueprint("start_mixes", __name__, url_prefix="/desk/prepare/start-mixes")

FORWARD = signed(FORWARD_TENTHS)


@dataclass(frozen=True, slots=True)
class StartView:
    """A mix, and what is taken for its own sources; empty if nothing is."""

    mix: str
    name: str
    own: tuple[str, ...]


@blueprint.post("")
def start_with_own_forward() -> ResponseReturnValue:
    """Plan the own source forward in every mix where it is known; nobody says that the desk stands so yet."""
    return prepared(ConfirmForm(), _own_forward, "start")


def start_views(show: Show) -> list[StartView]:
    """Return the mixes with their own sources."""
    return [
        StartView(mix.id, mix.name, tuple(show.sources[one].name for one in own_sources(show, mix.id)))
        for mix in show.mixes.values()
    ]


def _own_forward(show: Show) -> DoTogether:
    return DoTogether(
        [
            CarryLevels(mix, tuple(settings.items()))
            for mix in show.mixes
            if (settings := own_forward(show, mix))
        ]
    )
