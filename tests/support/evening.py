"""A whole monreq on a database of its own, its show set up as an engineer would: for tests of pages.

The singer hears a wedge; bass and drummer share a stereo in-ear pair; a guest hears a wedge of their own, with
a source that nobody else has.
"""

from collections.abc import Iterator
from pathlib import Path

from jinja2.bccache import Bucket, BytecodeCache

from monreq.app import Monreq, build
from monreq.config import Config
from monreq.domain import commands as c
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind, SourceUse
from monreq.domain.show import Show

SHOW = "show1"
PORT = 8330
CODES_URL = "http://192.0.2.7:8330"

_LEVELS = {"voice": -40, "drums": -110, "guitar": -160, "harp": -170}


class _Compiled(BytecodeCache):
    """Templates that another app of this process compiled already."""

    def __init__(self) -> None:
        self._codes: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self._codes:
            bucket.bytecode_from_string(self._codes[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._codes[bucket.key] = bucket.bytecode_to_string()


_COMPILED = _Compiled()


def start(folder: Path) -> Monreq:
    """Put monreq together on a folder; close it afterwards."""
    folder.mkdir(exist_ok=True)
    config = Config.from_environment({"MONREQ_ASYNC_MODE": "threading"}, data_dir=folder)
    monreq = build(config, CODES_URL, PORT)
    monreq.flask.jinja_env.bytecode_cache = _COMPILED
    return monreq


def set_up(monreq: Monreq) -> None:
    """Begin the show and prepare it."""
    monreq.shows.open(SHOW, c.OpenShow("Evening"))
    for command in commands():
        monreq.shows.submit(SHOW, command)


def commands() -> Iterator[c.Command]:
    """Give what prepares a show."""
    mic, direct = SourceKind.OPEN_MIC, SourceKind.DIRECT
    yield c.PutSource(Source("voice", "Voice", mic))
    yield c.PutSource(Source("drums", "Drums", mic))
    yield c.PutSource(Source("guitar", "Guitar", direct))
    yield c.PutSource(Source("harp", "Glass harp", direct))
    yield c.PutSource(Source("click", "Click", direct, use=SourceUse.CLICK))
    yield c.PutSource(Source("talk", "Talkback", mic, use=SourceUse.TALKBACK))
    for musician, name in (("singer", "Ada"), ("bass", "Bo"), ("drummer", "Cy"), ("guest", "Dorothea")):
        yield c.PutMusician(Musician(musician, name))
    yield c.PutMix(Mix("front", "Front wedge", Output.WEDGE, ("singer",), "centre", (1,)))
    yield c.PutMix(Mix("ears", "Rhythm", Output.IN_EAR_PAIR, ("bass", "drummer"), "back", (3, 4)))
    yield c.PutMix(Mix("side", "Side wedge", Output.WEDGE, ("guest",), "left", (2,)))
    for mix in ("front", "ears", "side"):
        yield c.PutSend(mix, None, Setting(-60))
        for source, level in _LEVELS.items():
            yield c.PutSend(mix, source, Setting(level, is_on=source != "guitar" or mix == "ears"))
    for mix in ("front", "ears"):
        yield c.RemoveSend(mix, "harp")
    yield c.RemoveSend("side", "voice")
    yield c.MarkSoundcheck()


class Evening:
    """The running show, with hands for what happens elsewhere than on the page under test."""

    def __init__(self, monreq: Monreq, show_id: str = SHOW) -> None:
        self.monreq, self._show_id = monreq, show_id

    @property
    def show(self) -> Show:
        return self.monreq.shows.state(self._show_id)

    def do(self, command: c.Command) -> Show:
        """Have a command done as if somebody else had sent it."""
        return self.monreq.shows.submit(self._show_id, command).show

    def ask(
        self, mix: str, source: str | None, tenths: int, musician: str | None = None, by: str | None = None
    ) -> str:
        """Ask for a change of level; returns the request's id."""
        self.do(c.AskForLevel(mix, musician, source, tenths, by))
        return list(self.show.open_requests)[-1]

    def link(self, mix: str | None = None) -> str:
        """Return the path that a code carries now."""
        return self.monreq.link(self.show, mix, "")

    def level(self, mix: str, source: str | None) -> int:
        """Return where a send, or the output (None), stands. [0.1 dB]."""
        return self.show.position(mix, source).setting.level_tenths

    def asked(self) -> list[tuple[str, str | None, str, int]]:
        """Return what waits: mix, source, kind, amount."""
        return [
            (one.key.mix, one.key.source, one.key.kind.value, one.amount)
            for one in self.show.open_requests.values()
        ]
