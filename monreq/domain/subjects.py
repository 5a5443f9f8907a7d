"""What an event concerns: under which subjects it is found in the log."""

from monreq.domain import band_events as b
from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import hearing_events as h
from monreq.domain import measuring_events as m
from monreq.domain import telling_events as t

EVERY_MIX = "mix:*"


def mix_subject(mix: str) -> str:
    """Return the subject under which the events of a mix are found."""
    return f"mix:{mix}"


def request_subject(request: str) -> str:
    """Return the subject under which the events of a request are found."""
    return f"request:{request}"


def subjects(event: e.Event) -> tuple[str, ...]:
    """Return what an event concerns: the mixes in whose history it stands, and its requests."""
    return (*_mix_subjects(event), *map(request_subject, _requests(event)))


def _mix_subjects(event: e.Event) -> tuple[str, ...]:
    match event:
        case e.SoundcheckMarked() | m.PreampChangePlanned() | m.PreampMoved() | m.PreampChangeDropped():
            return (EVERY_MIX,)
        case e.MixPut(mix=facts):
            return (mix_subject(facts.id),)
        case e.LevelCorrected(move=move):
            return (mix_subject(move.mix),)
        case (
            e.SendPut(mix=mix)
            | e.SendRemoved(mix=mix)
            | k.LevelsCarried(mix=mix)
            | k.LevelsPutLow(mix=mix)
            | b.KeepAsked(mix=mix)
            | b.KeepAnswered(mix=mix)
            | b.MixKept(mix=mix)
            | h.HeardSaid(mix=mix)
            | m.MarginRead(mix=mix)
            | m.MarginsMadeStale(mix=mix)
            | m.EarLevelMeasured(mix=mix)
            | e.MixRemoved(mix=mix)
            | e.ChangeAsked(mix=mix)
            | e.RequestWithdrawn(mix=mix)
            | e.RequestsCancelledOut(mix=mix)
            | e.RequestsAnswered(mix=mix)
            | e.DecisionUndone(mix=mix)
        ):
            return (mix_subject(mix),)
        case _:
            return tuple(map(mix_subject, t.mixes_told(event)))


def _requests(event: e.Event) -> tuple[str, ...]:
    match event:
        case e.ChangeAsked(request=request) | e.RequestWithdrawn(request=request):
            return (request,)
        case (
            e.RequestsAnswered(requests=requests)
            | e.RequestsCancelledOut(requests=requests)
            | e.DecisionUndone(requests=requests)
        ):
            return requests
        case _:
            return ()
