"""What Prepare asks and warns of at each mix: in-ears that could hurt, and talkback that does not arrive."""

from collections.abc import Iterator, Mapping

from monreq.domain.setup import Mix, Output, SourceUse, TakenAt
from monreq.domain.show import Show
from monreq.domain.starting_low import has_other_output
from monreq.web import wording
from monreq.web.speech import _, listed


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


def low_start(before: Show, mix: str, after: Show) -> str:
    """Say that a mix comes from another output now and what to set for it; empty if it does not."""
    was, facts = before.mixes.get(mix), after.mixes.get(mix)
    if was is None or facts is None or not has_other_output(was, facts):
        return ""
    sentences = [
        _(
            "%(mix)s comes from another output now and starts low: set its output to %(output)s and its sends as under"
            " start levels before anybody listens, then raise by ear.",
            mix=facts.name,
            output=wording.level(after.levels[mix].output.setting.level_tenths),
        )
    ]
    gone = [
        before.sources[one].name for one in before.levels[mix].sends if one not in after.levels[mix].sends
    ]
    if gone:
        sentences.append(_("Taken off, since it would leak: %(sources)s.", sources=listed(gone)))
    if facts.output is Output.IN_EAR_PAIR and was.output is not facts.output:
        sentences.append(_("Pack turned down first, both ears in."))
    return " ".join(sentences)


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
