"""The song strip of the desk in words: which song, running or gap, what fits, and the moves of the next song."""

from collections.abc import Mapping
from dataclasses import dataclass

from monreq.domain.gaps import usual_gap
from monreq.domain.queue import Queue
from monreq.domain.show import Show
from monreq.domain.songs import WhyNot, beside
from monreq.web.speech import N_, _, listed, ngettext

_WHY_NOT: Mapping[WhyNot, str] = {
    WhyNot.MIX_NOT_HERE: N_("Not planned: %(what)s, a mix that is not in this show."),
    WhyNot.NOTHING_BESIDE: N_(
        "Not planned: %(what)s. Nothing was kept for the whole show beside it to compare with: keep it for both, on one"
        " evening."
    ),
    WhyNot.HEARD_OTHERWISE: N_(
        "Not planned: %(what)s. It was heard in one way in the song and in another in the whole show: keep both anew."
    ),
    WhyNot.SOURCE_NOT_HERE: N_("Not planned: %(what)s, not in this show."),
    WhyNot.NOT_IN_MIX: N_("Not planned: %(what)s, not on the list of this mix."),
    WhyNot.NOT_BESIDE: N_(
        "Not planned: %(what)s, kept for the song alone: how much more than in the whole show is not known."
    ),
    WhyNot.LEAKS: N_("Not planned: %(what)s, would leak or feed back from a wedge."),
}


@dataclass(frozen=True, slots=True)
class SongStripView:
    """The song strip.

    Attributes:
        song: The name of the song that runs or comes next; empty if nobody said.
        place: Where it stands in the set list: 3 of 9; empty if in none.
        began_at_ms: When the song or gap began; None before the first song. [ms since 1970, UTC]
        ends_at_ms: When the usual gap is over; None while no gap runs. [ms since 1970, UTC]
        usual: The usual gap, and where the figure is from.
        fits: What fits into it; empty if nothing waits.
        before, after: The songs beside it in the set list, by id; empty at its ends.
        moves: What the song asks for; empty if nothing.
        plan: The id of its moves while the desk works with them; empty if it goes on without.
        not_planned: What was kept for the song and is not planned, with why, in words.
        without: The song whose moves the desk goes on without, by id; empty if there are none.
    """

    song: str
    place: str
    is_running: bool
    began_at_ms: int | None
    ends_at_ms: int | None
    usual: str
    fits: str
    before: str
    after: str
    moves: str
    plan: str
    not_planned: tuple[str, ...]
    without: str


def song_strip(show: Show, planned: Queue) -> SongStripView:
    """Return the song strip."""
    began_ms = show.phase_at_ms
    is_gap = began_ms is not None and not show.is_running
    gap_s = usual_gap(show).gap_s
    plan = show.song_plan
    is_without = plan is not None and plan.is_dropped and plan.song == show.song
    return SongStripView(
        song=song_name(show, show.song),
        place=_place(show),
        is_running=show.is_running,
        began_at_ms=began_ms,
        ends_at_ms=began_ms + gap_s * 1000 if is_gap and began_ms is not None else None,
        usual=_usual(show),
        fits=_fits(show, planned),
        before=beside(show.songs, show.song, -1) or "",
        after=beside(show.songs, show.song, 1) or "",
        moves=_moves(show),
        plan=show.waiting_song_plan or "",
        not_planned=_not_planned(show),
        without=plan.song if plan is not None and is_without else "",
    )


def song_name(show: Show, song: str | None) -> str:
    """Return a song's name; empty for none."""
    return show.songs[song].name if song is not None and song in show.songs else ""


def _place(show: Show) -> str:
    if show.song is None or show.song not in show.songs:
        return ""
    number = list(show.songs).index(show.song) + 1
    return _("%(number)d of %(all)d", number=number, all=len(show.songs))


def _usual(show: Show) -> str:
    usual = usual_gap(show)
    if not usual.learned_from:
        return _("usual gap %(seconds)d s, as set", seconds=usual.gap_s)
    return _(
        "usual gap %(seconds)d s, the median of the last %(gaps)d",
        seconds=usual.gap_s,
        gaps=usual.learned_from,
    )


def _fits(show: Show, planned: Queue) -> str:
    """Say how many rows have gathered while a song runs; in a gap, how many fit into what was left at the last plan."""
    waiting = sum(not row.is_set_aside and row.urgent is None for row in planned.rows)
    if not waiting or show.phase_at_ms is None:
        return ""
    if show.is_running:
        return ngettext("%(num)d row for the gap", "%(num)d rows for the gap", waiting)
    return ngettext(
        "%(num)d of %(all)d fits into what is left",
        "%(num)d of %(all)d fit into what is left",
        planned.fits,
        all=waiting,
    )


def _moves(show: Show) -> str:
    plan = show.song_plan
    if plan is None or plan.song != show.song:
        return ""
    name = song_name(show, plan.song)
    if plan.is_dropped:
        return _("on without the moves for %(song)s", song=name)
    left = len({one.key for one in show.open_requests.values() if one.group == plan.id})
    if not left and plan.not_planned:
        return _("nothing to move for %(song)s", song=name)
    if not left:
        return _("all moves for %(song)s are made", song=name)
    return ngettext("%(num)d row for %(song)s", "%(num)d rows for %(song)s", left, song=name)


def _not_planned(show: Show) -> tuple[str, ...]:
    """Say what the song has to do without, what has one reason together."""
    plan = show.song_plan
    if plan is None or plan.is_dropped or plan.song != show.song:
        return ()
    by_why: dict[WhyNot, list[str]] = {}
    for one in plan.not_planned:
        what = _("%(source)s in %(mix)s", source=one.source, mix=one.mix) if one.source else one.mix
        by_why.setdefault(one.why, []).append(what)
    return tuple(_(_WHY_NOT[why], what=listed(what)) for why, what in by_why.items())


def set_list_text(show: Show) -> str:
    """Return the set list as it is typed: a song a line."""
    return "\n".join(song.name for song in show.songs.values())
