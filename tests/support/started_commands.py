"""What tests of the commands share: how one is called, the demo's mixes, and a show that was left in a folder."""

from collections.abc import Callable
from pathlib import Path

from monreq.cli import demo_show
from monreq.domain.commands import OpenShow, RenameShow
from tests.support import evening as evenings
from tests.support.monreq_process import Ended

Command = Callable[..., Ended]
MIXES = [mix.name for mix in demo_show.MIXES]


def show_on(folder: Path, name: str, *, is_demo: bool = False, renamed: str | None = None) -> None:
    """Leave a show in a folder, as another evening would."""
    monreq = evenings.start(folder)
    monreq.shows.open("old1", OpenShow(name, is_demo))
    if renamed is not None:
        monreq.shows.submit("old1", RenameShow(renamed))
    monreq.close()
