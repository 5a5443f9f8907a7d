"""What is unusual across shows: a send that stands elsewhere in its mix than it stood in the shows before.

What it assumes:

- The same chair means the same mix, or another one for the same musicians, heard in the same way: a wedge is never held
  against in-ears. Of each show before, the newest whole-show mix that was kept counts; mixes for a song are left out.
- Desk, pack and output differ from show to show by one figure for all sends of a mix. So a send is held against the
  middle (the median) of the other sends' shifts, of those that are on in both and that somebody confirmed in this show.
  Their power sum would serve as well while all are right, but one loud figure that is wrong makes up most of it, and then
  every other send looks wrong instead.
- Channels are gain-staged alike in every show. How far a preamp was turned within a show is counted.

It says that a figure is unusual, never that it is wrong: another mic, another room or another wish look the same.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from statistics import median

from monreq.domain.band import Band, KeptMix
from monreq.domain.outliers import UNUSUAL_SCORE, modified_z_score
from monreq.domain.setup import Mix
from monreq.domain.show import Show

FEWEST_SHOWS = 3  # chosen: of two that differ nobody can tell which is the usual one
MOST_SHOWS = 10  # chosen: what was usual before that was another season's
FEWEST_BESIDE = 2  # chosen: of two sends that moved apart nobody can tell which one moved

# chosen: one touch of the phone, by which sends differ from show to show in any case; three mixes that were carried over
# untouched tell nothing of how much they vary. With it nothing within 5.1 dB is unusual, and 5 dB are clearly heard.
LEAST_MAD_TENTHS = 10

ShowsBefore = tuple[tuple[str, tuple[tuple[str, int], ...]], ...]
"""Mixes of shows before, the newest first: the mix of this show that is the same chair's, and its sends. [0.1 dB]"""


@dataclass(frozen=True, slots=True)
class Unusual:
    """How far a send stands above where it usually is in its mix, below negative. [0.1 dB].

    Attributes:
        shows: How many shows before that was told from.
    """

    tenths: int
    shows: int


def shows_before(show: Show, band: Band) -> ShowsBefore:
    """Return how the mixes of a show stood in the shows that its band played before."""
    return tuple(
        (mix.id, tuple(_standing(kept))) for mix in show.mixes.values() for kept in _kept(show, band, mix)
    )


def unusual(show: Show, before: ShowsBefore, mix: str, source: str) -> Unusual | None:
    """Return how far a send that is on stands from where it usually is; None if that is not unusual, or nobody knows."""
    stood = [_stood(show, mix, source, dict(sends)) for one, sends in before if one == mix]
    known = [one for one in stood if one is not None][:MOST_SHOWS]
    if len(known) < FEWEST_SHOWS or abs(modified_z_score(0, known, LEAST_MAD_TENTHS)) <= UNUSUAL_SCORE:
        return None
    return Unusual(-round(median(known)), len(known))


def _kept(show: Show, band: Band, mix: Mix) -> list[KeptMix]:
    """Return the newest whole-show mix of the same chair of each show before, the newest show first."""
    newest: dict[str, KeptMix] = {}
    for one in sorted(band.kept, key=lambda kept: kept.kept_at_ms, reverse=True):
        of_show = one.show or one.show_name
        is_before = bool(of_show) and one.song is None and one.show != show.id
        if is_before and one.heard_as is mix.output and _is_same_chair(band, one, mix):
            newest.setdefault(of_show, one)
    return list(newest.values())


def _is_same_chair(band: Band, kept: KeptMix, mix: Mix) -> bool:
    if kept.mix == mix.id:
        return True
    musicians = next((one.musicians for one in band.mixes if one.id == kept.mix), ())
    return bool(musicians) and set(musicians) == set(mix.musicians)


def _standing(kept: KeptMix) -> Iterator[tuple[str, int]]:
    for source, setting in kept.sends.items():
        if setting.is_on:
            yield source, setting.level_tenths + kept.gains.get(source, 0)


def _stood(show: Show, mix: str, source: str, then: Mapping[str, int]) -> float | None:
    """Return how far above now a send stood then, once the rest of both mixes is laid on one another. [0.1 dB]."""
    if source not in then:
        return None
    rest = [
        then[one] - _now(show, mix, one) for one in _confirmed(show, mix) if one != source and one in then
    ]
    if len(rest) < FEWEST_BESIDE:
        return None
    return then[source] - _now(show, mix, source) - median(rest)


def _confirmed(show: Show, mix: str) -> list[str]:
    return [
        source
        for source, position in show.levels[mix].sends.items()
        if position.setting.is_on and position.confirmed_at_ms is not None
    ]


def _now(show: Show, mix: str, source: str) -> int:
    return show.position(mix, source).setting.level_tenths + show.gains.get(source, 0)
