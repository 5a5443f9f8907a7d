"""Reads the desk's line for somebody without a phone: `2 k +3`, `bass kick -1.5`, `2 +3` for the whole mix."""

import re
from dataclasses import dataclass

from monreq.domain import commands as c
from monreq.domain.events import DESK
from monreq.domain.groups import Group
from monreq.domain.refusals import NotLikeThis
from monreq.domain.setup import Source
from monreq.domain.show import Show
from monreq.web.figures import read_change
from monreq.web.speech import MINUS
from monreq.web.typed_names import found

_Heard = list[tuple[str, tuple[str, str | None]]]
"""Names with what they mean: a mix, and the musician who was named."""

_LINE = re.compile(
    rf"\s*(?P<who>\d+|\D+?)\s*(?:(?<=\d)|\s)\s*(?P<source>[^\s].*?)??\s*(?P<change>[-+{MINUS}]\s*\d.*)"
)


class UnreadableLine(NotLikeThis):
    """Type who, what and how much: 2 kick +3. Who is the number of the mix, or a name; only the beginning is needed."""


class NobodyMeant(NotLikeThis):
    """No mix has this number, and no mix or musician is called so."""


class NothingMeant(NotLikeThis):
    """No source in this mix begins like this."""


@dataclass(frozen=True, slots=True)
class AskedLine:
    """What a line means, in names."""

    command: c.AskForLevel
    who: str
    source: str


def read_line(show: Show, line: str) -> AskedLine:
    """Return what a line asks.

    Raises:
        UnreadableLine: It has not the three parts.
        NobodyMeant, NothingMeant: A part means nothing here.
        UnreadableFigure, FinerThanTenths: The figure is none.
    """
    match = _LINE.fullmatch(line)
    if match is None:
        raise UnreadableLine
    mix, musician = _who(show, match["who"])
    source, name = _source(show, mix, match["source"])
    command = c.AskForLevel(mix, musician, source, read_change(match["change"]), by=DESK)
    who = show.mix(mix).name if musician is None else show.musician_name(musician)
    return AskedLine(command, who, name)


def _who(show: Show, typed: str) -> tuple[str, str | None]:
    """Return the mix meant, and the musician where one was named."""
    mixes: _Heard = [(mix.name, (mix.id, None)) for mix in show.mixes.values()]
    musicians: _Heard = [
        (show.musician_name(musician), (mix.id, musician))
        for mix in show.mixes.values()
        for musician in mix.musicians
    ]
    meant = found(typed, mixes if typed.isdecimal() else [*musicians, *mixes])
    if meant is None:
        raise NobodyMeant
    return meant


def _source(show: Show, mix: str, typed: str | None) -> tuple[str | None, str]:
    """Return the source or group meant, and its name: a source that is in the mix; none typed is the whole mix."""
    if not typed:
        return None, ""
    sources = [source for source, _ in show.sends_in_order(mix)]
    things: list[Source | Group] = [*sources, *show.groups.values()]
    meant = found(typed, [(one.name, one) for one in things])
    if meant is None:
        raise NothingMeant
    return meant.id, meant.name
