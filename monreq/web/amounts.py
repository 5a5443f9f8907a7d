"""The phone's three amounts: chosen before the source, and kept, or after it, for one request.

An amount that is tapped in an opened strip does not become the chosen one: what the next tap on a strip sends is what
stands chosen above, and nothing else changes that.
"""

from dataclasses import dataclass

from monreq.domain.requests import Amount, amounts_in_tenths
from monreq.domain.setup import Settings
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.places import Place, Places
from monreq.web.speech import N_

AMOUNTS = {Amount.TOUCH: N_("a touch"), Amount.SOME: N_("some"), Amount.LOT: N_("a lot")}


@dataclass(frozen=True, slots=True)
class AmountChoice:
    """An amount to be chosen before the source; how many dB it is stands in a place of the page."""

    value: str
    name: str
    figure_place: str
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class Step:
    """An amount to be tapped after the source.

    Attributes:
        verb: What its button sends: less-lot.
        signed: With its sign, as the button shows it.
        figure: Without, as a sentence says it.
    """

    verb: str
    signed: str
    figure: str


@dataclass(frozen=True, slots=True)
class Steps:
    """The amounts of an opened strip, the smallest first."""

    less: tuple[Step, ...]
    more: tuple[Step, ...]


def choices(chosen: str) -> list[AmountChoice]:
    """Return the three amounts, of which one is chosen: the one named, else the middle one."""
    if chosen not in AMOUNTS:
        chosen = Amount.SOME.value
    return [
        AmountChoice(amount.value, name, _place(amount), amount.value == chosen)
        for amount, name in AMOUNTS.items()
    ]


def figure_places(show: Show) -> Places:
    """Return the places that say how many dB each amount is."""
    return {
        _place(amount): Place("phone/_figure.html", wording.figure(tenths))
        for amount, tenths in amounts_in_tenths(show.settings).items()
    }


def steps(settings: Settings) -> Steps:
    """Return what opened strips offer."""
    amounts = amounts_in_tenths(settings).items()
    return Steps(
        less=tuple(_step("less", amount, -tenths) for amount, tenths in amounts),
        more=tuple(_step("more", amount, tenths) for amount, tenths in amounts),
    )


def _step(way: str, amount: Amount, tenths: int) -> Step:
    return Step(f"{way}-{amount.value}", wording.signed(tenths), wording.figure(abs(tenths)))


def _place(amount: Amount) -> str:
    return f"figure-{amount.value}"
