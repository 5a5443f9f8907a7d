"""An urgent call at the desk in words: who, where, on which aux, and what to do about it, first things first."""

from collections.abc import Iterator
from dataclasses import dataclass

from monreq.domain.last_raise import LastRaise, last_raise
from monreq.domain.margins import margins_in
from monreq.domain.queue import Row
from monreq.domain.requests import Call
from monreq.domain.setup import Output
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.margin_view import margin_text
from monreq.web.speech import N_, _, all_of, listed

OUT = "out"
_MOST_MARGINS = 4  # chosen: a wedge rings by one of its first mics; more would not be read

_DESK = (N_("mute?"), N_("output up?"), N_("listen on cue"))
_RAISE_NOTHING = N_(
    "raise nothing before it is found"
)  # who hears nothing has turned all up, and then it is there again
_CHECKS = {
    (Call.HURTS, Output.WEDGE): (N_("output down"), N_("ask what hurts")),
    (Call.HURTS, Output.IN_EAR_PAIR): (N_("output down"), N_("pack down, or BOTH out"), N_("ask what hurts")),
    (Call.SQUEAL, Output.WEDGE): (
        N_("last raise there back, or output down"),
        N_("then the mics with the least margin"),
        N_("it may be another wedge or the house"),
    ),
    (Call.SQUEAL, Output.IN_EAR_PAIR): (
        N_("an open mic near a wedge"),
        N_("it may be another wedge or the house"),
    ),
    (Call.NOTHING, Output.WEDGE): (
        _RAISE_NOTHING,
        *_DESK,
        N_("output down before a plug is touched"),
        N_("wedge power"),
        N_("cable"),
    ),
    (Call.NOTHING, Output.IN_EAR_PAIR): (
        N_("pack down or both out first"),
        _RAISE_NOTHING,
        *_DESK,
        N_("pack on?"),
        N_("battery"),
        N_("volume"),
        N_("channel"),
        N_("plug"),
    ),
    (Call.TALK, Output.WEDGE): (N_("talkback"),),
    (Call.TALK, Output.IN_EAR_PAIR): (N_("talkback"),),
}


@dataclass(frozen=True, slots=True)
class CalledView:
    """An urgent row in words.

    Attributes:
        who: Player, place and aux.
        calls: What they call, the most pressing first, in one word each.
        steps: What to look at, in order.
        margins: The mics of that wedge with the least margin, where it squeals.
        raised: The source of the last raise there and where it goes back to, as the button sends it; may be empty.
        seen_at_ms: When a desk said that it saw all of it; None before. [ms since 1970, UTC]
        seen_by: That desk's name, if it has one.
    """

    who: str
    calls: str
    steps: tuple[str, ...]
    margins: tuple[str, ...]
    raised: str
    seen_at_ms: int | None
    seen_by: str


def called_view(show: Show, row: Row) -> CalledView | None:
    """Return an urgent row in words, None for every other."""
    if row.urgent is None:
        return None
    mix = show.mix(row.key.mix)
    calls = sorted({one.call for one in row.requests if one.call}, key=list(Call).index)
    seen = [one.seen_at_ms for one in row.requests]
    return CalledView(
        who=_who(show, row),
        calls=listed(_(wording.CALLS[call]) for call in calls),
        steps=tuple(_(step) for step in _CHECKS[row.urgent, mix.output]),
        margins=tuple(_least_margins(show, mix.id)) if Call.SQUEAL in calls else (),
        raised=_raised(raise_of(show, row)),
        seen_at_ms=None if None in seen else max(one or 0 for one in seen),
        seen_by=row.requests[-1].seen_by,
    )


def raise_of(show: Show, row: Row) -> LastRaise | None:
    """Return the raise that a squeal is first answered by taking back, None if there is none."""
    is_squeal = any(one.call is Call.SQUEAL for one in row.requests)
    return last_raise(show, row.key.mix) if is_squeal else None


def raise_taken_back(show: Show, raised: LastRaise) -> str:
    """Return the last raise taken back, as work done: done: Voice back to -20, which is -3."""
    name = show.source_name(raised.source) or _("output")
    if raised.back_to_tenths is None:
        return _("done: %(source)s taken out again", source=name)
    change = raised.back_to_tenths - raised.now.level_tenths
    return _(
        "done: %(source)s back to %(level)s (%(change)s)",
        source=name,
        level=wording.level(raised.back_to_tenths),
        change=wording.signed(change),
    )


def _raised(raised: LastRaise | None) -> str:
    if raised is None:
        return ""
    back_to = OUT if raised.back_to_tenths is None else str(raised.back_to_tenths)
    return f"{raised.source or ''}:{back_to}"


def _who(show: Show, row: Row) -> str:
    mix = show.mix(row.key.mix)
    names = all_of(dict.fromkeys(show.musician_name(one.musician) for one in row.requests))
    return listed(part for part in (names, mix.place, wording.auxes(mix)) if part)


def _least_margins(show: Show, mix: str) -> Iterator[str]:
    """Yield the mics that can ring there, the least margin first, those that were not measured last."""
    margins = sorted(margins_in(show, mix), key=lambda one: (one.left_db is None, one.left_db or 0))
    for one in margins[:_MOST_MARGINS]:
        left = _("not measured") if one.left_db is None else margin_text(one.left_db)
        yield _("%(name)s %(figure)s", name=show.source_name(one.source), figure=left)
