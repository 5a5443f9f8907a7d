"""A group's row at the desk: each send to set, and what one key records of them all."""

from dataclasses import dataclass

from monreq.domain.queue import Row
from monreq.domain.requests import Kind
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.speech import ngettext


@dataclass(frozen=True, slots=True)
class SendView:
    """One send of a group: where it stands, and where the suggested move leads to; empty if it stays."""

    name: str
    now: str
    set_to: str


def send_views(show: Show, row: Row) -> tuple[SendView, ...]:
    """Return the sends that a row of a group is about; nothing for any other row."""
    return tuple(
        SendView(
            name=show.source_name(send.source) or "",
            now=wording.standing(Kind.IN_OUT, send.before),
            set_to="" if send.after == send.before else wording.standing(Kind.IN_OUT, send.after),
        )
        for send in row.sends
    )


def done_to_all(row: Row) -> str:
    """Return what the key records: done +3 on 5 sends."""
    move = row.suggestion.move or 0
    count = sum(send.after != send.before for send in row.sends)
    change = wording.change(row.key.kind, move)
    if row.key.kind is Kind.IN_OUT and move > 0:
        return ngettext("done: %(num)d send put in", "done: %(num)d sends put in", count)
    if row.key.kind is Kind.IN_OUT:
        return ngettext("done: %(num)d send taken out", "done: %(num)d sends taken out", count)
    return ngettext(
        "done %(change)s on %(num)d send", "done %(change)s on %(num)d sends", count, change=change
    )
