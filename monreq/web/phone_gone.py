"""What a phone says of requests for sources that were taken out of the show, and have no strip any more."""

from monreq.domain.removals import REMOVED
from monreq.domain.show import Show
from monreq.web.speech import ngettext


def gone_lines(show: Show, mix: str) -> tuple[str, ...]:
    """Return the line for a mix; empty if nothing that was asked there is gone."""
    gone = {
        key.source
        for key, decision in show.latest.items()
        if key.mix == mix
        and key.source is not None
        and show.levels[mix].at(key.source) is None
        and key.source not in show.groups
        and show.decisions[decision].reason == REMOVED
    }
    if not gone:
        return ()
    return (
        ngettext(
            "%(num)d source you asked for was taken out of the show: not done.",
            "%(num)d sources you asked for were taken out of the show: not done.",
            len(gone),
        ),
    )
