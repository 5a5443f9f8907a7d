"""The bounds of an evening on advice alone, reckoned anew from notes of its own: see `guarded_evening`."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain.groups import Group
from monreq.domain.levels import Levels
from monreq.domain.queue import Row
from monreq.domain.requests import Call
from monreq.domain.setup import Output, Source, SourceKind, SourceUse
from monreq.domain.show import Show
from tests.support.stage import Stage

A_TENTH = 10**0.01 * (1 + 1e-6)  # the moves are whole tenths
NEAR = 1 + 1e-6
PLAYERS = {"front": ("singer",), "ears": ("bass", "drummer"), "side": ("horns",), "keysears": ("keys",)}
OUTPUTS = {
    "front": Output.WEDGE,
    "side": Output.WEDGE,
    "ears": Output.IN_EAR_PAIR,
    "keysears": Output.IN_EAR_PAIR,
}
SOURCES = {
    "voice": SourceKind.OPEN_MIC,
    "kick": SourceKind.OPEN_MIC,
    "snare": SourceKind.OPEN_MIC,
    "guitar": SourceKind.DIRECT,
    "fiddle": SourceKind.DIRECT,
    "verb": SourceKind.RETURN,
    "click": SourceKind.DIRECT,
}

Step = tuple[str, int, int]
Place = tuple[str, str]


def line_up(seed: int) -> Stage:
    """Return a show that is set up: wedges, in-ear pairs, click, a return, a pickup in a body, a group."""
    stage = Stage()
    for players in PLAYERS.values():
        for one in players:
            stage.musician(one)
    for mix, players in PLAYERS.items():
        (stage.wedge if OUTPUTS[mix] is Output.WEDGE else stage.in_ears)(mix, *players)
    for source, kind in SOURCES.items():
        use = SourceUse.CLICK if source == "click" else SourceUse.MUSIC
        body = source == "fiddle"
        stage.do(c.PutSource(Source(source, source.title(), kind, use=use, is_acoustic=body)))
    stage.do(g.PutGroup(Group("drums", "Drums", ("kick", "snare"))))
    for place, (mix, levels) in enumerate(sorted(stage.show.levels.items())):
        for at, source in enumerate(sorted(levels.sends)):
            roll = (seed // (7 + 3 * place + at) + 13 * at) % 97
            pan = (roll * 7 % 201) - 100 if stage.show.mix(mix).is_stereo else 0
            stage.put(mix, source, -60 - 3 * roll, pan, is_on=roll % 5 != 0)
    return stage


def path(levels: Levels, gains: Mapping[str, int], source: str) -> int:
    """Return preamp, send and output of a source together. [0.1 dB]."""
    send = levels.sends[source].setting.level_tenths
    return send + levels.output.setting.level_tenths + gains.get(source, 0)


def ears(levels: Levels, gains: Mapping[str, int], *, all_on: bool = False) -> float:
    """Return the power at the louder ear: cosine law, a source in the middle counts as its level."""
    left = right = 0.0
    for source, position in levels.sends.items():
        if position.setting.is_on or all_on:
            power = 2 * 10 ** (path(levels, gains, source) / 100)
            angle = (position.setting.pan_percent + 100) / 200 * math.pi / 2
            left += power * math.cos(angle) ** 2
            right += power * math.sin(angle) ** 2
    return max(left, right)


@dataclass
class Stood:
    """How a mix stood at a moment."""

    levels: Levels
    gains: Mapping[str, int]

    @property
    def loudest(self) -> float:
        return ears(self.levels, self.gains) or ears(self.levels, self.gains, all_on=True)


@dataclass
class Read:
    """A margin as it was read, and the show then."""

    margin: int
    mics: int
    stood: Stood


@dataclass
class Notes:
    """What is noted of an evening, and the bounds reckoned from it."""

    stage: Stage
    base: dict[str, Stood] = field(default_factory=dict)
    before: dict[str, list[tuple[int, int, Stood]]] = field(default_factory=dict)
    began_at: list[int] = field(default_factory=lambda: [0])
    calls: dict[str, tuple[str, Call, int, Stood]] = field(default_factory=dict)
    read: dict[Place, tuple[int, Read]] = field(default_factory=dict)
    heard: dict[Place, int] = field(default_factory=dict)
    told: list[str] = field(default_factory=list)
    is_marked: bool = False
    is_typed: bool = False
    renewed: str = ""
    by_hand: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.base = {mix: self.stood(mix) for mix in self.show.mixes}

    @property
    def show(self) -> Show:
        return self.stage.show

    def stood(self, mix: str) -> Stood:
        return Stood(self.show.levels[mix], self.show.gains)

    # The bounds, reckoned anew.

    def _check(self, before: Show, mix: str, row: Row | None) -> None:
        was, now = Stood(before.levels[mix], before.gains), self.stood(mix)
        up = [one for one in now.levels.sends if self._is_up(was, now, one)]
        came_in = [one for one in up if not was.levels.sends[one].setting.is_on]
        makes_up = self.is_typed and row is not None and any(one.is_for_preamp for one in row.requests)
        told = (mix, up, self.told[-6:])
        for one in came_in:
            known = self.heard.get((mix, one))
            assert known is None or path(now.levels, now.gains, one) <= known, (told, "in", one, known)
        self._check_calls(
            mix, up, now, louder=ears(now.levels, now.gains) > ears(was.levels, was.gains) * NEAR
        )
        if self.show.mixes[mix].output is Output.WEDGE and up:
            self._check_loop(mix, up, now)
        if makes_up:
            return
        trip, evening = self._bounds(mix)
        louder = ears(now.levels, now.gains)
        if louder > ears(was.levels, was.gains) * NEAR:
            most = self.base[mix].loudest * 10 ** (evening / 100)
            assert louder <= most * NEAR or not self.base[mix].loudest, (told, "evening", louder / most)
        for stood in [*self._moments_of_gap(mix, is_undo=row is None), was]:
            for one in up:
                if one in stood.levels.sends and one not in came_in:
                    gained = path(now.levels, now.gains, one) - path(stood.levels, stood.gains, one)
                    fallen = stood is was and row is None
                    assert fallen or gained <= trip, (told, "gap", one, gained)

    def _moments_of_gap(self, mix: str, *, is_undo: bool) -> list[Stood]:
        """Return how a mix stood before the first move of this song or gap, and before those of the last half minute.

        What fell since the first of them may come back to it by undo at once.
        """
        moments, oldest = self.before.get(mix, []), self.stage.now_ms - self.show.settings.gap_s * 1000
        here = [one for one in moments if one[1] >= self.began_at[-1]][:1]
        if self.show.phase_at_ms is None or self.by_hand.get(mix, -1) >= self.began_at[-1]:
            here = []
        late = [] if is_undo else [one for one in moments if one[0] > oldest and one not in here]
        return [stood for _, _, stood in (*here, *late)]

    def _is_up(self, was: Stood, now: Stood, one: str) -> bool:
        on = now.levels.sends[one].setting.is_on
        is_in = on and not was.levels.sends[one].setting.is_on
        return on and (is_in or path(now.levels, now.gains, one) > path(was.levels, was.gains, one))

    def _bounds(self, mix: str) -> tuple[int, int]:
        settings = self.show.settings
        if self.show.mixes[mix].output is Output.WEDGE:
            return settings.wedge_raise_tenths, settings.wedge_evening_tenths
        return settings.in_ear_raise_tenths, settings.in_ear_evening_tenths

    def _check_calls(self, mix: str, up: list[str], now: Stood, *, louder: bool) -> None:
        for of_mix, call, at, stood in self.calls.values():
            if of_mix != mix:
                continue
            for one in up:
                rung_out = call is Call.SQUEAL and self.read.get((mix, one), (0, None))[0] > at
                there = one in stood.levels.sends
                on = there and (call is Call.HURTS or stood.levels.sends[one].setting.is_on)
                if on and not rung_out and (call is Call.HURTS or self._can_ring(mix, one)):
                    gone_up = path(now.levels, now.gains, one) - path(stood.levels, stood.gains, one)
                    assert gone_up <= -30, (mix, call, one, gone_up, self.told[-6:])
            if call is Call.HURTS and louder and stood.loudest:
                assert ears(now.levels, now.gains) <= stood.loudest * 10**-0.3 * NEAR, (mix, self.told[-6:])

    def _can_ring(self, mix: str, one: str) -> bool:
        return self.show.mixes[mix].output is Output.WEDGE and self.show.sources[one].can_ring

    def _check_loop(self, mix: str, up: list[str], now: Stood) -> None:
        on = [
            one
            for one, position in now.levels.sends.items()
            if position.setting.is_on and (mix, one) in self.read and self._can_ring(mix, one)
        ]
        if set(on).isdisjoint(up):
            return
        loop = sum(self._loop_gain(mix, one, now) for one in on)
        left = -10 * math.log10(loop)
        assert left >= self.show.settings.reserve_tenths / 10 - 1e-6, (mix, up, left, self.told[-6:])

    def _loop_gain(self, mix: str, one: str, now: Stood) -> float:
        read = self.read[mix, one][1]
        raised = path(now.levels, now.gains, one) - path(read.stood.levels, read.stood.gains, one)
        if self.show.sources[one].kind is SourceKind.RETURN:
            mics = (source for source, kind in SOURCES.items() if kind is SourceKind.OPEN_MIC)
            by_mics = [now.gains.get(mic, 0) - read.stood.gains.get(mic, 0) for mic in mics]
            raised += max([0, *by_mics])
        return 10 ** ((raised - read.margin) / 100) / read.mics
