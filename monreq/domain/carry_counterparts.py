"""What each thing of a band is in a show, and what only the show has: told, so that nothing is dropped in silence."""

from collections.abc import Iterator, Mapping, Sequence

from monreq.domain.carry_choices import Matchings
from monreq.domain.carry_matching import How, Matching
from monreq.domain.carry_report import Counterpart, What
from monreq.domain.carry_setup import Taking
from monreq.domain.setup import Mix, Musician, Source
from monreq.domain.show import Show


def counterparts(taking: Taking, after: Show, matchings: Matchings) -> tuple[Counterpart, ...]:
    """Return every source, musician and mix of the band, in order, with what it is in the show."""
    band, show = taking.band, taking.show
    names = {
        What.SOURCE: {one.id: one.name for one in after.sources.values()},
        What.MUSICIAN: {one.id: one.name for one in after.musicians.values()},
        What.MIX: {one.id: one.name for one in after.mixes.values()},
    }
    sources = _counterparts(band.sources, taking.sources, names[What.SOURCE], matchings.sources)
    musicians = _counterparts(band.musicians, taking.musicians, names[What.MUSICIAN], matchings.musicians)
    mixes = _counterparts(band.mixes, taking.mixes, names[What.MIX], matchings.mixes)
    return (
        *(Counterpart(What.SOURCE, *told, here not in show.sources) for here, told in sources),
        *(
            Counterpart(What.MUSICIAN, *told, here not in show.musicians, _deputy(after, here))
            for here, told in musicians
        ),
        *(Counterpart(What.MIX, *told, here not in show.mixes) for here, told in mixes),
    )


def only_here(taking: Taking) -> Mapping[What, tuple[str, ...]]:
    """Return the names of what only the show has."""
    show = taking.show
    return {
        What.SOURCE: _others(show.sources, taking.sources),
        What.MUSICIAN: _others(show.musicians, taking.musicians),
        What.MIX: _others(show.mixes, taking.mixes),
    }


def _counterparts(
    known: Sequence[Source] | Sequence[Musician] | Sequence[Mix],
    taken: Mapping[str, str],
    names: Mapping[str, str],
    matching: Matching,
) -> Iterator[tuple[str, tuple[str, str, How]]]:
    """Yield the id in the show (empty if left out), the name in the band, the name in the show, and by what."""
    how = {match.known: match for match in matching.matches}
    for one in known:
        here = taken.get(one.id, "")
        by = how[one.id].how if here == how[one.id].here else How.MISSING
        yield here, (one.name, names.get(here, ""), by)


def _deputy(after: Show, musician: str) -> str:
    return after.musicians[musician].deputy if musician in after.musicians else ""


def _others(here: Mapping[str, Source | Musician | Mix], taken: Mapping[str, str]) -> tuple[str, ...]:
    known = set(taken.values())
    return tuple(one.name for one in here.values() if one.id not in known)
