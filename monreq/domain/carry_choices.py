"""What the engineer says a band's things are in a show: proposed from matching, chosen line by line."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from monreq.domain import carry_matching as matching
from monreq.domain.band import Band, KeptMix
from monreq.domain.carry_conversion import Levels
from monreq.domain.carry_matching import Match, Matching
from monreq.domain.carry_refusals import SayWhatItIs, TakenTwice, UnknownKeptMix
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.domain.texts import ID_LIMIT

ADD = "+"
LEAVE_OUT = ""


@dataclass(frozen=True, slots=True)
class MixChoice:
    """How one mix of the band is taken over.

    Attributes:
        output, is_fed_mono: How it is heard, where it is added; one that is in the show is heard as that says.
        kept: Which kept mix it starts from; None for none.
    """

    output: Output = Output.WEDGE
    is_fed_mono: bool = False
    kept: str | None = None
    levels: Levels = field(default_factory=Levels)


@dataclass(frozen=True, slots=True)
class Choices:
    """What everything of the band is in the show.

    Attributes:
        sources, musicians, mixes: By id in the band: an id of the show, `ADD`, or `LEAVE_OUT`. A line that is not named
            was not answered.
        deputies: Names of deputies by musician of the band.
        mix_choices: By mix of the band.
    """

    sources: Mapping[str, str]
    musicians: Mapping[str, str]
    mixes: Mapping[str, str]
    deputies: Mapping[str, str] = field(default_factory=dict)
    mix_choices: Mapping[str, MixChoice] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Matchings:
    """All matchings of a band with a show."""

    sources: Matching
    musicians: Matching
    mixes: Matching


def match_band(band: Band, show: Show) -> Matchings:
    """Match all that a band has with a show."""
    sources = matching.match(
        matching.named_sources(band.sources), matching.named_sources(show.sources.values())
    )
    musicians = matching.match(
        matching.named_musicians(band.musicians), matching.named_musicians(show.musicians.values())
    )
    here = {one.known: one.here for one in musicians.matches}
    mixes = matching.match(
        matching.named_mixes(band.mixes, here.get),
        matching.named_mixes(show.mixes.values(), lambda musician: musician),
    )
    return Matchings(sources, musicians, mixes)


def proposed(band: Band, show: Show, matchings: Matchings) -> Choices:
    """Return the choices to start from: what is sure is taken, what is unsure waits for an answer.

    What is missing is added where the show has nothing of that sort yet, and else left out.
    """
    return Choices(
        sources=_proposed(matchings.sources, is_empty=not show.sources),
        musicians=_proposed(matchings.musicians, is_empty=not show.musicians),
        mixes=_proposed(matchings.mixes, is_empty=not show.mixes),
        deputies={one.id: one.deputy for one in band.musicians if one.deputy},
        mix_choices={mix.id: _as_it_was(band, mix.id) for mix in band.mixes},
    )


def kept_of(band: Band, mix: str) -> list[KeptMix]:
    """Return the kept mixes of one mix: those for the whole show first, and of these the newest first."""
    kept = [one for one in band.kept if one.mix == mix]
    return sorted(kept, key=lambda one: (one.song is not None, -one.kept_at_ms))


def chosen_kept(band: Band, mix: str, choices: Choices) -> KeptMix | None:
    """Return the kept mix that a mix is to start from; None for none.

    Raises:
        UnknownKeptMix: The band has none of this id for this mix.
    """
    wanted = choices.mix_choices.get(mix, MixChoice()).kept
    if wanted is None:
        return None
    for kept in kept_of(band, mix):
        if kept.id == wanted:
            return kept
    raise UnknownKeptMix


def as_kept(kept: KeptMix, known: Mix) -> Mix:
    """Return a mix of the band as it was heard when this was kept of it."""
    if kept.heard_as is None:
        return known
    return replace(known, output=kept.heard_as, is_fed_mono=kept.was_fed_mono)


def resolved(chosen: Mapping[str, str], known: Iterable[str], here: Iterable[str]) -> dict[str, str]:
    """Return the id in the show of all that is taken over, those to add with an id that is free there.

    Raises:
        SayWhatItIs: A line was not answered, or names what is not there.
        TakenTwice: Two lines name the same.
    """
    there = set(here)
    answers = {one: chosen[one] for one in known if one in chosen}
    if answers.keys() != set(known) or not set(answers.values()) <= there | {ADD, LEAVE_OUT}:
        raise SayWhatItIs
    taken = [answer for answer in answers.values() if answer not in (ADD, LEAVE_OUT)]
    if len(set(taken)) < len(taken):
        raise TakenTwice
    found: dict[str, str] = {}
    for one, answer in answers.items():
        if answer != LEAVE_OUT:
            found[one] = answer if answer != ADD else free_id(one, there)
            there.add(found[one])
    return found


def free_id(wanted: str, taken: set[str]) -> str:
    """Return an id, or the first one made from it that is not taken."""
    tries = (wanted, *(f"{wanted[: ID_LIMIT - 3]}{number}" for number in range(2, 1000)))
    return next(one for one in tries if one not in taken)


def _proposed(found: Matching, *, is_empty: bool) -> dict[str, str]:
    answers: dict[str, str] = {}
    for one in found.matches:
        answer = _answer(one, is_empty=is_empty)
        if answer is not None:
            answers[one.known] = answer
    return answers


def _answer(found: Match, *, is_empty: bool) -> str | None:
    if found.here is None:
        return ADD if is_empty else LEAVE_OUT
    return found.here if found.is_sure else None


def _as_it_was(band: Band, mix: str) -> MixChoice:
    facts = next(one for one in band.mixes if one.id == mix)
    newest = next(iter(kept_of(band, mix)), None)
    return replace(MixChoice(facts.output, facts.is_fed_mono), kept=newest.id if newest is not None else None)
