"""Two evenings of one band, worked by hand on shows and bands in memory."""

from dataclasses import replace

from monreq.domain import commands as c
from monreq.domain import song_commands as so
from monreq.domain.band_commands import ChooseBand
from monreq.domain.carry_choices import Choices, match_band, proposed
from monreq.domain.carry_commands import DoTogether
from monreq.domain.carry_over import carry_over
from monreq.domain.keeping import ToKeep
from monreq.domain.setup import Mix, Musician, Output, Source, SourceKind, SourceUse
from monreq.domain.show import Show
from monreq.domain.songs import NotPlanned, Song
from monreq.services.band_shows import begin_band, keep_mixes
from monreq.services.bands import Bands
from monreq.services.song_moves import plan_what_follows
from tests.support.house import House
from tests.support.memory_log import InlineWriter
from tests.support.memory_shelf import MemoryShelf

Asked = dict[tuple[str, str | None, str], int]

FIRST, SECOND = "first", "second"
LAMP, ROAD = Song("lamp", "Slow lamp"), Song("road", "Long road")
MIC, DIRECT = SourceKind.OPEN_MIC, SourceKind.DIRECT
SOURCES = (
    Source("voice", "Lead voice", MIC),
    Source("keys", "Keys", DIRECT),
    Source("kick", "Kick", MIC),
    Source("click", "Click", DIRECT, use=SourceUse.CLICK),
)
FRONT = Mix("front", "Front", Output.WEDGE, ("ada",))
EARS = Mix("ears", "Drums", Output.IN_EAR_PAIR, ("cleo",))


class Evenings:
    """Two shows of one band, worked by hand."""

    def __init__(self) -> None:
        self.house = House()
        numbers = iter(range(10_000))
        self.bands = Bands(
            MemoryShelf(), InlineWriter(), self.house.shows.now_ms, lambda: f"id{next(numbers)}"
        )
        self.band = ""

    def do(self, show: str, *commands: c.Command) -> Show:
        for command in commands:
            self.house.shows.submit(show, command)
        return self.house.shows.state(show)

    def kept(self, *mixes: str, song: str | None = None, show: str = FIRST) -> None:
        state = self.house.shows.state(show)
        keep_mixes(self.house.shows, self.bands, state, ToKeep(mixes, "As it was", song))

    def carried(self, show: str = SECOND, **changed: object) -> Show:
        """Take the band over into a show as it is proposed, some of it chosen otherwise."""
        band, state = self.bands.get(self.band), self.house.shows.state(show)
        chosen: Choices = replace(proposed(band, state, match_band(band, state)), **changed)  # type: ignore[arg-type]
        carried = carry_over(band, state, chosen)
        return self.do(show, DoTogether((ChooseBand(band.id), *carried.command.commands)))

    def comes(self, song: str, show: str = SECOND) -> Asked:
        """Let a song come next; returns what the queue asks."""
        if self.house.shows.state(show).song != song:
            self.do(show, so.ChooseSong(song))
        plan_what_follows(self.house.shows, self.bands, show)
        waiting = self.house.shows.state(show).open_requests.values()
        return {(one.key.mix, one.key.source, one.key.kind.value): one.amount for one in waiting}

    def not_planned(self, show: str = SECOND) -> tuple[NotPlanned, ...]:
        plan = self.house.shows.state(show).song_plan
        return () if plan is None else plan.not_planned


def levels(evenings: Evenings, show: str, mix: str, *wanted: tuple[str | None, int]) -> None:
    evenings.do(show, *(c.CorrectLevel(mix, source, level) for source, level in wanted))


def two_evenings() -> Evenings:
    """A first evening: levels set, marked, kept for the whole show, then for a song with voice +4 and keys off."""
    evenings = Evenings()
    evenings.house.shows.open(FIRST, c.OpenShow("First evening"))
    evenings.do(FIRST, *map(c.PutSource, SOURCES))
    evenings.do(FIRST, c.PutMusician(Musician("ada", "Ada")), c.PutMusician(Musician("cleo", "Cleo")))
    evenings.do(FIRST, c.PutMix(FRONT), c.PutMix(EARS), so.PutSetList((ROAD, LAMP)))
    levels(evenings, FIRST, "front", (None, 0), ("voice", -30), ("keys", -60), ("kick", -90))
    levels(evenings, FIRST, "ears", (None, -50), ("voice", -100), ("keys", -120), ("kick", -90))
    evenings.do(FIRST, c.MarkSoundcheck())
    evenings.band = begin_band(evenings.house.shows, evenings.bands, evenings.do(FIRST), "The Damp Hats").id
    evenings.kept("front", "ears")
    levels(evenings, FIRST, "front", ("voice", 10), (None, 5))
    evenings.do(FIRST, c.CorrectLevel("front", "keys", is_on=False))
    levels(evenings, FIRST, "ears", ("kick", -70))
    evenings.do(FIRST, c.CorrectLevel("ears", "voice", pan_percent=30))
    evenings.kept("front", "ears", song="lamp")
    evenings.do(FIRST, c.CloseShow())
    evenings.house.shows.open(SECOND, c.OpenShow("Second evening"))
    return evenings
