"""A show and its band: a band begun for a show, a show begun from a band, and what is kept of the one in the other."""

from collections.abc import Mapping

from monreq.domain.band import Band
from monreq.domain.band_commands import AskToKeep, ChooseBand, NoteKept
from monreq.domain.band_refusals import NoBandYet
from monreq.domain.carry_choices import match_band, proposed
from monreq.domain.carry_commands import DoTogether
from monreq.domain.carry_over import carry_over
from monreq.domain.commands import OpenShow
from monreq.domain.keeping import ToKeep
from monreq.domain.lasting import Lasted, what_lasted
from monreq.domain.show import Show
from monreq.services.bands import Bands
from monreq.services.ports import Submission
from monreq.services.shows import Receipt, Shows


def begin_band(
    shows: Shows, bands: Bands, show: Show, name: str, submission: Submission | None = None
) -> Band:
    """Begin a band with a show's line-up, and let it be the show's; repeated, nothing is doubled."""
    band = bands.begin(name, show, submission)
    shows.submit(show.id, ChooseBand(band.id))
    return band


def open_show_from(shows: Shows, band: Band, show_id: str, opening: OpenShow) -> Receipt:
    """Begin a show with a band's line-up and its newest kept mixes, under the same ids."""
    empty = shows.open(show_id, opening).show
    carried = carry_over(band, empty, proposed(band, empty, match_band(band, empty)))
    return shows.submit(show_id, DoTogether((ChooseBand(band.id), *carried.command.commands)))


def keep_mixes(
    shows: Shows, bands: Bands, show: Show, wanted: ToKeep, submission: Submission | None = None
) -> Band:
    """Keep mixes of a show in its band, and note it in the show as long as that is open.

    Raises:
        NoBandYet: The show has no band.
    """
    if not show.band:
        raise NoBandYet
    band = bands.keep(show.band, show, wanted, submission)
    if show.is_open:
        shows.submit(show.id, NoteKept(wanted.mixes, wanted.name, wanted.song), submission)
    return band


def keep_what_all_agreed(shows: Shows, bands: Bands, show_id: str, mix: str) -> None:
    """Keep a mix as the desk asked, once everybody who hears it agreed; repeated, nothing is doubled."""
    show = shows.state(show_id)
    question = show.keep_questions.get(mix)
    if question is None or not show.band or not set(show.mix(mix).musicians) <= set(question.agreed):
        return
    wanted = ToKeep(
        (mix,),
        show.name,
        settings={mix: dict(question.settings)},
        lowered={mix: question.lowered_tenths},
    )
    keep_mixes(shows, bands, show, wanted, Submission(f"{show_id}/{mix}", question.id, question.id))


def ask_what_to_keep(shows: Shows, show: Show, submission: Submission | None = None) -> None:
    """Ask the musicians of every mix that somebody hears whether to keep what lasted of it."""
    lasted = lasted_of(shows, show)
    heard = [mix.id for mix in show.mixes.values() if mix.musicians]
    asked = AskToKeep(
        tuple((mix, tuple(lasted[mix].settings.items())) for mix in heard),
        tuple((mix, lasted[mix].lowered_tenths) for mix in heard if lasted[mix].lowered_tenths),
    )
    shows.submit(show.id, asked, submission)


def lasted_of(shows: Shows, show: Show) -> Mapping[str, Lasted]:
    """Return what lasted of each mix of a show, looked at until now, or until it was closed."""
    log = shows.since(show.id, 0, show.revision)
    return what_lasted(show, log, shows.now_ms() if show.is_open else show.at_ms)


def to_propose(shows: Shows, show: Show) -> Mapping[str, Lasted]:
    """Return what to propose for keeping: what the musicians were asked about, else what lasted."""
    asked = {
        mix: Lasted(dict(question.settings), question.lowered_tenths)
        for mix, question in show.keep_questions.items()
    }
    return {**lasted_of(shows, show), **asked}
