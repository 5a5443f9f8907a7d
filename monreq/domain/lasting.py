"""What lasted of a show: the settings to propose for keeping, without moves of the moment.

The rule, for each send and each output by itself (chosen: what an engineer would say at the end of an evening):

1. What moved and was back within the time of one song is a move of the moment. It counts as if it had not been.
2. Looked at is the later half of the time since the soundcheck mark, or since the beginning where there is none.
3. What stood for more than half of that is proposed.
4. Where nothing did, the last that stood for the time of a song at least; where nothing did, what stands at the end.

That is the balance. Its loudness at the louder ear, click and pans counted, is that of the first soundcheck mark, or of the
start where there is none: what the mix gained there since then is taken off the output. Else tired ears at the end of one
evening would begin the next one louder.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from monreq.domain import events as e
from monreq.domain.carry_events import LevelsCarried, LevelsPutLow
from monreq.domain.drifts import louder_by
from monreq.domain.events import Recorded
from monreq.domain.fold import fold
from monreq.domain.keeping import Settings, standing_settings
from monreq.domain.measuring_events import PreampMoved
from monreq.domain.setup import Setting
from monreq.domain.show import Show


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time through which a setting stood. [ms since 1970, UTC]."""

    setting: Setting
    from_ms: int
    to_ms: int


@dataclass(frozen=True, slots=True)
class Lasted:
    """What lasted of a mix.

    Attributes:
        settings: By source; None is the output.
        lowered_tenths: By how much the output is lower than it lasted. [0.1 dB]
    """

    settings: Settings
    lowered_tenths: int = 0


_BY_HAND = (e.RequestsAnswered, e.LevelCorrected, PreampMoved)

Place = tuple[str, str | None]
Lines = dict[Place, list[tuple[int, Setting]]]


def what_lasted(show: Show, log: Sequence[Recorded], now_ms: int) -> Mapping[str, Lasted]:
    """Return what lasted in each mix of a show, no louder than at its first mark.

    Args:
        show: As it stands now, or at its end.
        log: All of its events.
        now_ms: The time, or when it ended. [ms since 1970, UTC]
    """
    began_ms, lines = _lines(log)
    song_ms = show.settings.song_s * 1000
    first = _at_first_mark(show, log)
    lasted: dict[str, Lasted] = {}
    for mix, levels in show.levels.items():
        settings = {
            source: lasting(stretches(_ending(lines, show, (mix, source), now), now_ms), began_ms, song_ms)
            or now
            for source, now in standing_settings(levels).items()
        }
        lasted[mix] = _no_louder(show, mix, settings, first)
    return lasted


def _no_louder(show: Show, mix: str, settings: Settings, first: Show) -> Lasted:
    """Return what lasted with the output against what the mix gained; a mix that became quieter stays so."""
    if mix not in first.mixes or first.mixes[mix].output is not show.mixes[mix].output:
        return Lasted(settings)
    louder = louder_by(show, settings, first.levels[mix], first.gains)
    if louder is None or louder <= 0:
        return Lasted(settings)
    output = settings[None]
    # Upwards to a whole tenth, so that it is never louder; rounded first, for 3.0000000001 is 3.0.
    level = show.settings.in_range(output.level_tenths - math.ceil(round(louder * 10, 6)))
    return Lasted({**settings, None: replace(output, level_tenths=level)}, output.level_tenths - level)


def _at_first_mark(show: Show, log: Sequence[Recorded]) -> Show:
    """Return the show as it was at its first mark; without one, before the first hand changed what was planned."""
    marks = [place for place, one in enumerate(log, start=1) if isinstance(one.event, e.SoundcheckMarked)]
    hands = [place for place, one in enumerate(log) if isinstance(one.event, _BY_HAND)]
    until = next(iter(marks or hands), len(log))
    return fold(Show(show.id), log[:until])


def _ending(lines: Lines, show: Show, place: Place, now: Setting) -> list[tuple[int, Setting]]:
    """Return a line as the mix is heard now, without pan where that is mono, and ending where it stands."""
    line = lines.get(place, [])
    if not show.mixes[place[0]].is_stereo:
        line = [(at_ms, replace(setting, pan_percent=0)) for at_ms, setting in line]
    return line if line and line[-1][1] == now else [*line, (show.at_ms, now)]


def stretches(line: Iterable[tuple[int, Setting]], end_ms: int) -> list[Stretch]:
    """Return how long each setting stood, given when each was made, up to an end."""
    made = list(line)
    ends = [at_ms for at_ms, _ in made[1:]] + [max([end_ms, *(at_ms for at_ms, _ in made)])]
    return [Stretch(setting, at_ms, to_ms) for (at_ms, setting), to_ms in zip(made, ends, strict=False)]


def without_moments(stood: Sequence[Stretch], song_ms: int) -> list[Stretch]:
    """Return stretches without what was back within the time of a song; what it came back to stood all along."""
    kept: list[Stretch] = []
    for one in stood:
        home = _home(kept, one, song_ms)
        if home is not None:
            one = Stretch(one.setting, kept[home].from_ms, one.to_ms)
            del kept[home:]
        kept.append(one)
    return kept


def lasting(stood: Sequence[Stretch], began_ms: int, song_ms: int) -> Setting | None:
    """Return the setting that lasted, by the rule above; None if nothing stood at all."""
    settled = without_moments(stood, song_ms)
    if not settled:
        return None
    end_ms = settled[-1].to_ms
    half_ms = (began_ms + end_ms) // 2
    shares: dict[Setting, int] = {}
    for one in settled:
        shares[one.setting] = shares.get(one.setting, 0) + max(0, one.to_ms - max(one.from_ms, half_ms))
    most = max(shares, key=lambda setting: shares[setting])
    if shares[most] * 2 > end_ms - half_ms:
        return most
    long_ones = (one.setting for one in reversed(settled) if one.to_ms - one.from_ms >= song_ms)
    return next(long_ones, settled[-1].setting)


def _home(kept: Sequence[Stretch], one: Stretch, song_ms: int) -> int | None:
    """Return which earlier stretch this one comes back to soon enough; None if it does to none."""
    for place in range(len(kept) - 1, -1, -1):
        if one.from_ms - kept[place].to_ms > song_ms:
            return None
        if kept[place].setting == one.setting:
            return place
    return None


def _lines(log: Iterable[Recorded]) -> tuple[int, Lines]:
    """Return since when a show is looked at, and from then on when each send and output was set to what."""
    began_ms = 0
    lines: Lines = {}
    for recorded in log:
        if isinstance(recorded.event, e.SoundcheckMarked):
            began_ms = recorded.at_ms
            lines = {place: [(began_ms, line[-1][1])] for place, line in lines.items()}
        began_ms = began_ms or recorded.at_ms
        if isinstance(recorded.event, LevelsPutLow):
            # What stood on another output before is on another scale.
            lines = {place: line for place, line in lines.items() if place[0] != recorded.event.mix}
        for place, setting in _set_by(recorded.event):
            lines.setdefault(place, []).append((recorded.at_ms, setting))
    return began_ms, lines


def _set_by(event: e.Event) -> Iterator[tuple[Place, Setting]]:
    """Yield what an event set to what; folding the whole log for it would take ten times as long."""
    match event:
        case e.SendPut(mix=mix, source=source, setting=setting):
            yield (mix, source), setting
        case LevelsCarried(mix=mix, settings=settings) | LevelsPutLow(mix=mix, settings=settings):
            yield from (((mix, source), setting) for source, setting in settings)
        case e.LevelCorrected(move=move):
            yield (move.mix, move.source), move.after
        case e.RequestsAnswered(move=first, also=also) | e.DecisionUndone(move=first, also=also):
            yield from (((move.mix, move.source), move.after) for move in (first, *also) if move)
