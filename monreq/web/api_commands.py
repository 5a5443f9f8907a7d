"""Bodies of the JSON interface turned into commands of the domain, figures in its units."""

from monreq.domain import commands as c
from monreq.domain.decibels import to_tenths
from monreq.domain.events import DESK
from monreq.domain.refusals import NoFigureHere
from monreq.domain.requests import Kind, Way
from monreq.domain.show import Show
from monreq.web import api_bodies as b
from monreq.web.access import Principal
from monreq.web.api_figures import to_percent


def ask_command(principal: Principal, mix: str, said: b.Ask) -> c.Ask:
    """Return the command of a request; one that the desk enters for somebody says so."""
    by = DESK if principal.is_desk else None
    match said:
        case b.LevelAsk():
            return c.AskForLevel(mix, said.musician, said.source, _change(said), by, said.client_id)
        case b.PanAsk():
            percent = to_percent(said.change_pan)
            return c.AskForPan(mix, said.musician, said.source, percent, by, said.client_id)
        case b.InOrOutAsk():
            is_in = said.kind == "in"
            return c.AskForInOrOut(mix, said.musician, said.source, is_in, by, said.client_id)
        case b.SoundAsk():
            return c.AskAboutSound(mix, said.musician, said.source, said.words, by, said.client_id)
        case b.CallAsk():
            return c.CallDesk(mix, said.musician, said.call, by, said.client_id)


def answer_command(show: Show, said: b.DecisionBody) -> c.Answer:
    """Return the command of a decision, its figure in the unit of the row that is answered.

    Raises:
        NoFigureHere: The row's kind has no such figure.
    """
    first = show.open_requests.get(said.requests[0]) if said.requests else None
    if first is not None:
        _check_unit(first.key.kind, said)
    done = _tenths(said.done_db) if said.done_pan is None else to_percent(said.done_pan)
    return c.Answer(
        said.requests,
        said.outcome,
        done,
        _tenths(said.level_db),
        said.reason or "",
        way=said.way or Way.PLAIN,
    )


def correction_command(mix: str, said: b.CorrectionBody) -> c.CorrectLevel:
    """Return the command of a correction."""
    pan = None if said.pan is None else to_percent(said.pan)
    return c.CorrectLevel(mix, said.source, _tenths(said.level_db), pan, said.is_on)


def _change(said: b.LevelAsk) -> int | c.NamedAmount:
    if said.amount is not None:
        return c.NamedAmount(said.amount, is_more=said.direction == "more")
    return to_tenths(said.change_db or 0)


def _check_unit(kind: Kind, said: b.DecisionBody) -> None:
    if said.done_pan is not None and kind is not Kind.PAN:
        raise NoFigureHere("done_pan is for requests of kind pan only.")
    if said.done_db is not None and kind not in (Kind.LEVEL, Kind.CALL):
        raise NoFigureHere("done_db is for requests of kind level or call only.")


def _tenths(db: float | None) -> int | None:
    return None if db is None else to_tenths(db)
