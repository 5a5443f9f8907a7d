"""The aux plan in words: what is needed and there, which mix goes where, what is missing, what could be shared."""

from collections.abc import Mapping
from dataclasses import dataclass

from monreq.domain.aux_outputs import Links
from monreq.domain.aux_plan import AuxPlan
from monreq.domain.aux_sharing import REACH_M, SharedMix, Sharing
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.refusals import Refusal
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.domain.show_aux_plan import (
    ShowAuxPlan,
    carried_twice,
    fits,
    mean_output_db,
    not_entered,
    plan_show,
    wedges_without_place,
)
from monreq.web import wording
from monreq.web.speech import N_, _, all_of, decimal, listed, ngettext, refusal_said

LINKS: Mapping[Links, str] = {
    Links.ODD_EVEN: N_("1-2, 3-4 and so on"),
    Links.NEIGHBOURS: N_("any two neighbours"),
    Links.NONE: N_("none"),
}

NOTHING_DESCRIBED = DeskFacts(0)


@dataclass(frozen=True, slots=True)
class AuxLine:
    """One mix, the aux it was put on and the one that the plan proposes."""

    name: str
    kind: str
    now: str
    planned: str


@dataclass(frozen=True, slots=True)
class AuxPlanView:
    """What Prepare shows of the auxes.

    Attributes:
        facts: What the fields show; `outputs` and `taken` as they are typed.
        is_enough: Whether nothing is missing; None if the desk was not described.
        numbers: What the button takes over; empty if there is nothing to.
        hints: What to mind, a sentence each.
    """

    facts: DeskFacts
    outputs: str
    taken: str
    needed: str
    verdict: str
    is_enough: bool | None
    lines: list[AuxLine]
    effects: str
    numbers: str
    shares: list[str]
    hints: list[str]


def aux_plan_view(show: Show) -> AuxPlanView:
    """Return what Prepare shows of a show's auxes."""
    facts = show.desk or NOTHING_DESCRIBED
    planned, refused = _planned(show)
    plan = planned.plan if planned else None
    return AuxPlanView(
        facts=facts,
        outputs="" if facts.outputs is None else str(facts.outputs),
        taken=" ".join(map(str, facts.taken)),
        needed=_needed(show, facts),
        verdict=refused if plan is None else _verdict(plan),
        is_enough=None if plan is None else plan.is_enough,
        lines=[] if planned is None else [_line(mix, facts, planned) for mix in show.mixes.values()],
        effects="" if planned is None else _effects(facts, planned),
        numbers="" if planned is None else _numbers_to_take(show, planned),
        shares=[] if plan is None or plan.sharing is None else _shares(show, plan.sharing),
        hints=[*_clashes(show), *([] if plan is None else [*_as_entered(show, plan), *_hints(show, plan)])],
    )


def _as_entered(show: Show, plan: AuxPlan) -> list[str]:
    if not plan.is_enough or not show.mixes or show.desk is None or not fits(show, show.desk):
        return []
    return [_("The auxes as entered fit this desk: nothing has to change.")]


def _planned(show: Show) -> tuple[ShowAuxPlan | None, str]:
    """Return the plan, or why there is none."""
    if show.desk is None:
        return None, _("Say below what the desk has, and monreq plans which aux carries which mix.")
    try:
        return plan_show(show, show.desk), ""
    except Refusal as refusal:
        return None, refusal_said(refusal)


def _needed(show: Show, facts: DeskFacts) -> str:
    mixes = list(show.mixes.values())
    pairs = sum(mix.is_stereo for mix in mixes)
    fed_mono = sum(mix.output is Output.IN_EAR_PAIR and mix.is_fed_mono for mix in mixes)
    wedges = len(mixes) - pairs - fed_mono
    effects = facts.external_effects + facts.internal_effects
    parts = [
        ngettext("%(num)d wedge", "%(num)d wedges", wedges),
        ngettext("%(num)d in-ear pair of two each", "%(num)d in-ear pairs of two each", pairs),
        *(
            [ngettext("%(num)d in-ear pair fed mono", "%(num)d in-ear pairs fed mono", fed_mono)]
            if fed_mono
            else []
        ),
        ngettext("%(num)d effect send", "%(num)d effect sends", effects),
    ]
    outputs = len(mixes) + pairs + facts.external_effects
    total = len(mixes) + pairs + effects
    return _(
        "Needed: %(auxes)s (%(parts)s) and %(outputs)s.",
        auxes=_auxes_counted(total),
        parts=listed(parts),
        outputs=_outputs_counted(outputs),
    )


def _verdict(plan: AuxPlan) -> str:
    if plan.is_enough:
        return _("The desk has enough.")
    auxes, outputs = plan.missing_auxes, plan.missing_outputs
    parts = [
        *([_auxes_counted(auxes)] if auxes else []),
        *([_outputs_counted(outputs)] if outputs else []),
    ]
    return ngettext("%(what)s is missing.", "%(what)s are missing.", auxes + outputs, what=all_of(parts))


def _line(mix: Mix, facts: DeskFacts, planned: ShowAuxPlan) -> AuxLine:
    numbers = planned.numbers[mix.id]
    return AuxLine(
        mix.name,
        wording.mix_kind(mix),
        _auxes(mix.auxes) or _("none"),
        _auxes(numbers, facts) or _("none left"),
    )


def _auxes(numbers: tuple[int, ...], facts: DeskFacts | None = None) -> str:
    """Return auxes by their labels: aux 3, aux 9 and 10 linked, stereo aux 17."""
    if not numbers:
        return ""
    said = all_of(map(str, numbers))
    if facts is not None and numbers[0] > facts.mono:
        return _("stereo aux %(numbers)s", numbers=said)
    if facts is not None and len(numbers) > 1:
        return _("aux %(numbers)s linked", numbers=said)
    return _("aux %(numbers)s", numbers=said)


def _effects(facts: DeskFacts, planned: ShowAuxPlan) -> str:
    if not planned.effects:
        return ""
    return _("Effect sends: %(auxes)s.", auxes=listed(_auxes(numbers, facts) for numbers in planned.effects))


def _numbers_to_take(show: Show, planned: ShowAuxPlan) -> str:
    is_so = all(show.mixes[mix].auxes == numbers for mix, numbers in planned.numbers.items())
    if is_so or not planned.plan.is_enough:
        return ""
    return " ".join(f"{mix}:{','.join(map(str, numbers))}" for mix, numbers in planned.numbers.items())


def _shares(show: Show, sharing: Sharing) -> list[str]:
    lines = [_shared(show, one) for one in sharing.shared]
    if not sharing.is_exact:
        lines.append(_("There are too many mixes to try every way: another one may cost less."))
    return lines


def _shared(show: Show, shared: SharedMix) -> str:
    mixes = [show.mixes[mix] for mix in shared.mixes]
    off = listed(
        _("%(name)s %(figure)s dB", name=mix.name, figure=decimal(f"{shared.off_by_db[mix.id]:.1f}"))
        for mix in mixes
    )
    output = wording.level(round(10 * mean_output_db(show, mixes[0])))
    levels = [
        wording.named(source.name, wording.level(round(10 * shared.levels[source.id])))
        for source in show.sources.values()
        if source.id in shared.levels
    ]
    return _(
        "%(mixes)s share one mix. Off what each has now, on average over the sources: %(off)s. It would be: output "
        "%(output)s; %(levels)s.",
        mixes=all_of(mix.name for mix in mixes),
        off=off,
        output=output,
        levels=listed(levels) or _("nothing in it"),
    )


def _hints(show: Show, plan: AuxPlan) -> list[str]:
    if plan.is_enough:
        return []
    limits = _(
        "Only mixes of one kind are shared, wedges only within %(reach)s m of one another, and a lead singer's never.",
        reach=f"{REACH_M:.0f}",
    )
    if plan.sharing is None:
        return [_("No sharing is enough. %(limits)s", limits=limits), *_places_missing(show)]
    fresh = not_entered(show)
    return [
        _(
            "%(limits)s The costs are estimates from the levels entered; ask the musicians first.",
            limits=limits,
        ),
        *(
            [_("No levels were entered for %(names)s: its cost says nothing yet.", names=_names(fresh))]
            if fresh
            else []
        ),
        *_places_missing(show),
    ]


def _places_missing(show: Show) -> list[str]:
    lost = wedges_without_place(show)
    if not lost:
        return []
    return [
        _(
            "Not known where these wedges stand, so they are not shared: %(names)s. Enter it under Stage.",
            names=_names(lost),
        )
    ]


def _clashes(show: Show) -> list[str]:
    return [
        _("Aux %(number)s is entered for %(names)s.", number=number, names=_names(mixes))
        for number, mixes in carried_twice(show).items()
    ]


def _names(mixes: list[Mix]) -> str:
    return listed(mix.name for mix in mixes)


def _auxes_counted(number: int) -> str:
    return ngettext("%(num)d aux", "%(num)d auxes", number)


def _outputs_counted(number: int) -> str:
    return ngettext("%(num)d output", "%(num)d outputs", number)
