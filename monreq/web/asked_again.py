"""What was typed and makes little sense is asked about: one line says why, and the same sent again confirms it.

The question takes along what was asked about, so that nothing has to be kept of it: a digest of exactly what was typed,
and the names of the doubts. It comes back beside the second sending; other text, or another doubt, is asked about anew.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import request

from monreq.domain.commands import Command
from monreq.domain.sense import Doubt, DoubtCode, MakesLittleSense
from monreq.domain.show import Show
from monreq.domain.typed_commands import EnterTyped
from monreq.services import typed
from monreq.web import wording
from monreq.web.context import web
from monreq.web.speech import N_, _, listed, one_by_one, said_as
from monreq.web.submitting import fingerprint

CONFIRMS = "confirms"
"""The field that says what was asked about."""

_LONGEST = 10_000  # chosen: the doubts about a hundred sends


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked.

    Attributes:
        confirms: What a second sending takes along.
        source: The first send that it is about; None is the output.
    """

    sentence: str
    confirms: str
    source: str | None


def looked_at(show: Show, command: Command, text: Mapping[str, object]) -> EnterTyped:
    """Return what was typed as a command that asks, unless this sending confirms what the one before was asked about."""
    about, _sep, names = request.form.get(CONFIRMS, "")[:_LONGEST].partition(":")
    confirmed = tuple(names.split()) if about == fingerprint(text) else ()
    return typed.to_be_looked_at(web().bands, show, command, confirmed)


def question(show: Show, refusal: MakesLittleSense, text: Mapping[str, object]) -> Question:
    """Return what to ask about something typed."""
    by_source: dict[str | None, list[Doubt]] = {}
    for doubt in refusal.doubts:
        by_source.setdefault(doubt.source, []).append(doubt)
    said = one_by_one(_said_of_one(show, found) for found in by_source.values())
    names = " ".join(doubt.name for doubt in refusal.doubts)
    return Question(
        _("%(doubts)s. The same again confirms.", doubts=said),
        f"{fingerprint(text)}:{names}",
        refusal.doubts[0].source,
    )


_SAID: Mapping[DoubtCode, str] = {
    DoubtCode.AGAINST_ASKED: N_("asked %(asked)s, typed %(typed)s"),
    DoubtCode.LOUDER_AT_CALL: N_("%(call)s, but typed %(typed)s"),
    DoubtCode.INTO_RESERVE: N_("leaves a feedback margin of %(figure)s dB, reserve %(reserve)s"),
    DoubtCode.AFTER_SQUEAL: N_("comes to where it squealed"),
    DoubtCode.AFTER_HURTS: N_("comes to where it hurt"),
    DoubtCode.PAST_EVENING: N_("goes up more than is advised in one evening"),
    DoubtCode.DAY_FULL: N_("goes up though this ear's day may be full"),
    DoubtCode.NO_TIME: N_("comes near a level at which no time is permitted"),
    DoubtCode.JUMP: N_("%(typed)s dB in one go"),
    DoubtCode.UNUSUAL: N_("%(apart)s dB above the last %(shows)s shows"),
}
_BELOW_USUAL = N_("%(apart)s dB below the last %(shows)s shows")


def _said_of_one(show: Show, doubts: Sequence[Doubt]) -> str:
    """Say all doubts about one send, group or output."""
    mix, source = doubts[0].mix, show.source_name(doubts[0].source) or _("Whole mix")
    said = listed(_doubt_said(show, doubt) for doubt in doubts)
    return _("%(source)s in %(mix)s: %(said)s", source=source, mix=show.mix(mix).name, said=said)


def _doubt_said(show: Show, doubt: Doubt) -> str:
    is_below = doubt.code is DoubtCode.UNUSUAL and doubt.figure < 0
    return said_as(
        _BELOW_USUAL if is_below else _SAID[doubt.code],
        {
            "asked": wording.change(doubt.kind, doubt.figure),
            "typed": wording.change(doubt.kind, doubt.typed),
            "call": _(wording.CALLS[doubt.call]) if doubt.call else "",
            "figure": wording.figure(doubt.figure),
            "apart": wording.figure(abs(doubt.figure)),
            "reserve": wording.figure(show.settings.reserve_tenths),
            "shows": doubt.shows,
        },
    )
