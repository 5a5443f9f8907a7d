"""What a phone says of its requests: what waits, what the desk did, what can be taken back."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from monreq.domain.decisions import Decision
from monreq.domain.requests import Kind, Outcome, Request, RowKey, Way
from monreq.domain.show import Show
from monreq.domain.suggest import disagree, sums_by_musician, total
from monreq.web import wording
from monreq.web.song_view import song_name
from monreq.web.speech import N_, _, listed
from monreq.web.wording import CALLED

_STATES = (N_("%(what)s, waiting"), N_("%(what)s, set aside by the desk"))
_DISAGREEMENTS = (
    N_("the desk will choose (%(each)s)"),
    N_("set aside by the desk, who will choose (%(each)s)"),
)
_SOUND_STATES = (N_("%(what)s: waiting"), N_("%(what)s: set aside by the desk"))


@dataclass(frozen=True, slots=True)
class TakeBack:
    """A waiting request, with the button that withdraws it."""

    request: str
    text: str


def status(show: Show, rows: Mapping[RowKey, tuple[Request, ...]], keys: Sequence[RowKey]) -> tuple[str, ...]:
    """Return what is said of some rows: what waits, else what the desk did last."""
    lines: list[str] = []
    for key in keys:
        waiting = rows.get(key)
        lines += [_waiting_line(show, key, waiting)] if waiting else answer_lines(show, key)
    return tuple(lines)


def _waiting_line(show: Show, key: RowKey, requests: Sequence[Request]) -> str:
    is_aside = all(one.is_set_aside for one in requests)
    own = [request for request in requests if not request.group]
    if key.kind is Kind.SOUND:
        return _(_SOUND_STATES[is_aside], what=wording.sound(requests[-1].words))
    if disagree(requests):
        sums = sums_by_musician(requests).items()
        each = listed(
            _(
                "%(name)s asks %(figure)s",
                name=show.musician_name(who),
                figure=wording.change(key.kind, amount),
            )
            for who, amount in sums
        )
        return _(_DISAGREEMENTS[is_aside], each=each)
    if not own:
        return listed(_wanted_by_desk(show, requests))
    return _(_STATES[is_aside], what=wording.change(key.kind, total(key.kind, own)))


def _wanted_by_desk(show: Show, requests: Sequence[Request]) -> Iterator[str]:
    if any(request.is_for_song for request in requests):
        song = song_name(show, show.song_plan.song if show.song_plan else None)
        yield _("the desk sets it for %(song)s", song=song)
    if any(request.is_put_back for request in requests):
        yield _("the desk puts it back")
    if any(request.is_for_preamp for request in requests):
        yield _("the desk is changing the preamp")


def answer_lines(show: Show, key: RowKey) -> tuple[str, ...]:
    """Return what the desk did last about a row; empty if it did nothing."""
    decision = show.decisions.get(show.latest.get(key, ""))
    return () if decision is None else (_answer_line(show, decision),)


def _answer_line(show: Show, decision: Decision) -> str:
    reason = wording.reason(decision.reason)
    if decision.outcome is Outcome.NOT_DONE:
        return _("not done: %(reason)s", reason=reason)
    said = _done(show, decision)
    return _("%(said)s: %(reason)s", said=said, reason=reason) if reason else said


def _done(show: Show, decision: Decision) -> str:
    kind = decision.key.kind
    if decision.way is Way.REST_DOWN:
        return _("done: the rest of your mix %(figure)s", figure=wording.rest_change(decision))
    if kind in (Kind.SOUND, Kind.CALL) or decision.done_for_musicians is None:
        return _("done")
    done = wording.change(kind, decision.done_for_musicians)
    asked = wording.change(kind, decision.asked_by_musicians)
    said = _("done %(figure)s", figure=done)
    if disagree(decision.requests):
        each = listed(
            _("%(name)s asked %(figure)s", name=show.musician_name(who), figure=wording.change(kind, amount))
            for who, amount in sums_by_musician(decision.requests).items()
        )
        said = _("done %(figure)s (%(each)s)", figure=done, each=each)
    elif decision.done_for_musicians != decision.asked_by_musicians:
        said = _("asked %(asked)s, done %(done)s", asked=asked, done=done)
    if decision.way is Way.SAME_LOUDNESS:
        return _("%(said)s, the whole mix turned to stay as loud", said=said)
    return said


def take_back(show: Show, waiting: Sequence[Request]) -> tuple[TakeBack, ...]:
    """Return what of the waiting requests can be withdrawn, the newest first."""
    own = [request for request in waiting if not request.group]
    newest_first = sorted(own, key=lambda request: int(request.id[1:]), reverse=True)
    return tuple(TakeBack(one.id, _take_back_text(show, one)) for one in newest_first)


def _take_back_text(show: Show, request: Request) -> str:
    if request.call is not None:
        what = _(CALLED[request.call])
    else:
        what = wording.sound(request.words) or wording.change(request.key.kind, request.amount)
    if len(show.mix(request.key.mix).musicians) > 1:
        return wording.named(show.musician_name(request.musician), what)
    return what
