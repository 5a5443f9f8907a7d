"""Shows on a log in memory, as two processes would have them, with what tests submit to them."""

from itertools import count

from monreq.domain import commands as c
from monreq.services.ports import Change, Submission
from monreq.services.shows import Shows
from tests.support.memory_log import InlineWriter, MemoryLog

SHOW = "show1"


class House:
    """Shows on a log in memory, with what was told of."""

    def __init__(self) -> None:
        self.log = MemoryLog()
        self.told: list[Change] = []
        self.shows = self.another()

    def another(self) -> Shows:
        """Return what a second process would have: other shows in memory, the same log."""
        times = count(1_000)
        return Shows(self.log, InlineWriter(), lambda: next(times), self.told.append)

    @property
    def revisions(self) -> list[int]:
        return [one.revision for one in self.log.read_after(SHOW, 0)]


def ask(change: int = 30, client_id: str = "") -> c.AskForLevel:
    return c.AskForLevel("front", None, "voice", change, client_id=client_id)


def submission(client_id: str = "once", fingerprint: str = "30") -> Submission:
    return Submission("front", client_id, fingerprint)
