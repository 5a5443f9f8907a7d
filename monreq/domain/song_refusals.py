"""What is refused about songs and the set list."""

from monreq.domain.refusals import NotLikeThis, NotNow, NotThere


class UnknownSong(NotThere):
    """There is no such song in the set list."""


class UnknownSongPlan(NotThere):
    """There are no such moves planned for a song."""


class SongTwice(NotLikeThis):
    """A song stands twice in the set list: give one of them another name."""


class TooManySongs(NotLikeThis):
    """A set list has at most 200 songs."""


class NotThisSong(NotNow):
    """Another song comes next by now."""


class NothingToTakeBack(NotNow):
    """There is no beginning of a song or gap to take back."""
