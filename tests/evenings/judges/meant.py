"""Whether what was recorded is what the player meant: in the show, the mix and the row that their page was of."""

from collections.abc import Iterator
from typing import Final

from monreq.domain import events as e
from monreq.domain.requests import Move
from tests.evenings.browser import Done
from tests.evenings.found import Found

_ROW_PARTS: Final = 4
_ANSWERS: Final = (
    "done",
    "same_loudness",
    "rest_down",
    "figure",
    "set_aside",
    "not_done",
    "answered",
    "take_back",
)
_OF_ALL_SHOWS: Final = (
    "prepare.begin_next_show",
    "passphrase.set_passphrase",  # replaces the code of every show's desk
    "passphrase.remove_passphrase",
)
_STEPS: Final = {"more": 1, "less": -1}


def check(done: Done) -> None:
    """Find fault with what one press or call came to."""
    for show_id, log in done.news.items():
        if show_id != done.show_id and done.endpoint not in _OF_ALL_SHOWS:
            raise Found(
                "meant", f"{done.who} pressed {done.verb!r} in {done.show_id}, {_kinds(log)} in {show_id}"
            )
    log = done.news.get(done.show_id, [])
    if log and done.status >= 400:
        raise Found("meant", f"{done.who} was refused by {done.status}, and {_kinds(log)} recorded")
    if done.mix is not None:
        _check_phone(done, log)
    elif done.verb in _ANSWERS and log:
        _check_answer(done, log)


def _kinds(log: list[e.Recorded]) -> str:
    return ", ".join(type(one.event).__name__ for one in log)


def _check_phone(done: Done, log: list[e.Recorded]) -> None:
    """A phone touches its own mix alone, and speaks for who holds it."""
    for recorded in log:
        mix = getattr(recorded.event, "mix", done.mix)
        if mix != done.mix:
            raise Found("meant", f"{done.who} of {done.mix} pressed {done.verb!r}: recorded in {mix}")
    for event in (one.event for one in log):
        if isinstance(event, e.ChangeAsked) and done.endpoint == "phone.ask":
            _check_asked(done, event)


def _check_asked(done: Done, event: e.ChangeAsked) -> None:
    way = done.verb.partition("-")[0]
    if done.musician and event.musician != done.musician:
        raise Found("meant", f"{done.who} asked, {event.musician} is recorded")
    if way in (*_STEPS, "left", "right", "in", "out", "sound") and (event.source or "") != done.target:
        raise Found("meant", f"{done.who} asked about {done.target!r}, recorded for {event.source!r}")
    if way in _STEPS and event.amount * _STEPS[way] <= 0:
        raise Found("meant", f"{done.who} asked for {done.verb}, recorded {event.amount}")


def _check_answer(done: Done, log: list[e.Recorded]) -> None:
    """An answer is about the row that the desk showed, its requests, and the move that it showed or typed."""
    place = done.target.partition(":")[0]
    parts = place.split("-")
    named = set(done.sent.get(f"{place}-requests", [""])[0].split())
    answers = [one.event for one in log if isinstance(one.event, e.RequestsAnswered)]
    if len(parts) != _ROW_PARTS or len(answers) != 1:
        raise Found("meant", f"{done.who} answered {place}: {_kinds(log)} recorded")
    (answer,) = answers
    if (answer.mix, answer.source or "") != (parts[1], parts[2]) or not named.issuperset(answer.requests):
        raise Found("meant", f"{done.who} answered {place}, recorded for {answer.mix}/{answer.source}")
    shown = done.sent.get(f"{place}-move", [""])[0]
    if done.verb == "done" and shown and parts[3] == "level":
        _check_move(place, int(shown), answer)


def _check_move(place: str, shown: int, answer: e.RequestsAnswered) -> None:
    went = {one.after.level_tenths - one.before.level_tenths for one in _moves(answer)}
    if went - {shown, 0} and answer.move is not None:
        raise Found("meant", f"{place} showed {shown}, recorded {went}")


def _moves(answer: e.RequestsAnswered) -> Iterator[Move]:
    if answer.move is not None:
        yield answer.move
