"""What to mind about a level at the ear, beside the figures at the desk."""

from collections.abc import Iterator

from monreq.domain.exposure import RuleName, time_factor
from monreq.domain.exposure_limits import EU_DAILY_VALUES, steady_ceiling
from monreq.domain.exposure_uncertainty import TYPED_LEVEL_DB
from monreq.domain.exposure_weekly import ADULTS_DBA, ALLOWANCE_H, CHILDREN_DBA
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.reckoned import plain
from monreq.web.speech import N_, _, decimal

ONE_EAR_DB = 6.0  # Handbook for Sound Engineers, 37.8.5: one earpiece alone is turned up by about as much

AFTERWARDS = N_("Ringing or dull ears afterwards: it was too loud. Stop, and see somebody about it.")
NO_PROTECTORS = N_("In-ears are no hearing protectors: they spare an ear only where they are set softer.")
WHOLE_SONG = N_("A level is the average of a whole song (LAeq) at the louder ear, not a glance at a meter.")
SECOND_SET = N_("The second set starts on the dose of the first.")


def cautions(show: Show, mix: Mix) -> Iterator[str]:
    """Give the cautions of a mix, in sentences."""
    yield _(
        "All of it is estimated from a figure that was typed in, and never a safety device. Local law and licensed "
        "practice come first."
    )
    yield _(
        "That figure may be off by %(off)s dB either way, most of all because one song is not another: hence the ranges.",
        off=plain(TYPED_LEVEL_DB),
    )
    yield _(AFTERWARDS)
    if any(not one.is_comparable for one in show.ear_levels.get(mix.id, ())):
        yield as_read()
    yield from of_rule(show.settings.exposure_rule)
    yield from _of_wedge() if mix.output is Output.WEDGE else _of_in_ears(show)
    if len(mix.musicians) > 1:
        yield _("Several share this mix: the level holds for the one it was measured at.")
    yield _(SECOND_SET)
    yield children()
    yield _(
        "Counted is every minute from the first level entered until the show is closed, gaps between songs too; what "
        "was heard before, or elsewhere today, comes on top. Click and talkback count."
    )


def as_read() -> str:
    """Return why a level read in a canal or coupler has no dose."""
    return _(
        "What is read in an ear canal or coupler is higher than the level of a free or diffuse field, which the rules "
        "mean: by nothing in the bass and up to 15 dB around 2.5 kHz, so by how much depends on the music. Have it "
        "converted band by band (ISO 11904) and enter that in its place; until then no dose and no time is told."
    )


def of_rule(rule: RuleName) -> Iterator[str]:
    """Give what one rule's figures must not be taken for."""
    limit = steady_ceiling(rule)
    if limit is not None:
        yield _(
            "OSHA's table ends at %(level)s: above it no time is permitted. OSHA protects least of these rules: its 2 h at "
            "100 dB(A) are eight days of NIOSH.",
            level=words.sound_level(limit.figure),
        )
    if rule == "eu":
        lower, upper, most = (words.sound_level(value.level_dba) for value in EU_DAILY_VALUES)
        yield _(
            "%(upper)s over 8 h is the upper action value: from there on hearing protectors are worn, so it is no level "
            "that is allowed. %(lower)s and %(upper)s count without protectors, the limit value of %(most)s with them; "
            "what protectors take off is not counted here.",
            lower=lower,
            upper=upper,
            most=most,
        )


def children() -> str:
    """Return what children may have less."""
    return _(
        "Children play too: a week's listening is %(hours)s h at %(children)s for them, not at %(adults)s.",
        hours=plain(ALLOWANCE_H),
        children=words.sound_level(CHILDREN_DBA),
        adults=words.sound_level(ADULTS_DBA),
    )


def _of_wedge() -> Iterator[str]:
    yield _("Only raises of the wedge count: what comes from the stage stays when it goes down.")


def _of_in_ears(show: Show) -> Iterator[str]:
    times = 1 / time_factor(ONE_EAR_DB, show.settings.exposure_rule)
    yield _("If the pack's volume and the playing are unchanged. Is the pack's limiter on, its volume low?")
    yield _(NO_PROTECTORS)
    yield _(
        "A meter held to an earpiece says nothing: it takes an ear simulator or coupler, or a probe in the ear canal."
    )
    yield _(
        "Never one earpiece only: the ear that stays is turned up by about %(up)s dB, which is %(times)s times "
        "the dose (%(rule)s), and the other hears the stage bare.",
        up=f"{ONE_EAR_DB:.0f}",
        times=decimal(f"{times:.1f}".removesuffix(".0")),
        rule=_(words.RULES[show.settings.exposure_rule]),
    )
