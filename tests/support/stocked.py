"""An evening with one of everything that can be changed, and who is let in everywhere."""

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain import stage_commands as s
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.group_commands import PutGroup
from monreq.domain.groups import Group
from monreq.domain.keeping import ToKeep
from monreq.domain.requests import Outcome
from monreq.domain.stage_plan import SourcePlace
from monreq.services.band_shows import begin_band, keep_mixes
from monreq.web.passphrase import PASSPHRASE
from tests.support.evening import SHOW, Evening, commands
from tests.support.visitor import Visitor


class Stocked(Evening):
    """An evening with one of everything that can be changed."""

    def __init__(self, evening: Evening, show_id: str = SHOW) -> None:
        super().__init__(evening.monreq, show_id)
        shows, bands = self.monreq.shows, self.monreq.bands
        self.do(PutGroup(Group("kit", "Kit", ("drums", "guitar"))))
        self.do(m.ReadMargin("front", "voice", 120, 3))
        self.band = begin_band(shows, bands, self.show, "Ours")
        self.band = keep_mixes(shows, bands, self.show, ToKeep(("front",), "First"))
        self.other = bands.begin("Theirs", self.show)
        self.answered = self.ask("front", "voice", 10, "singer")
        self.do(c.Answer((self.answered,), Outcome.DONE))
        (self.decision,) = self.show.decisions
        self.request = self.ask("front", "drums", 10, "singer")
        self.do(s.DescribeDesk(DeskFacts(mono=8)))
        self.do(s.PlaceOnStage((), (("voice", SourcePlace(beside="singer")),)))
        self.monreq.settings.put(PASSPHRASE, "")

    def stored(self) -> object:
        """Everything that is kept, but for who was let in."""
        shows = self.monreq.shows
        bands = [self.monreq.bands.get(one.id) for one in self.monreq.bands.entries()]
        wifi = [self.monreq.settings.get(name) for name in ("wifi_network", "wifi_password")]
        has_passphrase = bool(self.monreq.settings.get(PASSPHRASE))
        return [shows.state(one.id) for one in shows.entries()], bands, wifi, has_passphrase


def unmarked(evening: Evening) -> Stocked:
    """Return another show of the same line-up, whose soundcheck goes on."""
    shows = evening.monreq.shows
    shows.open("soon", c.OpenShow("Soon"))
    for command in commands():
        if not isinstance(command, c.MarkSoundcheck):
            shows.submit("soon", command)
    return Stocked(evening, "soon")


def everybody(stocked: Stocked) -> Visitor:
    """A browser that is let in everywhere."""
    visitor = Visitor(stocked.monreq.flask)
    for mix in (None, "front", "ears"):
        visitor.scan(stocked.link(mix), lambda page: page.buttons()[0])
    return visitor
