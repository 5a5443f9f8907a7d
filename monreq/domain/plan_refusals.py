"""What the plans (gap plan, aux plan) refuse: input that no plan can be made of."""

from monreq.domain.refusals import NotLikeThis


class BadTime(NotLikeThis):
    """A time has to be a number of seconds, not negative and not absurdly long."""


class NoGap(NotLikeThis):
    """There is no gap to plan: its length has to be above zero."""


class BadWeight(NotLikeThis):
    """A weight has to be a number above zero, and not absurdly large."""


class RowTwice(NotLikeThis):
    """The same row stands twice in the list."""


class BadCount(NotLikeThis):
    """A count has to be a whole number, from 0 to 999."""


class MixTwice(NotLikeThis):
    """The same mix stands twice in the list."""


class NoSuchAux(NotLikeThis):
    """The desk has no aux of this number."""


class AbsurdLevel(NotLikeThis):
    """A level has to be a number between -120 and +120 dB."""


class BadPlace(NotLikeThis):
    """A place on stage is given in metres, as two numbers, none beyond 1000."""


class TooManyMixes(NotLikeThis):
    """An aux plan is made for 64 mixes at most."""


class NoFacing(NotLikeThis):
    """A musician faces somewhere from 0 to 360 degrees: 0 is towards the audience."""
