"""What a row says of who asked for what: musicians, the desk itself, a song."""

from collections import Counter
from collections.abc import Sequence

from monreq.domain.queue import Row
from monreq.domain.requests import Kind, Request
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.song_view import song_name
from monreq.web.speech import _, all_of, listed, ngettext

_MOST_FIGURES = 12  # chosen: what stands in one line of the desk


def asked_of(show: Show, row: Row) -> str:
    """Say how often it was asked and by whom, with each figure: asked 2 times by Bass, +3 +3."""
    asked = [one for one in row.requests if not one.group]
    parts = [_asked_by(show, row, asked)] if asked else []
    return listed(part for part in (*parts, *_wanted_by_desk(show, row), _wanted_by_song(show, row)) if part)


def _asked_by(show: Show, row: Row, asked: Sequence[Request]) -> str:
    names = all_of(dict.fromkeys(show.musician_name(one.musician) for one in asked))
    if row.key.kind is Kind.SOUND:
        each = listed(dict.fromkeys(wording.sound(one.words) for one in asked))
    else:
        each = _figures([wording.change(row.key.kind, one.amount) for one in asked if one.amount])
    said = ngettext("asked once by %(names)s", "asked %(num)d times by %(names)s", len(asked), names=names)
    is_one_of_several = sum(not one.is_for_song for one in row.requests) > 1
    if (each and is_one_of_several) or row.key.kind is Kind.SOUND:
        return _("%(asked)s: %(each)s", asked=said, each=each)
    return said


def _wanted_by_desk(show: Show, row: Row) -> list[str]:
    """Say what is put back or makes up for a preamp, each with its own part where there is more in the row."""
    back = [one for one in row.requests if one.is_put_back]
    compensating = [one for one in row.requests if one.is_for_preamp]
    is_all = len(row.requests) in (len(back), len(compensating))
    said = []
    if back:
        part = _("to be put back") if is_all else _("%(asked)s to be put back", asked=_part(row, back))
        said.append(part)
    if compensating:
        part = _("%(asked)s for the preamp", asked=_part(row, compensating))
        said.append(_("compensates the preamp") if is_all else part)
        said += (
            [_("set by hand since: see whether that is in it")] if _is_set_since(show, compensating) else []
        )
    return said


def _part(row: Row, requests: Sequence[Request]) -> str:
    return wording.change(row.key.kind, sum(one.amount for one in requests))


def _is_set_since(show: Show, compensating: Sequence[Request]) -> bool:
    """Whether a hand set a send while it was still to go down for a gain: it may have had that in mind."""
    position = show.levels[compensating[0].key.mix].at(compensating[0].key.source)
    entered_at = 0 if position is None else position.entered_at
    return any(one.amount < 0 and int(one.id[1:]) < entered_at for one in compensating)


def _wanted_by_song(show: Show, row: Row) -> str:
    """Say which song wants it, with its own part where musicians ask too: for Blue moor +4."""
    of_song = [one for one in row.requests if one.is_for_song]
    if not of_song:
        return ""
    name = song_name(show, show.song_plan.song if show.song_plan else None)
    if len(of_song) == len(row.requests):
        return _("for %(song)s", song=name)
    part = wording.change(row.key.kind, sum(one.amount for one in of_song))
    return _("for %(song)s %(change)s", song=name, change=part)


def _figures(changes: Sequence[str]) -> str:
    """Return each figure in the order of asking; of very many, how often each was asked."""
    if len(changes) <= _MOST_FIGURES:
        return " ".join(changes)
    return listed(
        _("%(times)s of %(figure)s", times=times, figure=figure) for figure, times in Counter(changes).items()
    )
