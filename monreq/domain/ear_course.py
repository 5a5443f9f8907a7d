"""How loud an ear has had it since a level was measured: time and energy so far, and the steps of the last half hour.

Everything is kept against the level as measured, so that a figure that was wrong can be replaced and all of it holds.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, get_args

from monreq.domain.exposure import RuleName, rule_named

MS_PER_HOUR: Final = 3_600_000
TREND_MS: Final = MS_PER_HOUR // 2
LEAST_TREND_H: Final = 1 / 6  # chosen: two or three songs; within less a single move would pass for a trend

Step = tuple[int, float | None]


@dataclass(frozen=True, slots=True)
class Course:
    """What an ear has had under one measured level.

    Attributes:
        up_to_ms: To when time and energy are reckoned; since then it has been as `change_db` says. [ms since 1970, UTC]
        change_db: How much louder than measured; None while nothing is heard. [dB]
        hours: For how long something was heard. [h]
        weighted_h: By rule, for how long the level as measured would have to last to do the same. [h]
        steps: From when on it was how much louder than measured, as far back as a trend goes. [ms since 1970, dB]
    """

    up_to_ms: int
    change_db: float | None = 0.0
    hours: float = 0.0
    weighted_h: Mapping[RuleName, float] = field(default_factory=dict)
    steps: tuple[Step, ...] = ()

    @classmethod
    def begun(cls, at_ms: int) -> "Course":
        """Return the course of a level that was measured just then."""
        return cls(at_ms, steps=((at_ms, 0.0),))

    def on_to(self, to_ms: int) -> "Course":
        """Return it with what was heard since; a clock that was set back stands still until it has caught up."""
        hours = (to_ms - self.up_to_ms) / MS_PER_HOUR
        if hours <= 0:
            return self
        if self.change_db is None:
            return replace(self, up_to_ms=to_ms)
        weighted = {rule: self._weighted(rule, hours, self.change_db) for rule in get_args(RuleName)}
        return replace(self, up_to_ms=to_ms, hours=self.hours + hours, weighted_h=weighted)

    def turned(self, at_ms: int, change_db: float | None) -> "Course":
        """Return it from a moment on at which it became so much louder or softer than measured. [dB]."""
        course = self.on_to(at_ms)
        steps = (*_since(course.steps, course.up_to_ms - TREND_MS), (course.up_to_ms, change_db))
        return replace(course, change_db=change_db, steps=steps)

    def slope_db_per_h(self, now_ms: int) -> float:
        """Return how the level has gone in the half hour to now, by least squares; 0 where that is too short to tell.

        What was silent is left out.
        """
        parts = list(self._parts(now_ms))
        heard_h = sum(end - begin for begin, end, _ in parts)
        if heard_h < LEAST_TREND_H:
            return 0.0
        middle_h = sum(end**2 - begin**2 for begin, end, _ in parts) / 2 / heard_h
        spread = sum((end - middle_h) ** 3 - (begin - middle_h) ** 3 for begin, end, _ in parts) / 3
        together = sum(
            level * ((end - middle_h) ** 2 - (begin - middle_h) ** 2) for begin, end, level in parts
        )
        return together / 2 / spread

    def _parts(self, now_ms: int) -> Iterator[tuple[float, float, float]]:
        """Give what was heard in the half hour to now: from when to when, now being 0, and how loud. [h, h, dB]."""
        ends = [at_ms for at_ms, _ in self.steps[1:]]
        for (begin_ms, change), end_ms in zip(self.steps, [*ends, now_ms], strict=True):
            begin_h, end_h = (
                (at - now_ms) / MS_PER_HOUR for at in (max(begin_ms, now_ms - TREND_MS), end_ms)
            )
            if change is not None and end_h > begin_h:
                yield begin_h, end_h, change

    def _weighted(self, rule: RuleName, hours: float, change_db: float) -> float:
        return self.weighted_h.get(rule, 0.0) + hours * rule_named(rule).energy(change_db)


def _since(steps: tuple[Step, ...], from_ms: int) -> tuple[Step, ...]:
    """Leave out the steps that were over before a moment."""
    begun_before = sum(at_ms <= from_ms for at_ms, _ in steps)
    return steps[max(0, begun_before - 1) :]
