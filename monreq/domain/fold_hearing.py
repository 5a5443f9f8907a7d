"""How the state keeps which decisions the phones still ask about: few, and each once."""

from collections.abc import Iterable
from dataclasses import replace

from monreq.domain import events as e
from monreq.domain.decisions import Decision
from monreq.domain.hearing import MOST_TO_HEAR, Verdict, can_be_heard
from monreq.domain.hearing_events import HeardSaid
from monreq.domain.requests import RowKey
from monreq.domain.show import Show


def answered(show: Show, decision: Decision) -> Show:
    """Ask about what was just done, and no more about what was done to the same row before."""
    show = moot(show, decision.key)
    if not can_be_heard(decision):
        return show
    return _asking(show, decision.key.mix, [*show.to_hear.get(decision.key.mix, ()), decision.id])


def moot(show: Show, key: RowKey) -> Show:
    """Ask no more about a row that was asked about again, or whose answer was taken back."""
    asked = show.to_hear.get(key.mix, ())
    left = [one for one in asked if show.decisions[one].key != key]
    return show if len(left) == len(asked) else _asking(show, key.mix, left)


def heard_said(show: Show, event: HeardSaid, recorded: e.Recorded) -> Show:
    """Take note of what was said, and never ask about it again."""
    left = [one for one in show.to_hear.get(event.mix, ()) if one != event.decision]
    verdict = Verdict(event.heard, event.musician, recorded.at_ms)
    return replace(_asking(show, event.mix, left), heard={**show.heard, event.decision: verdict})


def song_over(show: Show) -> Show:
    """Ask no more about what a whole song was played with: who was not content has said so by other means."""
    began_ms = show.phase_at_ms
    if not show.is_running or began_ms is None:
        return show
    for mix, asked in show.to_hear.items():
        show = _asking(show, mix, [one for one in asked if show.decisions[one].at_ms >= began_ms])
    return show


def soundcheck_over(show: Show) -> Show:
    """Ask no more about what was done up to the soundcheck mark: that is how things are to be."""
    return replace(show, to_hear={})


def _asking(show: Show, mix: str, decisions: Iterable[str]) -> Show:
    return replace(show, to_hear={**show.to_hear, mix: tuple(decisions)[-MOST_TO_HEAR:]})
