"""Two evenings of one band side by side, picked mix by mix and merged."""

from collections.abc import Mapping
from dataclasses import dataclass

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from wtforms import HiddenField
from wtforms.validators import Regexp

from monreq.domain.band import Band
from monreq.domain.band_merged import merge
from monreq.domain.band_merging import Merging, MixSides, OtherFacts, Pair, Pick, compare
from monreq.domain.carry_refusals import ChangedMeanwhile, PickForEachMix
from monreq.domain.refusals import Refusal
from monreq.web import book_words, wording
from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.forms import SentOnceForm
from monreq.web.show_marks import PageOutOfDate
from monreq.web.speech import N_, _, listed, refusal_said
from monreq.web.submitting import of_band_form

blueprint = Blueprint("book_merging", __name__, url_prefix="/desk/books/<band>/merge/<other>")

_FACTS: Mapping[str, str] = {
    "name": N_("name"),
    "kind": N_("where from"),
    "is_stereo": N_("stereo"),
    "use": N_("what for"),
    "trim_tenths": N_("trim"),
    "is_acoustic": N_("acoustic pickup"),
    "is_lead": N_("lead singer"),
    "chair": N_("chair"),
    "output": N_("how it is heard"),
    "place": N_("place"),
    "is_fed_mono": N_("fed mono"),
    "taken_at": N_("where sends are taken"),
    "is_cut_by_mutes": N_("cut by mutes"),
    "has_limiter": N_("limiter"),
    "is_pack_low": N_("pack turned low"),
}


class MergeForm(SentOnceForm):
    """The picks, with the revisions of both evenings that the page showed."""

    ours = HiddenField(validators=[Regexp(r"[0-9]{1,9}\Z")])
    theirs = HiddenField(validators=[Regexp(r"[0-9]{1,9}\Z")])


@dataclass(frozen=True, slots=True)
class LineView:
    """One send in both evenings."""

    name: str
    ours: str
    theirs: str
    difference: str


@dataclass(frozen=True, slots=True)
class PairView:
    """What both evenings kept last of one mix, for the show or for one song."""

    title: str
    ours: str
    theirs: str
    lines: list[LineView]


@dataclass(frozen=True, slots=True)
class MixView:
    """One mix in both evenings, with the pick that was made."""

    id: str
    name: str
    needs_pick: bool
    picked: str
    pairs: list[PairView]


@blueprint.get("")
def show_both(band: str, other: str) -> ResponseReturnValue:
    """Show two evenings side by side."""
    desk_show()
    return _page(web().bands.get(band), web().bands.get(other))


@blueprint.post("")
def merge_both(band: str, other: str) -> ResponseReturnValue:
    """Merge them as picked: the first stays, with everything of both; the second goes."""
    show, form = desk_show(), MergeForm()
    submission = of_band_form(show.id, form)
    if web().bands.taken(submission) is not None:
        return _merged(web().bands.get(band))
    ours, theirs = web().bands.get(band), web().bands.get(other)
    try:
        if not form.validate():
            raise PageOutOfDate
        if (str(ours.revision), str(theirs.revision)) != (form.ours.data, form.theirs.data):
            raise ChangedMeanwhile
        merged = web().bands.put(merge(ours, theirs, _picks(ours, theirs)), ours.revision)
        web().bands.remove(theirs.id, theirs.revision, submission)
    except Refusal as refusal:
        flash(refusal_said(refusal))
        return _page(ours, theirs)
    return _merged(merged)


def _merged(band: Band) -> ResponseReturnValue:
    flash(_("Both evenings of %(name)s are one now.", name=band.name))
    return redirect(url_for("books.show_books"), 303)


def _picks(ours: Band, theirs: Band) -> dict[str, Pick]:
    """Return what was picked.

    Raises:
        PickForEachMix: A mix that differs was not picked.
    """
    picks = {}
    for one in compare(ours, theirs).mixes:
        picked = request.form.get(f"pick-{one.mix}", "")
        if one.needs_pick and picked not in list(Pick):
            raise PickForEachMix
        if one.needs_pick:
            picks[one.mix] = Pick(picked)
    return picks


def _page(ours: Band, theirs: Band) -> ResponseReturnValue:
    merging = compare(ours, theirs)
    return render_template(
        "books/merge.html",
        show=desk_show(),
        ours=ours,
        theirs=theirs,
        form=MergeForm(formdata=None, ours=ours.revision, theirs=theirs.revision),
        mixes=[_mix(one) for one in merging.mixes],
        told=_told(merging, ours, theirs),
    )


def _mix(one: MixSides) -> MixView:
    picked = request.form.get(f"pick-{one.mix}", "")
    return MixView(one.mix, one.name, one.needs_pick, picked, [_pair(pair) for pair in one.pairs])


def _pair(pair: Pair) -> PairView:
    return PairView(
        title=_("for the whole show") if pair.song is None else _("song %(song)s", song=pair.song),
        ours=pair.ours.name if pair.ours else "\N{EN DASH}",
        theirs=pair.theirs.name if pair.theirs else "\N{EN DASH}",
        lines=[
            LineView(
                line.name if line.source else _("output"),
                book_words.setting(line.ours, is_stereo=True),
                book_words.setting(line.theirs, is_stereo=True),
                wording.signed(line.difference_tenths) if line.difference_tenths else "",
            )
            for line in pair.lines
        ],
    )


def _told(merging: Merging, ours: Band, theirs: Band) -> list[str]:
    """Return what stands on one side only, or is described differently."""
    return [
        *(_("Only in %(band)s: %(name)s.", band=ours.name, name=name) for name in merging.only_ours),
        *(
            _("Only in %(band)s: %(name)s. It is added.", band=theirs.name, name=name)
            for name in merging.only_theirs
        ),
        *(_facts(one) for one in merging.facts),
        *(
            _("%(one)s and %(other)s may be the same: both are kept apart.", one=one, other=other)
            for one, other in merging.unsure
        ),
    ]


def _facts(one: OtherFacts) -> str:
    differing = listed(_(_FACTS.get(fact, fact)) for fact in one.differing)
    return _("%(name)s differs in: %(facts)s. The first evening's stays.", name=one.name, facts=differing)
