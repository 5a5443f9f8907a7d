"""The demo's simulated phones: musicians who ask for this and that while somebody looks at the desk."""

import random
import threading
from collections.abc import Callable

from monreq.domain import commands as c
from monreq.domain.group_sends import sends_to_set
from monreq.domain.queue import queue
from monreq.domain.refusals import Refusal
from monreq.domain.requests import Amount, Call, Kind, RowKey
from monreq.domain.setup import Mix, SourceUse
from monreq.domain.show import Show
from monreq.services.ports import StorageFailed
from monreq.services.shows import Shows

BETWEEN_S = (2.5, 7.0)  # chosen: a lively gap between two songs
MOST_ROWS = 9  # chosen: fills a screen, and leaves room to see one's own request arrive
_CALLS = (Call.HURTS, Call.NOTHING, Call.TALK)
_WORDS = ("muddy", "harsh", "drier")


class SimulatedPhones:
    """Asks by itself until it is stopped; leaves the queue alone once it is full."""

    def __init__(self, shows: Shows, show_id: str, chance: random.Random) -> None:
        self._shows, self._show_id, self._chance = shows, show_id, chance
        self._stopping = threading.Event()

    def start(self) -> None:
        """Begin in the background."""
        threading.Thread(target=self._run, name="simulated phones", daemon=True).start()

    def stop(self) -> None:
        """Ask no more."""
        self._stopping.set()

    def _run(self) -> None:
        while not self._stopping.wait(self._chance.uniform(*BETWEEN_S)):
            try:
                show = self._shows.state(self._show_id)
                ask = next_ask(show, self._chance) if len(queue(show)) < MOST_ROWS else None
                if ask is not None:
                    self._shows.submit(self._show_id, ask)
            except (Refusal, StorageFailed):
                continue  # as a musician would: try something else a little later


def next_ask(show: Show, chance: random.Random) -> c.Ask | None:
    """Return what some musician wants next: mostly levels, now and then something else; None if nobody hears."""
    mixes = [mix for mix in show.mixes.values() if mix.musicians and _heard(show, mix)]
    if not mixes:
        return None
    mix = chance.choice(mixes)
    musician, source = chance.choice(mix.musicians), chance.choice(_heard(show, mix))
    is_more = chance.random() < 0.75  # common practice, no source: players ask for more
    amount = c.NamedAmount(chance.choice(list(Amount)), is_more)
    wishes: list[Callable[[], c.Ask]] = [lambda: c.AskForLevel(mix.id, musician, source, amount)] * 20
    wishes += [lambda: c.AskForLevel(mix.id, musician, None, amount)] * 2
    groups = _groups(show, mix)
    wishes += [lambda: c.AskForLevel(mix.id, musician, chance.choice(groups), amount)] * (3 if groups else 0)
    wishes += [lambda: c.AskAboutSound(mix.id, musician, source, chance.choice(_WORDS))]
    wishes += [lambda: c.CallDesk(mix.id, musician, chance.choice(_CALLS))]
    if mix.is_stereo:
        wishes += [lambda: c.AskForPan(mix.id, musician, source, chance.choice((-20, 20)))] * 2
    return chance.choice(wishes)()


def _heard(show: Show, mix: Mix) -> list[str]:
    """Return what can be asked for: talkback has no less on a phone."""
    return [
        source.id
        for source, position in show.sends_in_order(mix.id)
        if position.setting.is_on and source.use is not SourceUse.TALKBACK
    ]


def _groups(show: Show, mix: Mix) -> list[str]:
    """Return the groups of which more than one source is on."""
    return [group for group in show.groups if len(sends_to_set(show, RowKey(mix.id, group, Kind.LEVEL))) > 1]
