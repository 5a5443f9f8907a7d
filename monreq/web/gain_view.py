"""What the desk is told of sources that several mixes ask up."""

from dataclasses import dataclass

from monreq.domain.asked_up import asked_up
from monreq.domain.show import Show
from monreq.web.speech import _


@dataclass(frozen=True, slots=True)
class GainRemark:
    """One source, with the way to its preamp."""

    show: str
    source: str
    text: str


def gain_remarks(show: Show) -> tuple[GainRemark, ...]:
    """Return a remark for each source that at least three mixes ask up, in the order of the input list."""
    ups = asked_up(show)
    return tuple(
        GainRemark(
            show.id,
            source,
            _(
                "%(source)s asked up in %(mixes)s mixes: is the channel's gain low?",
                source=show.source_name(source) or source,
                mixes=ups[source],
            ),
        )
        for source in show.sources
        if source in ups
    )
