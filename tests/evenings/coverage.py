"""What evenings reached: kinds of events, routes with their methods, forms with their buttons; and what must be."""

import typing
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from flask import Flask

from monreq.domain.events import Event
from monreq.web.desk import _BUTTONS

Route = tuple[str, str]
"""A method and an endpoint."""

Pressed = tuple[str, str]
"""The endpoint that a form leads to, and what its button does; empty where it has but one."""

NOT_REACHED_HERE: Final[Mapping[str, str]] = {
    "POST levels.take_off_list": "no page offers it: a form for it is missing, or the route is",
    "levels.take_off_list": "no page offers it: a form for it is missing, or the route is",
}
"""What cannot be reached in one process, each with the reason: the name of an event, `METHOD endpoint`, or
`endpoint verb`."""


@dataclass
class Reached:
    """What was reached, and how often.

    Attributes:
        routes_there: Every method of every route that the program has.
        seen: The buttons that some page showed.
        evenings: Over how many evenings.
    """

    routes_there: set[Route] = field(default_factory=set)
    evenings: int = 0
    events: Counter[str] = field(default_factory=Counter)
    routes: Counter[Route] = field(default_factory=Counter)
    forms: Counter[Pressed] = field(default_factory=Counter)
    seen: set[Pressed] = field(default_factory=set)

    def add(self, other: "Reached") -> None:
        """Take in what another evening reached."""
        self.evenings += other.evenings
        self.routes_there |= other.routes_there
        self.events.update(other.events)
        self.routes.update(other.routes)
        self.forms.update(other.forms)
        self.seen |= other.seen


def wanted_events() -> set[str]:
    """Return the name of every kind of event."""
    return {kind.__name__ for kind in typing.get_args(Event)}


def routes_of(app: Flask) -> set[Route]:
    """Return every method of every route."""
    return {
        (method, rule.endpoint)
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
    }


def wanted_forms(reached: Reached) -> set[Pressed]:
    """Return every button that a page showed, every route that takes a form, and every button that the desk knows."""
    ends = {endpoint for endpoint, _ in reached.seen}
    takes = {
        (endpoint, "")
        for method, endpoint in reached.routes_there
        if method == "POST" and not endpoint.startswith("api.") and endpoint not in ends
    }
    return reached.seen | takes | {("desk.answer", verb) for verb in _BUTTONS}


def missed(reached: Reached) -> list[str]:
    """Name what was not reached, and reasons that are not needed any more."""
    lacking = set(_lacking(reached))
    unneeded = {f"{name} is reached: its reason is not needed" for name in set(NOT_REACHED_HERE) - lacking}
    return sorted(lacking - set(NOT_REACHED_HERE)) + sorted(unneeded)


def _lacking(reached: Reached) -> Iterator[str]:
    yield from wanted_events() - reached.events.keys()
    yield from (" ".join(one) for one in reached.routes_there - reached.routes.keys())
    yield from (f"{end} {verb}".strip() for end, verb in wanted_forms(reached) - reached.forms.keys())


def summary(reached: Reached) -> str:
    """Say how much of what there is was reached."""
    kinds, routes, forms = wanted_events(), reached.routes_there, wanted_forms(reached)
    return (
        f"events {len(kinds & reached.events.keys())} of {len(kinds)} ({reached.events.total()} in all), "
        f"routes {len(routes & reached.routes.keys())} of {len(routes)} ({reached.routes.total()}), "
        f"buttons {len(forms & reached.forms.keys())} of {len(forms)} ({reached.forms.total()})"
    )
