"""A row of the queue in words: what was asked, what to set, and what one key records."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain.balance import SAME_LOUDNESS_FIRST_DB
from monreq.domain.cautions import CautionCode
from monreq.domain.drifts import drift_db
from monreq.domain.queue import Row
from monreq.domain.refusals import Refusal
from monreq.domain.requests import Call, Kind, Request, RowKey, Way
from monreq.domain.shares import share_db
from monreq.domain.show import Show
from monreq.domain.ways import output_against, rest_down, rest_down_by, same_loudness_move, ways_for
from monreq.web import wording
from monreq.web.as_asked import as_asked
from monreq.web.call_view import CalledView, called_view, raise_of, raise_taken_back
from monreq.web.group_row import SendView, done_to_all, send_views
from monreq.web.heard_view import heard_of_row
from monreq.web.song_view import song_name
from monreq.web.sound_answers import answer_ready
from monreq.web.speech import _, all_of, listed, ngettext

_MOST_FIGURES = 12  # chosen: what stands in one line of the desk


@dataclass(frozen=True, slots=True)
class Option:
    """Something that one key records, as work done."""

    button: str
    key: str
    text: str


@dataclass(frozen=True, slots=True)
class RowView:
    """One row of the queue in words.

    Attributes:
        mix: Its mix, by id.
        is_later: Whether the plan puts it behind this gap.
        requests: Ids of exactly the requests shown here, parted by spaces.
        key_figure: The sum, or what is asked in a word.
        set_to: "from" and "to" of the hand, or one standing figure.
        sends: Of a group, each send to set.
        heard: What was said about the answer before, where that asks again; may be empty.
        move: The suggested move, in the unit of the kind, or `@` and the level to come in at; empty if there is none.
        move_at_same_loudness: The same, while the output goes down against it.
        because: The reason's code that the musician reads where the suggested move is less than the sum; may be empty.
        options: What one key records, the best first.
        takes_words: Whether it is answered in words.
    """

    show: str
    mix: str
    is_later: bool
    requests: str
    mix_name: str
    tape: str
    key_figure: str
    now: str
    set_to: str
    sends: tuple[SendView, ...]
    asked: str
    heard: str
    cautions: tuple[str, ...]
    ask_first: str
    called: CalledView | None
    move: str
    move_at_same_loudness: str
    because: str
    options: tuple[Option, ...]
    takes_figure: bool
    takes_level: bool
    takes_words: bool
    is_set_aside: bool
    oldest_at_ms: int


def row_place(key: RowKey) -> str:
    """Return the id of a row's place."""
    return f"row-{key.mix}-{key.source or ''}-{key.kind}"


def row_view(show: Show, row: Row, *, is_later: bool = False) -> RowView:
    """Return a row in words."""
    kind, target = row.key.kind, row.set_to
    return RowView(
        show=show.id,
        mix=row.key.mix,
        is_later=is_later,
        requests=" ".join(request.id for request in row.requests),
        mix_name=show.mix(row.key.mix).name,
        tape=show.source_name(row.key.source) or _("Whole mix"),
        key_figure=_key_figure(row),
        now=wording.standing(kind, row.now) if row.now and kind is not Kind.SOUND else "",
        set_to=wording.standing(kind, target) if target and target != row.now else "",
        sends=send_views(show, row),
        asked=_asked(show, row),
        heard=heard_of_row(show, row.key),
        cautions=_cautions(show, row),
        ask_first=_ask_first(show, row),
        called=called_view(show, row),
        move=_move(row),
        move_at_same_loudness=str(_at_same_loudness(show, row)),
        because=row.cut_because or answer_ready(row),
        options=_call_options(show, row) if row.urgent else _options(show, row),
        takes_figure=kind in (Kind.LEVEL, Kind.PAN, Kind.CALL) or _comes_in(row),
        takes_level=(kind in (Kind.LEVEL, Kind.CALL) and not row.is_group) or _comes_in(row),
        takes_words=kind is Kind.SOUND,
        is_set_aside=row.is_set_aside,
        oldest_at_ms=row.oldest_at_ms,
    )


def _comes_in(row: Row) -> bool:
    """Whether it is one source that comes in, at a level that can be read off."""
    return row.key.kind is Kind.IN_OUT and not row.is_group and (row.asked or 0) > 0


def _move(row: Row) -> str:
    if row.suggestion.comes_in_tenths is not None:
        return f"@{row.suggestion.comes_in_tenths}"
    return "" if row.suggestion.move is None else str(row.suggestion.move)


def _cautions(show: Show, row: Row) -> tuple[str, ...]:
    only_compensates = all(one.group for one in row.requests)
    said = (
        wording.caution(show, row, one)
        for one in row.suggestion.cautions
        if not (only_compensates and one.code is CautionCode.PREAMP)
    )
    return tuple(filter(None, (*said, as_asked(show, row))))


def _options(show: Show, row: Row) -> tuple[Option, ...]:
    """Return what one key each records; the best comes first, under Enter.

    Turning the rest down is best where no margin is left, the same loudness where the mix drifted up already.
    """
    options = [option for option in (_plain(row), _same_loudness(show, row), _rest_down(show, row)) if option]
    is_short = any(one.code is CautionCode.AT_RESERVE for one in row.suggestion.cautions)
    has_drifted = (drift_db(show, row.key.mix) or 0) > SAME_LOUDNESS_FIRST_DB
    first = "rest_down" if is_short else "same_loudness" if has_drifted else "done"
    options.sort(key=lambda option: option.button != first)
    return tuple(
        Option(option.button, "Enter" if place == 0 else option.key, option.text)
        for place, option in enumerate(options)
    )


def _call_options(show: Show, row: Row) -> tuple[Option, ...]:
    """Return what one key each records for a call: a squeal is answered first by the last raise there taken back."""
    raised, plain = raise_of(show, row), _plain(row)
    options = [plain] if plain else []
    if raised is not None:
        place = 0 if row.urgent is Call.SQUEAL else len(options)
        options.insert(place, Option("take_back", "b", raise_taken_back(show, raised)))
    if any(one.seen_at_ms is None for one in row.requests):
        options.append(Option("seen", "c", _("seen")))
    return tuple(
        Option(option.button, "Enter" if place == 0 and option.button != "seen" else option.key, option.text)
        for place, option in enumerate(options)
    )


def _plain(row: Row) -> Option | None:
    move, target = row.suggestion.move, row.set_to
    if move == 0:
        makes_up = row.asked == 0 and any(one.group for one in row.requests)
        return Option("done", "d", _("done: it stays")) if makes_up else None
    if row.is_group and move is not None:
        return Option("done", "d", done_to_all(row))
    if move is None or target is None:
        return Option("done", "d", _done_in_words(row))
    if row.key.kind is Kind.CALL:
        return Option("done", "d", _("done: output now %(level)s", level=wording.level(target.level_tenths)))
    return Option("done", "d", _("done %(figure)s", figure=wording.change(row.key.kind, move)))


def _done_in_words(row: Row) -> str:
    answer = wording.reason(answer_ready(row))
    return _("done: %(answer)s", answer=answer) if answer else _("done")


def _same_loudness(show: Show, row: Row) -> Option | None:
    """Return the two moves, the output's with the level to set; nothing where a tenth of a dB is too much for it."""
    move = _at_same_loudness(show, row)
    if move <= 0:
        return None
    against = output_against(show, row, move)
    after = against.after.level_tenths
    lower = after - against.before.level_tenths
    if not lower:
        return None
    said = _(
        "same loudness: output %(lower)s (to %(level)s), then %(move)s",
        move=wording.signed(move),
        lower=wording.signed(lower),
        level=wording.level(after),
    )
    return Option("same_loudness", "=", said)


def _at_same_loudness(show: Show, row: Row) -> int:
    return same_loudness_move(show, row) if Way.SAME_LOUDNESS in ways_for(show, row) else 0


def _rest_down(show: Show, row: Row) -> Option | None:
    if Way.REST_DOWN not in ways_for(show, row):
        return None
    by = rest_down_by(show, row)
    try:
        rest_down(show, row, by)
    except Refusal:
        return None
    return Option("rest_down", "r", _("rest down %(figure)s instead", figure=wording.signed(-by)))


def _key_figure(row: Row) -> str:
    if row.key.kind is Kind.SOUND:
        return _("sound")
    return "" if row.asked is None else wording.change(row.key.kind, row.asked)


def _asked(show: Show, row: Row) -> str:
    """Say how often it was asked and by whom, with each figure: asked 2 times by Bass, +3 +3."""
    asked = [one for one in row.requests if not one.is_for_song]
    return listed(part for part in (_asked_by(show, row, asked), _wanted_by_song(show, row)) if part)


def _asked_by(show: Show, row: Row, asked: Sequence[Request]) -> str:
    if all(one.group for one in asked):
        return listed(dict.fromkeys(_for_the_desk(one) for one in asked))
    names = all_of(dict.fromkeys(show.musician_name(one.musician) for one in asked))
    if row.key.kind is Kind.SOUND:
        each = listed(dict.fromkeys(wording.sound(one.words) for one in asked))
    else:
        each = _figures([wording.change(row.key.kind, one.amount) for one in asked if one.amount])
    said = ngettext("asked once by %(names)s", "asked %(num)d times by %(names)s", len(asked), names=names)
    if (each and len(asked) > 1) or row.key.kind is Kind.SOUND:
        return _("%(asked)s: %(each)s", asked=said, each=each)
    return said


def _for_the_desk(request: Request) -> str:
    return _("to be put back") if request.is_put_back else _("compensates the preamp")


def _wanted_by_song(show: Show, row: Row) -> str:
    """Say which song wants it, with its own part where musicians ask too: for Blue moor +4."""
    of_song = [one for one in row.requests if one.is_for_song]
    if not of_song:
        return ""
    name = song_name(show, show.song_plan.song if show.song_plan else None)
    if len(of_song) == len(row.requests):
        return _("for %(song)s", song=name)
    part = wording.change(row.key.kind, sum(one.amount for one in of_song))
    return _("for %(song)s %(change)s", song=name, change=part)


def _figures(changes: Sequence[str]) -> str:
    """Return each figure in the order of asking; of very many, how often each was asked."""
    if len(changes) <= _MOST_FIGURES:
        return " ".join(changes)
    return listed(
        _("%(times)s of %(figure)s", times=times, figure=figure) for figure, times in Counter(changes).items()
    )


def _ask_first(show: Show, row: Row) -> str:
    """Say how a source that is asked up stands, and what to ask before it is raised."""
    if row.key.kind is not Kind.LEVEL or row.key.source is None or (row.asked or 0) <= 0:
        return ""
    stands = share_db(show, row.key.mix, row.key.source)
    if stands is None:
        return ""
    return _("%(share)s. First: playing now? polarity? mic close?", share=wording.share(stands))
