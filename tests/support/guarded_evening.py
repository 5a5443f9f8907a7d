"""An evening on which musicians ask for more and the engineer takes what is suggested, with the bounds reckoned anew.

Every step is three numbers, so that hypothesis can shrink an evening. After each step that only took advice (`take`, `undo`)
`Evening` checks the bounds from its own notes: readings as powers, the ears by the cosine law, what stood when.
"""

from dataclasses import dataclass, replace

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain import measuring_commands as m
from monreq.domain import song_commands as so
from monreq.domain.events import DecisionUndone, RequestsAnswered
from monreq.domain.levels import Levels
from monreq.domain.queue import Row
from monreq.domain.refusals import Refusal
from monreq.domain.requests import Call, Kind, Outcome, Way
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from tests.support.guarded_bounds import PLAYERS, Notes, Read, Stood, path


@dataclass
class Evening(Notes):
    """One evening, `step` by `step`."""

    def step(self, kind: str, one: int, other: int) -> None:
        """Do one step; what is refused is no step."""
        show, self.renewed = self.show, ""
        try:
            getattr(self, f"_{kind}")(one, other)
        except Refusal:
            return
        self.told.append(f"{kind} {one} {other}")
        for mix, levels in show.levels.items():
            if mix in self.show.levels:
                self._note_heard(mix, levels, show)

    def _note_heard(self, mix: str, was: Levels, show: Show) -> None:
        now = self.show.levels[mix]
        for source, position in was.sends.items():
            is_on = source in now.sends and now.sends[source].setting.is_on
            if position.setting.is_on and not is_on and was.output.setting.is_on and source != self.renewed:
                self.heard[mix, source] = path(was, show.gains, source)

    # What musicians do.

    def _mix(self, one: int) -> str:
        return sorted(self.show.mixes)[one % len(self.show.mixes)]

    def _source(self, mix: str, other: int) -> str | None:
        there = [*sorted(self.show.levels[mix].sends), "drums", None]
        return there[other % len(there)]

    def _ask(self, one: int, other: int) -> None:
        mix = self._mix(one)
        amount = (10, 30, 60, 120, 120)[one // 7 % 5] * (-1 if other % 11 == 0 else 1)
        self.stage.ask(mix, self._source(mix, other), amount, PLAYERS[mix][other % len(PLAYERS[mix])])

    def _in(self, one: int, other: int) -> None:
        mix = self._mix(one)
        self.stage.ask_in(mix, self._source(mix, other), PLAYERS[mix][0])

    def _out(self, one: int, other: int) -> None:
        mix = self._mix(one)
        self.stage.ask_out(mix, self._source(mix, other), PLAYERS[mix][0])

    def _pan(self, one: int, other: int) -> None:
        mix = self._mix(one)
        percent = (20, -20, 60, -100, 100)[one // 5 % 5]
        self.stage.ask_pan(mix, self._source(mix, other), percent, PLAYERS[mix][0])

    def _hurts(self, one: int, _: int) -> None:
        self._call(self._mix(one), Call.HURTS)

    def _squeal(self, one: int, _: int) -> None:
        self._call(self._mix(one), Call.SQUEAL)

    def _call(self, mix: str, call: Call) -> None:
        request = self.stage.call(mix, call, PLAYERS[mix][0])
        self.calls[request] = (mix, call, self.show.revision, self.stood(mix))

    def _withdraw(self, one: int, _: int) -> None:
        waiting = list(self.show.open_requests)
        request = waiting[one % len(waiting)] if waiting else ""
        self.stage.withdraw(request)
        self.calls.pop(request, None)

    # What the engineer does by advice alone.

    def _take(self, one: int, other: int) -> None:
        rows = self.stage.rows
        if not rows:
            return
        row = rows[one % len(rows)]
        way = list(Way)[other % 3] if row.key.kind is Kind.LEVEL and other % 2 else Way.PLAIN
        requests = tuple(request.id for request in row.requests)
        self._advised(c.Answer(requests, Outcome.DONE, way=way), row)

    def _undo(self, one: int, _: int) -> None:
        decisions = [decision for decision in self.show.decisions.values() if not decision.is_undone]
        if decisions:
            self._advised(c.Undo(decisions[-1 - one % min(len(decisions), 8)].id), None)

    def _advised(self, command: c.Answer | c.Undo, row: Row | None) -> None:
        before = self.show
        events = self.stage.do(command)
        moved = next(event for event in events if isinstance(event, RequestsAnswered | DecisionUndone))
        self._check(before, moved.mix, row)
        self.before.setdefault(moved.mix, []).append(
            (self.stage.now_ms, before.revision, Stood(before.levels[moved.mix], before.gains))
        )

    # What hands do.

    def _typed(self, one: int, other: int) -> None:
        rows = [row for row in self.stage.rows if row.key.kind is Kind.LEVEL and not row.is_group]
        if rows:
            row = rows[one % len(rows)]
            self.stage.done(*(request.id for request in row.requests), change=(10, 60, -60)[other % 3])
            self._hand_moved(row.key.mix, row.key.source, began=False)

    def _correct(self, one: int, other: int) -> None:
        mix = self._mix(one)
        source = self._source(mix, other)
        now = self.stage.setting(mix, source)
        change = (-100, -30, 0, 30)[one // 7 % 4]
        is_on = now.is_on if other % 3 else not now.is_on
        self.stage.correct(mix, source, now.level_tenths + change, is_on=is_on)
        self._hand_moved(mix, source, began=bool(change) and not self.is_marked)

    def _start(self, one: int, other: int) -> None:
        """Enter one level for all sends that are on in a mix, or for all but one: only a whole mix counts from all of it."""
        mix = self._mix(one)
        on = [source for source, at in sorted(self.show.levels[mix].sends.items()) if at.setting.is_on]
        named = on if other % 3 else on[1:]
        was = {source: self.show.position(mix, source).setting for source in named}
        level = (-200, -140, -60)[one // 7 % 3]
        settings = tuple((source, replace(setting, level_tenths=level)) for source, setting in was.items())
        self.stage.do(c.EnterSettings(mix, settings))
        changed = [source for source in named if was[source].level_tenths != level]
        begun: list[str | None] = [None, *on] if on and named == on else [*changed]
        for source in begun:
            self._hand_moved(mix, source, began=not self.is_marked)

    def _hand_moved(self, mix: str, source: str | None, *, began: bool) -> None:
        """Keep of the notes what hands do not change: they may do all, and no notes of a gap hold across."""
        self.is_typed = True
        self.before.pop(mix, None)
        self.by_hand[mix] = self.show.revision
        if began:
            position = self.show.position(mix, source)
            base = self.base[mix]
            gains = base.gains if source is None else {**base.gains, source: self.show.gains.get(source, 0)}
            self.base[mix] = Stood(base.levels.with_position(source, position), gains)

    def _again(self, one: int, other: int) -> None:
        """Take a send off a mix and put it there again, low."""
        mix = self._mix(one)
        source = self._source(mix, other)
        if source is None or source == "drums":
            return
        self.stage.do(c.RemoveSend(mix, source))
        self.stage.put(mix, source, -300, is_on=other % 2 == 0)
        self.before.pop(mix, None)
        self.by_hand[mix] = self.show.revision
        if not self.is_marked:
            self._hand_moved(mix, source, began=True)
        elif source in self.base[mix].levels.sends:
            self._lower_base(mix, source)

    def _lower_base(self, mix: str, source: str) -> None:
        base, now = self.base[mix], self.show.position(mix, source)
        was = base.levels.sends[source].setting
        if now.setting.level_tenths < was.level_tenths:
            now = replace(now, setting=replace(now.setting, is_on=now.setting.is_on and was.is_on))
            self.base[mix] = Stood(
                base.levels.with_position(source, now), {**base.gains, source: self.show.gains.get(source, 0)}
            )

    def _anew(self, one: int, _: int) -> None:
        """Take a source off the input list and add another under its id."""
        source = self.show.sources[sorted(self.show.sources)[one % len(self.show.sources)]]
        groups = list(self.show.groups.values())
        self.renewed = source.id
        self.stage.do(c.RemoveSource(source.id))
        self.stage.do(c.PutSource(source))
        for group in groups:
            self.stage.do(g.PutGroup(group))
        self.read = {place: read for place, read in self.read.items() if place[1] != source.id}
        self.heard = {place: at for place, at in self.heard.items() if place[1] != source.id}
        self.before = {}
        self.by_hand |= dict.fromkeys(self.show.mixes, self.show.revision)
        for mix, base in self.base.items():
            position = self.show.levels[mix].sends.get(source.id)
            sends = {one: there for one, there in base.levels.sends.items() if one != source.id}
            gains = {one: gain for one, gain in base.gains.items() if one != source.id}
            if position is not None:
                sends[source.id] = position
            self.base[mix] = Stood(replace(base.levels, sends=sends), gains)
        for request, (mix, call, at, stood) in self.calls.items():
            sends = {one: there for one, there in stood.levels.sends.items() if one != source.id}
            self.calls[request] = (mix, call, at, Stood(replace(stood.levels, sends=sends), stood.gains))

    def _outputs(self, one: int, _: int) -> None:
        """Let a mix come out of another output, and out of its own again."""
        mix = self.show.mixes[self._mix(one)]
        other = Output.WEDGE if mix.output is Output.IN_EAR_PAIR else Output.IN_EAR_PAIR
        self.stage.do(c.PutMix(Mix(mix.id, mix.name, other, mix.musicians)))
        self.stage.do(c.PutMix(mix))
        self.before.pop(mix.id, None)
        self.by_hand[mix.id] = self.show.revision
        self.heard = {place: at for place, at in self.heard.items() if place[0] != mix.id}

    def _mark(self, _: int, __: int) -> None:
        self.stage.mark()
        if not self.is_marked:
            self.base = {mix: self.stood(mix) for mix in self.show.mixes}
        self.is_marked = True

    def _read(self, one: int, other: int) -> None:
        mix = self._mix(one)
        source = self._source(mix, other) or ""
        margin, mics = (20, 40, 80, 120, 200)[one // 7 % 5], 1 + other // 11 % 3
        self.stage.read_margin(mix, source, margin, mics)
        self.read[mix, source] = (self.show.revision, Read(margin, mics, self.stood(mix)))

    def _stale(self, one: int, _: int) -> None:
        self.stage.make_stale(self._mix(one))

    def _mics(self, one: int, _: int) -> None:
        self.stage.open_mics(1 + one % 6)

    def _plan(self, one: int, other: int) -> None:
        source = sorted(self.show.sources)[one % len(self.show.sources)]
        self.stage.plan_preamp(source, (100, -100, 60, -30)[other % 4])

    def _turn(self, one: int, other: int) -> None:
        changes = [change.id for change in self.show.preamp_changes.values() if not change.is_moved]
        if changes:
            self.stage.do(m.ConfirmPreamp(changes[one % len(changes)], though_rows_wait=other % 3 == 0))
            self.is_typed = True
            self.before = {}
            self.by_hand |= dict.fromkeys(self.show.mixes, self.show.revision)

    def _drop(self, one: int, _: int) -> None:
        changes = [change.id for change in self.show.preamp_changes.values() if not change.is_moved]
        if changes:
            self.stage.drop_preamp(changes[one % len(changes)])

    def _song(self, _: int, __: int) -> None:
        self._begins(so.BeginSong())

    def _gap(self, _: int, __: int) -> None:
        self._begins(so.BeginGap())

    def _begins(self, command: so.BeginSong | so.BeginGap) -> None:
        if self.stage.do(command):
            self.began_at.append(self.show.revision)

    def _back(self, _: int, __: int) -> None:
        self.stage.do(so.TakeBackStretch())
        self.began_at.pop()

    def _wait(self, one: int, _: int) -> None:
        self.stage.wait((1, 5, 40, 300)[one % 4])

    def _aside(self, one: int, other: int) -> None:
        rows = self.stage.rows
        if rows:
            ids = [request.id for request in rows[one % len(rows)].requests]
            self.stage.set_aside(*ids) if other % 2 else self.stage.not_done(*ids)
