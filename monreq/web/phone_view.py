"""What a phone shows of its mix: each source as a strip, with what waits and what the desk did."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from monreq.domain.group_sends import settings_of
from monreq.domain.levels import Position
from monreq.domain.requests import Call, Kind, Request, RowKey
from monreq.domain.setup import Mix, Output, Source, SourceUse
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.amounts import Steps, figure_places, steps
from monreq.web.heard_view import heard_question
from monreq.web.keep_question_view import keep_question
from monreq.web.note_view import phone_note
from monreq.web.own_exposure import own_exposure
from monreq.web.phone_gone import gone_lines
from monreq.web.phone_groups import ShownGroup, shown_groups, strip_place
from monreq.web.phone_said import TakeBack, answer_lines, status, take_back
from monreq.web.places import Place, Places
from monreq.web.speech import N_, _, all_of, listed
from monreq.web.wording import CALLED

_STRIP_KINDS = (Kind.LEVEL, Kind.PAN, Kind.IN_OUT, Kind.SOUND)
_GROUP_KINDS = (Kind.LEVEL, Kind.IN_OUT, Kind.SOUND)

_WHILE_WAITING = {
    (Call.HURTS, Output.IN_EAR_PAIR): N_("Turn the pack down or take BOTH out."),
    (Call.HURTS, Output.WEDGE): N_("Step away from the wedge."),
    (Call.SQUEAL, Output.WEDGE): N_("Step back from the wedge; keep the mic off it."),
    (Call.NOTHING, Output.IN_EAR_PAIR): N_(
        "Turn the pack down or take BOTH out. Then: pack on? battery? plug?"
    ),
    (Call.NOTHING, Output.WEDGE): N_("Check the wedge: power? cable?"),
}


_MEANINGS = {
    Call.HURTS: N_("too loud now"),
    Call.SQUEAL: N_("feedback here"),
    Call.NOTHING: N_("I hear nothing"),
    Call.TALK: N_("talk to me"),
}


@dataclass(frozen=True, slots=True)
class CallChoice:
    """A call that can be made.

    Attributes:
        advice: What to do while it waits; empty where there is nothing to do.
    """

    call: str
    name: str
    meaning: str
    advice: str


@dataclass(frozen=True, slots=True)
class StripView:
    """One source or group of the mix, or the whole mix (source empty).

    Attributes:
        status: Sentences: what waits, what was done.
        take_back: The requests that can be withdrawn, the newest first.
        steps: The amounts that can be asked for in one tap; a source that is off, and the whole mix, have none.
        tells_of_members: Whether a group's status is about its sources, whose own strips say it too.
    """

    source: str
    name: str
    is_on: bool
    can_pan: bool
    can_less: bool
    is_waiting: bool
    status: tuple[str, ...]
    take_back: tuple[TakeBack, ...]
    steps: Steps | None = None
    is_group: bool = False
    tells_of_members: bool = False


@dataclass(frozen=True, slots=True)
class CallView:
    """What became of the urgent calls of this mix.

    Attributes:
        seen_at_ms: When a desk said that it saw the last of them; None if none did yet. [ms since 1970, UTC]
        seen_by: That desk's name, if it has one.
    """

    waiting: tuple[str, ...]
    advice: tuple[str, ...]
    status: tuple[str, ...]
    take_back: tuple[TakeBack, ...]
    seen_at_ms: int | None
    seen_by: str


@dataclass(frozen=True, slots=True)
class HeadView:
    """Whose mix this is."""

    name: str
    kind: str
    is_open: bool
    is_demo: bool


@dataclass(frozen=True, slots=True)
class _Page:
    """One mix of a show, with its open requests by row, and what its opened strips offer."""

    show: Show
    mix: Mix
    rows: Mapping[RowKey, tuple[Request, ...]]
    steps: Steps

    def waiting(self, keys: Sequence[RowKey]) -> list[Request]:
        """Return the open requests of some rows."""
        return [request for key in keys for request in self.rows.get(key, ())]


def call_choices(mix: Mix) -> tuple[CallChoice, ...]:
    """Return the calls that the phones of a mix offer."""
    return tuple(
        CallChoice(call.value, _(CALLED[call]), _(_MEANINGS[call]), _while_waiting(call, mix.output))
        for call in Call
    )


def phone_places(show: Show, mix: str) -> Places:
    """Return the places of a mix's phone page; none of a mix that the show does not have."""
    if mix not in show.mixes:
        return {}
    page = _Page(show, show.mix(mix), show.open_rows(), steps(show.settings))
    groups = shown_groups(show, mix)
    carried = {group.sub_mix for group in groups}
    strips = {
        strip_place(source.id): Place("phone/_strip.html", _strip(page, source, position))
        for source, position in show.sends_in_order(mix)
        if source.id not in carried
    }
    single = [one for one in strips if not any(one in group.children for group in groups)]
    head = HeadView(page.mix.name, wording.mix_kind(page.mix), show.is_open, show.is_demo)
    return {
        "head": Place("phone/_head.html", head),
        **figure_places(show),
        "told": Place("phone/_told.html", phone_note(show, mix)),
        "keep": Place("phone/_keep.html", keep_question(show, mix)),
        "kept": Place("phone/_kept.html", keep_question(show, mix)),
        "calls": Place("phone/_calls.html", _calls(page)),
        "strips": Place(
            "phone/_strips.html", gone_lines(show, mix), (*(group.place for group in groups), *single)
        ),
        **{group.place: Place("phone/_group.html", None, group.children) for group in groups},
        **{strip_place(one.group): Place("phone/_strip.html", _group_strip(page, one)) for one in groups},
        **strips,
        "heard": Place("phone/_heard.html", heard_question(show, mix)),
        "whole": Place("phone/_whole.html", _whole(page)),
        "exposure": Place("phone/_exposure.html", own_exposure(show, mix)),
    }


def _strip(page: _Page, source: Source, position: Position) -> StripView:
    keys = [RowKey(page.mix.id, source.id, kind) for kind in _STRIP_KINDS]
    waiting = page.waiting(keys)
    is_on, can_less = position.setting.is_on, source.use is not SourceUse.TALKBACK
    return StripView(
        source=source.id,
        name=source.name,
        is_on=is_on,
        can_pan=page.mix.is_stereo,
        can_less=can_less,
        is_waiting=bool(waiting),
        status=status(page.show, page.rows, keys),
        take_back=take_back(page.show, waiting),
        steps=(page.steps if can_less else replace(page.steps, less=())) if is_on else None,
    )


def _group_strip(page: _Page, shown: ShownGroup) -> StripView:
    group, mix = page.show.groups[shown.group], page.mix.id
    targets = [one for one in (shown.group, shown.sub_mix) if one]
    keys = [RowKey(mix, target, kind) for target in targets for kind in _GROUP_KINDS]
    waiting = page.waiting(keys)
    names = listed(page.show.sources[one].name for one in shown.sources)
    own = status(page.show, page.rows, keys)
    is_on = any(setting.is_on for setting in settings_of(page.show, mix, shown.sub_mix or shown.group))
    of_members = () if waiting else _folded(page, shown) or (() if own else (names,))
    return StripView(
        source=shown.group,
        name=group.name,
        is_on=is_on,
        can_pan=False,
        can_less=True,
        is_waiting=bool(waiting),
        status=of_members or own,
        take_back=take_back(page.show, waiting),
        steps=page.steps if is_on else None,
        is_group=True,
        tells_of_members=bool(of_members),
    )


def _folded(page: _Page, shown: ShownGroup) -> tuple[str, ...]:
    """Say in one line, so that nothing moves, which sources of a folded group wait."""
    waiting = [
        page.show.sources[source].name
        for source in shown.sources
        if any(RowKey(page.mix.id, source, kind) in page.rows for kind in _STRIP_KINDS)
    ]
    return (_("%(names)s: waiting", names=listed(waiting)),) if waiting else ()


def _whole(page: _Page) -> StripView:
    keys = [RowKey(page.mix.id, None, kind) for kind in (Kind.LEVEL, Kind.SOUND)]
    waiting = page.waiting(keys)
    return StripView(
        source="",
        name=_("Whole mix"),
        is_on=True,
        can_pan=False,
        can_less=True,
        is_waiting=bool(waiting),
        status=status(page.show, page.rows, keys),
        take_back=take_back(page.show, waiting),
    )


def _calls(page: _Page) -> CallView:
    key = RowKey(page.mix.id, None, Kind.CALL)
    waiting = page.waiting([key])
    calls = list(dict.fromkeys(one.call for one in waiting if one.call))
    output = page.mix.output
    advice = [words for call in calls if (words := _while_waiting(call, output))]
    return CallView(
        waiting=tuple(_(CALLED[call]) for call in calls),
        advice=tuple(advice),
        status=() if calls else _called_before(page, key),
        take_back=take_back(page.show, waiting),
        seen_at_ms=waiting[-1].seen_at_ms if waiting else None,
        seen_by=waiting[-1].seen_by if waiting else "",
    )


def _called_before(page: _Page, key: RowKey) -> tuple[str, ...]:
    """Say what became of the last call, and whose it was: the phones of a mix that is shared all show the same."""
    lines = answer_lines(page.show, key)
    if len(page.mix.musicians) < 2 or not lines:
        return tuple(_("Your call: %(line)s", line=line) for line in lines)
    requests = page.show.decisions[page.show.latest[key]].requests
    names = all_of(dict.fromkeys(page.show.musician_name(one.musician) for one in requests))
    return tuple(_("Call of %(names)s: %(line)s", names=names, line=line) for line in lines)


def _while_waiting(call: Call, output: Output) -> str:
    words = _WHILE_WAITING.get((call, output))
    return _(words) if words else ""
