"""What the pages ask on which a band is taken over into a show: what is what, and what the mixes start from."""

from collections.abc import Mapping
from dataclasses import dataclass

from monreq.domain.band import Band
from monreq.domain.carry_choices import ADD, LEAVE_OUT, Choices, free_id, kept_of, match_band
from monreq.domain.carry_matching import How, Match, Matching
from monreq.domain.setup import Mix, Musician, Output, SourceUse
from monreq.domain.show import Show
from monreq.web import book_words, wording
from monreq.web.book_fields import FED_MONO, NOT_SAID, Fields, heard
from monreq.web.speech import N_, _

Options = list[tuple[str, str]]

HEARD: Mapping[str, str] = {
    Output.WEDGE.value: N_("wedge"),
    Output.IN_EAR_PAIR.value: N_("in-ear pair"),
    FED_MONO: N_("in-ear pair, fed mono"),
}


@dataclass(frozen=True, slots=True)
class MatchLine:
    """A thing of the band, with what it may be here.

    Attributes:
        chosen: The value that stands in its field.
        deputy: For a musician: who sits there instead; None for anything else.
    """

    field: str
    name: str
    how: str
    needs_answer: bool
    is_sure: bool
    options: Options
    chosen: str
    deputy: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class MatchPart:
    """All lines of one sort, those to answer first."""

    title: str
    lines: list[MatchLine]
    new: list[str]


@dataclass(frozen=True, slots=True)
class MixLevels:
    """How one mix is to start: its choices, and what stands in its fields."""

    id: str
    name: str
    was: str
    heard_here: str
    heard_options: Options
    kept_options: Options
    kept: str
    by_options: Options
    typed: Fields
    asks_click: bool


@dataclass(frozen=True, slots=True)
class _Sort:
    """One sort of thing: its field's prefix, its names in the band and in the show, and what was chosen."""

    prefix: str
    title: str
    known: Mapping[str, str]
    here: Mapping[str, str]
    chosen: Mapping[str, str]
    deputies: Mapping[str, str] | None = None


def match_parts(band: Band, show: Show, choices: Choices) -> list[MatchPart]:
    """Return the three lists of matches."""
    found = match_band(band, show)
    sources = _Sort(
        "source-",
        _("Sources"),
        {one.id: one.name for one in band.sources},
        {one.id: one.name for one in show.sources.values()},
        choices.sources,
    )
    musicians = _Sort(
        "musician-",
        _("Musicians"),
        {one.id: _with_chair(one) for one in band.musicians},
        {one.id: one.name for one in show.musicians.values()},
        choices.musicians,
        choices.deputies,
    )
    mixes = _Sort(
        "mix-",
        _("Mixes"),
        {one.id: one.name for one in band.mixes},
        {one.id: one.name for one in show.mixes.values()},
        choices.mixes,
    )
    return [_part(sources, found.sources), _part(musicians, found.musicians), _part(mixes, found.mixes)]


def mix_levels(band: Band, show: Show, choices: Choices, fields: Fields) -> list[MixLevels]:
    """Return the mixes that are taken over, with what can be said of their levels."""
    return [
        _mix_levels(band, show, choices, fields, mix)
        for mix in band.mixes
        if choices.mixes.get(mix.id, LEAVE_OUT) != LEAVE_OUT
    ]


def _with_chair(musician: Musician) -> str:
    return f"{musician.name} ({musician.chair})" if musician.chair else musician.name


def _part(sort: _Sort, matching: Matching) -> MatchPart:
    lines = [_match_line(sort, match, matching) for match in matching.matches]
    lines.sort(key=lambda line: (not line.needs_answer, line.is_sure))
    return MatchPart(sort.title, lines, [sort.here[one] for one in matching.new])


def _match_line(sort: _Sort, match: Match, matching: Matching) -> MatchLine:
    chosen = sort.chosen.get(match.known, NOT_SAID)
    sure = {one.here for one in matching.matches if one.is_sure and one.known != match.known}
    options = [(here, name) for here, name in sort.here.items() if here not in sure or here == chosen]
    options.sort(key=lambda option: option[0] != match.here)
    unanswered = [(NOT_SAID, _("say which"))] if match.how is How.LIKELY or chosen == NOT_SAID else []
    rest = [(ADD, _("add it to this show")), (LEAVE_OUT, _("leave it out"))]
    deputies = sort.deputies
    return MatchLine(
        field=sort.prefix + match.known,
        name=sort.known[match.known],
        how=_(book_words.HOW[match.how]),
        needs_answer=chosen == NOT_SAID,
        is_sure=match.is_sure,
        options=[*unanswered, *options, *rest],
        chosen=chosen,
        deputy=None if deputies is None else (f"deputy-{match.known}", deputies.get(match.known, "")),
    )


def _mix_levels(band: Band, show: Show, choices: Choices, fields: Fields, mix: Mix) -> MixLevels:
    here = show.mixes.get(choices.mixes[mix.id])
    choice = choices.mix_choices[mix.id]
    mono = FED_MONO if choice.is_fed_mono else choice.output.value
    names = {source.id: choices.sources.get(source.id, LEAVE_OUT) for source in band.sources}
    return MixLevels(
        id=mix.id,
        name=mix.name if here is None else here.name,
        was=_(HEARD[heard(mix)]),
        heard_here="" if here is None else wording.mix_kind(here),
        heard_options=[(value, _(words)) for value, words in HEARD.items()] if here is None else [],
        kept_options=[*_kept_options(band, mix), ("", _("nothing: start as a new mix"))],
        kept=choice.kept or "",
        by_options=[
            ("", _("as they were kept")),
            *((_id_here(names, one.id, show), one.name) for one in band.sources if names[one.id]),
        ],
        typed={"heard": mono, **_typed(mix, fields)},
        asks_click=any(one.use is SourceUse.CLICK for one in band.sources),
    )


def _id_here(names: Mapping[str, str], source: str, show: Show) -> str:
    answer = names[source]
    return free_id(source, set(show.sources)) if answer == ADD else answer


def _kept_options(band: Band, mix: Mix) -> Options:
    songs = {song.id: song.name for song in band.songs}
    return [
        (
            one.id,
            one.name
            if one.song is None
            else _("%(name)s (song %(song)s)", name=one.name, song=songs.get(one.song, one.song)),
        )
        for one in kept_of(band, mix.id)
    ]


def _typed(mix: Mix, fields: Fields) -> dict[str, str]:
    return {name: fields.get(f"{name}-{mix.id}", "") for name in ("by", "stands", "output", "click")}
