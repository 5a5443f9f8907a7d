"""What the report shows before a band is taken over: line-up, auxes, and every mix as it was kept and as it starts."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from monreq.domain.carry_report import CarryReport, Counterpart, MixChange, What
from monreq.web import book_words, wording
from monreq.web.speech import N_, _, listed

_ADDED: Mapping[What, str] = {
    What.SOURCE: N_("Added sources: %(names)s."),
    What.MUSICIAN: N_("Added musicians: %(names)s."),
    What.MIX: N_("Added mixes: %(names)s."),
}


@dataclass(frozen=True, slots=True)
class SendLine:
    """One send, as it was kept and as it starts."""

    name: str
    kept: str
    starts: str
    notes: list[str]
    is_out: bool


@dataclass(frozen=True, slots=True)
class MixReport:
    """One mix, as it was kept and as it starts."""

    name: str
    heard: str
    kept_name: str
    shift: str
    notes: list[str]
    changed: list[SendLine]
    as_kept: list[SendLine]


def mix_reports(report: CarryReport) -> list[MixReport]:
    """Return every mix as it was kept and as it starts."""
    return [_mix_report(change) for change in report.mixes]


def told(report: CarryReport) -> list[str]:
    """Return what is added, left out, new, or goes by another name: nothing is dropped in silence."""
    lines = [*_added(report), *filter(None, map(_counterpart, report.counterparts))]
    for what, names in report.new.items():
        lines += [
            _(
                "New here: %(name)s (%(what)s). The band's book does not know it.",
                name=name,
                what=_(book_words.WHAT[what]),
            )
            for name in names
        ]
    return lines


def aux_lines(report: CarryReport) -> list[str]:
    """Return what the aux outputs planned again come to."""
    if report.auxes is None:
        return [
            _(
                "The desk is not described: say on Prepare what auxes it has. The old desk's numbers are not taken over."
            )
        ]
    plan = report.auxes.plan
    lines = [_("The mixes take %(count)s auxes of this desk.", count=plan.auxes_needed)]
    if plan.missing_auxes or plan.missing_outputs:
        lines.append(
            _(
                "Missing: %(auxes)s auxes, %(outputs)s outputs. Prepare shows what could be shared.",
                auxes=plan.missing_auxes,
                outputs=plan.missing_outputs,
            )
        )
    lines += [_("%(name)s has no aux yet.", name=name) for name in report.unnumbered]
    return lines


def _added(report: CarryReport) -> Iterator[str]:
    """Yield what is added, one line a sort."""
    for what, said in _ADDED.items():
        names = [one.here_name for one in report.counterparts if one.what is what and one.is_added]
        if names:
            yield _(said, names=listed(names))


def _counterpart(one: Counterpart) -> str | None:
    what = _(book_words.WHAT[one.what])
    if not one.here_name:
        return _(
            "Left out: %(name)s (%(what)s). It is not in this show; the band keeps it.",
            name=one.name,
            what=what,
        )
    if one.deputy:
        return _("%(deputy)s sits in for %(name)s and gets the mix.", deputy=one.deputy, name=one.name)
    if one.name != one.here_name and not one.is_added:
        return _("%(name)s is %(here)s here (%(what)s).", name=one.name, here=one.here_name, what=what)
    return None


def _mix_report(change: MixChange) -> MixReport:
    was, stands = change.before.is_stereo, change.after.is_stereo
    output = SendLine(
        _("output"),
        book_words.setting(change.output_before, is_stereo=False),
        book_words.setting(change.output_after, is_stereo=False),
        [],
        is_out=False,
    )
    sends = [
        SendLine(
            one.name,
            book_words.setting(one.before, is_stereo=was),
            book_words.setting(one.after, is_stereo=stands),
            book_words.send_notes(one.notes),
            is_out=one.after is None,
        )
        for one in change.sends
    ]
    lines = [output, *sends]
    return MixReport(
        name=change.after.name,
        heard=wording.mix_kind(change.after),
        kept_name=change.kept_name,
        shift=wording.signed(change.shift_tenths) if change.shift_tenths else "",
        notes=book_words.mix_notes(change),
        changed=[one for one in lines if one.notes or one.kept != one.starts],
        as_kept=[one for one in lines if not one.notes and one.kept == one.starts],
    )
