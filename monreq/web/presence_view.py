"""Who is there, in words: the phones beside each mix, and the open desks. A function of the show and a snapshot alone."""

from dataclasses import dataclass

from monreq.domain.presence import Desk, PhoneState, Snapshot
from monreq.domain.queue import queue
from monreq.domain.show import Show
from monreq.web.places import Place, Places
from monreq.web.row_view import row_place
from monreq.web.speech import N_, _, listed

_STATES = {
    PhoneState.AWAKE: N_("phone awake"),
    PhoneState.ASLEEP: N_("phone asleep"),
    PhoneState.GONE: N_("phone gone"),
    PhoneState.NONE: N_("no phone yet"),
}


@dataclass(frozen=True, slots=True)
class PhoneView:
    """A mix's phones in words, and since when; 0 where that says nothing. [ms since 1970, UTC]."""

    text: str
    since_ms: int
    is_hand: bool


@dataclass(frozen=True, slots=True)
class DeskView:
    """An open desk.

    Attributes:
        page: Its page's own id, by which a page knows itself.
        name: What it is called.
        row: The place of the row that its person is on; empty if none that waits.
        where: That row in words.
        on_row: What another desk reads beside that row.
    """

    page: str
    name: str
    row: str
    where: str
    on_row: str


def phone_place(mix: str) -> str:
    """Return the id of the place that says how a mix's phones are."""
    return f"phone-{mix}"


def presence_places(show: Show, snapshot: Snapshot) -> Places:
    """Return the places of a show's presence."""
    rows = {row_place(key): key for key in (row.key for row in queue(show))} if snapshot.desks else {}
    where = {
        place: listed((show.source_name(key.source) or _("whole mix"), show.mix(key.mix).name))
        for place, key in rows.items()
    }
    desks = tuple(_desk(desk, where) for desk in snapshot.desks)
    phones = {phone_place(mix): Place("desk/_phone.html", _phone(snapshot, mix)) for mix in show.mixes}
    return {"desks": Place("desk/_desks.html", desks), **phones}


def _phone(snapshot: Snapshot, mix: str) -> PhoneView:
    phones = snapshot.of(mix)
    is_hand = phones.state is PhoneState.GONE
    return PhoneView(_(_STATES[phones.state]), phones.since_ms, is_hand)


def _desk(desk: Desk, where: dict[str, str]) -> DeskView:
    name = desk.name or _("a desk without a name")
    row = desk.row if desk.row in where else ""
    on_row = _("%(desk)s is on this row", desk=desk.name or _("another desk"))
    return DeskView(desk.page, name, row, where.get(row, ""), on_row)
