"""What the desk shows: the queue in working order, every mix beside it, and the last decisions to take back."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from monreq.domain.decisions import Decision
from monreq.domain.gaps import usual_gap
from monreq.domain.guard_ear import waits_for_start_levels
from monreq.domain.queue import Queue, Row, planned_queue
from monreq.domain.requests import Kind, Outcome, Way
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.exposure_view import exposure_lines
from monreq.web.gain_view import gain_remarks
from monreq.web.heard_view import heard_of_decision
from monreq.web.margin_view import open_mics_remark
from monreq.web.mix_line import mix_line
from monreq.web.note_view import line_check_view, note_lines
from monreq.web.places import Place, Places
from monreq.web.preamp_view import preamp_lines
from monreq.web.presence_view import phone_place
from monreq.web.row_view import row_place, row_view
from monreq.web.song_view import song_strip
from monreq.web.speech import _, listed, ngettext

LAST_DECISIONS = 5  # chosen: a mistaken key is noticed at once, or in the mix's history


@dataclass(frozen=True, slots=True)
class MixHeadView:
    """The line above the rows of a mix.

    Attributes:
        mix: Its id.
        why: Why it stands first, up to the time that it has waited; empty for the others.
        waits_for_start_levels: Whether nobody typed its start levels yet.
    """

    mix: str
    name: str
    kind: str
    where: str
    why: str
    oldest_at_ms: int
    waits_for_start_levels: bool


@dataclass(frozen=True, slots=True)
class DecisionView:
    """Something said that can be taken back.

    Attributes:
        button: What takes it back.
        row: The place of the row that comes back then; empty if none does.
        heard: How musicians say that it sounds; empty if they did not.
    """

    button: str
    text: str
    row: str
    heard: str = ""


@dataclass(frozen=True, slots=True)
class QueueView:
    """The list around the rows.

    Attributes:
        stretch: Tells songs and gaps apart: the page goes to the first row when it changes.
        aside: The places of the rows that are set aside, parted by spaces.
    """

    is_empty: bool
    stretch: str
    aside: str


@dataclass(frozen=True, slots=True)
class StatusView:
    """The line on top."""

    name: str
    waiting: int
    is_open: bool
    is_demo: bool
    marked_at_ms: int | None


def desk_places(show: Show) -> Places:
    """Return the places of the desk's page."""
    planned = planned_queue(show)
    rows = planned.rows
    children = _queue_children(show, planned)
    of_mix = defaultdict[str, list[Row]](list)
    for row in rows:
        of_mix[row.key.mix].append(row)
    mixes = {
        f"mix-{mix}": Place("desk/_mix.html", mix_line(show, mix, number, of_mix[mix]), (phone_place(mix),))
        for number, mix in enumerate(show.mixes, start=1)
    }
    status = StatusView(show.name, len(rows), show.is_open, show.is_demo, show.marked_at_ms)
    return {
        "status": Place("desk/_status.html", status),
        "song": Place("desk/_song.html", song_strip(show, planned)),
        "song-names": Place("desk/_song_names.html", tuple(song.name for song in show.songs.values())),
        "preamp": Place("desk/_preamp.html", preamp_lines(show)),
        "queue": Place(
            "desk/_queue.html", QueueView(not rows, _stretch(show), _aside(rows)), tuple(children)
        ),
        **children,
        "mixes": Place("desk/_mixes.html", show.marked_at_ms, tuple(mixes)),
        **mixes,
        "asked-up": Place("desk/_asked_up.html", gain_remarks(show)),
        "remarks": Place("desk/_remarks.html", (*open_mics_remark(show), *exposure_lines(show))),
        "notes": Place("desk/_notes.html", note_lines(show)),
        "line-check": Place("desk/_line_check.html", line_check_view(show)),
        "decisions": Place("desk/_decisions.html", _decisions(show)),
    }


def _aside(rows: Sequence[Row]) -> str:
    return " ".join(row_place(row.key) for row in rows if row.is_set_aside)


def _stretch(show: Show) -> str:
    return f"{'song' if show.is_running else 'gap'}-{show.phase_at_ms or 0}"


def _queue_children(show: Show, planned: Queue) -> dict[str, Place]:
    """Put a head above each run of rows of one mix, and a line above what does not fit into the gap.

    Urgent calls name their mix themselves. Before anybody said that a song runs there is no gap to fit into.
    """
    later = planned.later if show.phase_at_ms is not None else frozenset()
    children: dict[str, Place] = {}
    above = ""
    for row in planned.rows:
        mix = row.key.mix
        if row.key in later and "gap-line" not in children:
            children["gap-line"] = Place("desk/_gap_line.html", usual_gap(show).gap_s)
        if row.urgent is None and mix != above:
            head = _head(show, row, is_first=not any(child.startswith("head-") for child in children))
            children[f"head-{mix}-{row.requests[0].id}"] = Place("desk/_head.html", head)
        above = mix if row.urgent is None else ""
        children[row_place(row.key)] = Place("desk/_row.html", row_view(show, row, is_later=row.key in later))
    return children


def _head(show: Show, row: Row, *, is_first: bool) -> MixHeadView:
    mix = show.mix(row.key.mix)
    asks = len(row.requests)
    why = _first_because(asks) if is_first else ""
    return MixHeadView(
        mix=mix.id,
        name=mix.name,
        kind=wording.mix_kind(mix),
        where=listed(part for part in (wording.auxes(mix), mix.place) if part),
        why=why,
        oldest_at_ms=row.oldest_at_ms,
        waits_for_start_levels=waits_for_start_levels(show, mix.id),
    )


def _first_because(asks: int) -> str:
    return ngettext("first because: %(num)d ask, oldest", "first because: %(num)d asks, oldest", asks)


def _decisions(show: Show) -> tuple[DecisionView, ...]:
    latest_first = reversed(list(show.decisions.values()))
    standing = (decision for decision in latest_first if not decision.is_undone)
    latest = list(islice(standing, LAST_DECISIONS))
    answers = tuple(
        DecisionView(
            f"undo:{decision.id}",
            _decision_text(show, decision),
            row_place(decision.key),
            heard_of_decision(show, decision),
        )
        for decision in latest
    )
    began_ms = show.phase_at_ms
    if show.stretch_before is None or began_ms is None or (latest and latest[0].at_ms > began_ms):
        return answers
    began = _("a song began") if show.is_running else _("the gap began")
    return (DecisionView("take_back_stretch:", began, ""), *answers)


def _decision_text(show: Show, decision: Decision) -> str:
    mix = show.mixes.get(decision.key.mix)
    source = show.source_name(decision.key.source) or _("whole mix")
    what = _("call") if decision.key.kind is Kind.CALL else source
    return _(
        "%(what)s in %(mix)s: %(outcome)s",
        what=what,
        mix=mix.name if mix else decision.key.mix,
        outcome=_outcome(decision),
    )


def _outcome(decision: Decision) -> str:
    if decision.outcome is Outcome.SET_ASIDE:
        return _("set aside")
    if decision.outcome is Outcome.NOT_DONE:
        return _("not done, %(reason)s", reason=wording.reason(decision.reason))
    if decision.way is Way.REST_DOWN:
        return _("done, rest down %(figure)s", figure=wording.rest_change(decision))
    if decision.way is Way.LAST_RAISE:
        return _("done, last raise taken back %(figure)s", figure=wording.rest_change(decision))
    done = _("done")
    if decision.done is not None:
        done = _("done %(figure)s", figure=wording.change(decision.key.kind, decision.done))
    return _("%(done)s, output against it", done=done) if decision.way is Way.SAME_LOUDNESS else done
