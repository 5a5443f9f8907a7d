"""How a change sounds, in words: the phone's question about it, and what the desk reads of the answer."""

from dataclasses import dataclass

from monreq.domain.decisions import Decision
from monreq.domain.gaps import usual_gap
from monreq.domain.hearing import Heard, asked_more
from monreq.domain.requests import Call, Kind, RowKey
from monreq.domain.show import Show
from monreq.domain.still_to_hear import to_hear
from monreq.web import wording
from monreq.web.speech import N_, _

HEARD_BUTTONS = {f"sounds-{heard.value.replace('_', '-')}": heard for heard in Heard}

BARS_MS = 20_000  # chosen: eight bars of four at 96 a minute
AT_ONCE_MS = 8_000  # chosen: outside a song they play while the hand is still on the send

# What is said by (heard, whether more was asked for): of a source, then of the whole mix.
_SAID = {
    (Heard.RIGHT, True): N_("just right"),
    (Heard.RIGHT, False): N_("just right"),
    (Heard.TOO_LITTLE, True): N_("still too little"),
    (Heard.TOO_LITTLE, False): N_("too little now"),
    (Heard.TOO_MUCH, True): N_("too much now"),
    (Heard.TOO_MUCH, False): N_("still too much"),
}


@dataclass(frozen=True, slots=True)
class HeardButton:
    """One answer."""

    do: str
    text: str


@dataclass(frozen=True, slots=True)
class HeardQuestion:
    """A question about one decision.

    Attributes:
        due_at_ms: When it is to be seen, once they have heard some of it. [ms since 1970, UTC]
    """

    decision: str
    text: str
    buttons: tuple[HeardButton, ...]
    due_at_ms: int


def heard_question(show: Show, mix: str) -> HeardQuestion | None:
    """Return what the phones of a mix ask about what the desk did: one question at a time, the oldest first.

    While it hurts there is none: still too little, tapped beside the call, would ask for more.
    """
    asked = to_hear(show, mix)
    return _question(show, asked[0]) if asked and show.is_open and not _hurts(show, mix) else None


def _hurts(show: Show, mix: str) -> bool:
    return any(one.call is Call.HURTS for one in show.requests_in(RowKey(mix, None, Kind.CALL)))


def heard_of_decision(show: Show, decision: Decision) -> str:
    """Return what was said about a decision, for the desk: Lead voice: still too little; empty if nothing."""
    verdict = show.heard.get(decision.id)
    if verdict is None:
        return ""
    return f"{show.musician_name(verdict.musician)}: {how_it_sounds(decision, verdict.heard)}"


def how_it_sounds(decision: Decision, heard: Heard) -> str:
    """Return what was said about a decision, without who said it: still too little."""
    return _(_SAID[heard, asked_more(decision)])


def heard_of_row(show: Show, key: RowKey) -> str:
    """Return what was said about the last answer in a row, where that is why it is asked about again."""
    decision = show.decisions.get(show.latest.get(key, ""))
    if decision is None or decision.id not in show.heard or show.heard[decision.id].heard is Heard.RIGHT:
        return ""
    if decision.done_for_musicians is None:
        return heard_of_decision(show, decision)
    done = wording.change(key.kind, decision.done_for_musicians)
    return _("%(heard)s after %(change)s", heard=heard_of_decision(show, decision), change=done)


def _question(show: Show, decision: Decision) -> HeardQuestion:
    is_more = asked_more(decision)
    order = (Heard.RIGHT, Heard.TOO_LITTLE, Heard.TOO_MUCH)
    return HeardQuestion(
        decision=decision.id,
        text=_text(show, decision),
        buttons=tuple(
            HeardButton(f"sounds-{heard.value.replace('_', '-')}:{decision.id}", _(_SAID[heard, is_more]))
            for heard in (order if is_more else (order[0], order[2], order[1]))
        ),
        due_at_ms=_due_at_ms(show, decision),
    )


def _text(show: Show, decision: Decision) -> str:
    name = show.source_name(decision.key.source) or _("Whole mix")
    if decision.done_for_musicians is None:
        return _("%(source)s, with the rest down. How is it now?", source=name)
    change = wording.change(decision.key.kind, decision.done_for_musicians)
    return _("%(source)s %(change)s. How is it now?", source=name, change=change)


def _due_at_ms(show: Show, decision: Decision) -> int:
    """Return when to ask: some bars into the song that plays it, or soon where nobody tells songs from gaps."""
    began_ms = show.phase_at_ms
    if show.is_running and began_ms is not None:
        return max(decision.at_ms, began_ms) + BARS_MS
    if began_ms is not None:
        return decision.at_ms + round(usual_gap(show).gap_s * 1000) + BARS_MS
    return decision.at_ms + AT_ONCE_MS
