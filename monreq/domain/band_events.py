"""Events about the band of a show and what is kept of it; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.setup import Setting


@dataclass(frozen=True, slots=True)
class BandChosen:
    """It was said which stored band plays."""

    band: str


@dataclass(frozen=True, slots=True)
class KeepAsked:
    """The desk asked the musicians of a mix whether to keep it so for the next show.

    Attributes:
        lowered_tenths: By how much lower than it stood the output among the settings is. [0.1 dB]
    """

    question: str
    mix: str
    settings: tuple[tuple[str | None, Setting], ...]
    lowered_tenths: int = 0


@dataclass(frozen=True, slots=True)
class KeepAnswered:
    """A musician said whether their mix is to be kept as the desk asked."""

    question: str
    mix: str
    musician: str
    agrees: bool


@dataclass(frozen=True, slots=True)
class MixKept:
    """A mix was kept in the band, under a name, for a song or for the whole show."""

    mix: str
    name: str
    song: str | None = None


BandEvent = BandChosen | KeepAsked | KeepAnswered | MixKept
