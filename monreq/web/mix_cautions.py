"""What Prepare asks and warns of at each mix: in-ears that could hurt, and talkback that does not arrive."""

from collections.abc import Iterator, Mapping

from monreq.domain.setup import Mix, Output, SourceUse, TakenAt
from monreq.domain.show import Show
from monreq.web.speech import _


def mix_cautions(show: Show) -> Mapping[str, tuple[str, ...]]:
    """Return for each mix, by id, what to mind before the first note."""
    return {mix.id: tuple(_cautions(show, mix)) for mix in show.mixes.values()}


def _cautions(show: Show, mix: Mix) -> Iterator[str]:
    if mix.output is Output.IN_EAR_PAIR:
        yield from _of_packs(mix)
    if mix.is_fed_mono:
        yield _("In mono nobody hears where the others stand.")
    yield from standing_cautions(mix)
    if not _is_talked_to(show, mix.id):
        yield _("Talkback does not reach this mix.")


def standing_cautions(mix: Mix) -> Iterator[str]:
    """Give what holds for a mix all evening, because of how its sends are taken."""
    if mix.taken_at is TakenAt.POST_FADER:
        yield _("Taken after the fader: every move of a house fader changes this mix.")
    if mix.is_cut_by_mutes:
        yield _("Mutes cut it: who is muted in the house is silent here too.")


def short_cautions(mix: Mix) -> Iterator[str]:
    """Give the same in few words, for a list of mixes."""
    if mix.taken_at is TakenAt.POST_FADER:
        yield _("after the fader")
    if mix.is_cut_by_mutes:
        yield _("cut by mutes")


def _of_packs(mix: Mix) -> Iterator[str]:
    if mix.has_limiter is None or mix.is_pack_low is None:
        yield _("Is each pack's limiter on, its volume low? Never one earpiece only.")
    if mix.has_limiter is False:
        yield _(
            "No limiter: nothing stops a loud mistake before the ears. Start lower, and raise in small steps."
        )
    if mix.is_pack_low is False:
        yield _("The pack is turned up: turn it down before anything is sent to it.")


def _is_talked_to(show: Show, mix: str) -> bool:
    """Whether a talkback is on in a mix, or there is none at all."""
    talkbacks = [source.id for source in show.sources.values() if source.use is SourceUse.TALKBACK]
    positions = [show.levels[mix].sends.get(source) for source in talkbacks]
    return not talkbacks or any(position is not None and position.setting.is_on for position in positions)
