"""Feedback: how far a wedge's microphones can still be raised, and what a plan of the stage promises before it stands.

All of it is an indicator and not a promise. It takes microphones and loudspeakers without direction, a flat response,
microphones of equal gain, and unity loop gain as the limit; a cardioid's null, a wedge's aim and EQ move the truth by
many dB. The figures of the reading come from a person at the desk.
"""

import math
from collections.abc import Iterable, Mapping
from enum import StrEnum

from monreq.domain import plausible
from monreq.domain.decibels import power_ratio, power_sum
from monreq.domain.distances import level_change
from monreq.domain.refusals import NothingMeasured

RESERVE_DB = 3.0  # chosen: a wedge rings on within about 3 dB of onset (common practice, no source)
LOW_MARGIN_DB = (
    6.0  # Handbook for Sound Engineers, eq. 34-21: systems are run 6 dB below the onset of feedback
)
_A_HAIR = 1e-9  # a margin of nought is a loop that rings


class MarginCaution(StrEnum):
    """What to mind about a margin, worst first."""

    NOT_MEASURED = "not_measured"
    STALE = "stale"
    AT_RESERVE = "at_reserve"
    LOW = "low"


def open_mic_penalty(n: int) -> float:
    """Return what n open microphones, set equally, cost in gain before feedback. [dB].

    Raises:
        NoOpenMics: There is not at least one, or more than 1000, or the number is not whole.

    References:
        Number of open microphones: 10 lg(n), Handbook for Sound Engineers, ch. 34.
    """
    return 10 * math.log10(plausible.open_mics(n))


def margin_after(
    margin_db: float,
    send_change_db: float,
    output_change_db: float = 0,
    open_before: int = 1,
    open_after: int = 1,
) -> float:
    """Return what is left of a margin that was read at soundcheck.

    Args:
        margin_db: How far the microphone could be raised in this wedge before it rang. [dB]
        send_change_db: Change of its send since the reading, raises of its preamp that were not compensated with it. [dB]
        output_change_db: Change of the wedge's output since. [dB]
        open_before: Open microphones at the reading.
        open_after: Open microphones now. Fewer give back in the equal case alone; to count on none of that, pass at
            least `open_before`.

    Returns:
        The margin left, negative where it would ring. [dB]

    Raises:
        NotAFigure, BeyondBelief: A level is not finite, or beyond 120 dB.
        NoOpenMics: A number of microphones is not a whole number from 1 to 1000.
    """
    spent = plausible.db(send_change_db) + plausible.db(output_change_db)
    more_open = open_mic_penalty(open_after) - open_mic_penalty(open_before)
    return plausible.db(margin_db) - spent - more_open


def combined_margin(margins: Iterable[float]) -> float:
    """Return the margin of several microphones that were each read alone, open together: an indicator.

    Args:
        margins: The margin of each. [dB]

    Returns:
        The margin of all, raised together; below the least of them. [dB]

    Raises:
        NotAFigure, BeyondBelief: A margin is not finite, or beyond 120 dB.
        NothingMeasured: There is none.

    References:
        Loop gains of unrelated paths add as powers: -10 lg(sum of 10^(-m/10)); for equal ones m - 10 lg(n).
    """
    closeness = [-margin for margin in plausible.all_db(margins)]
    if not closeness:
        raise NothingMeasured
    return -power_sum(closeness)


def loop_gains(read: Mapping[str, tuple[float, int]]) -> dict[str, float]:
    """Return what each microphone's loop brings, from how far each alone could be raised before it rang.

    Args:
        read: By microphone its margin [dB], and how many were open when it was read, itself too.

    Returns:
        By microphone a power, 1 where it rings by itself. Of those read with others open, the others are taken to be
        those that were read so too: what was open besides, nobody knows, and is taken for nothing, which makes the loops of
        those that were read as large as they can be.

    Raises:
        NotAFigure, BeyondBelief: A margin is not finite, or beyond 120 dB.

    References:
        Raised by its margin m the sum of all loops is 1: g 10^(m/10) + G - g = 1, so that g = (1 - G) / (10^(m/10) - 1),
        and with S the sum of 1 / (10^(m/10) - 1) over all of them G = S / (1 + S). Read alone it is g = 10^(-m/10).
    """
    shares = {
        one: 1 / max(power_ratio(plausible.db(margin)) - 1, _A_HAIR)
        for one, (margin, mics) in read.items()
        if mics > 1
    }
    rest = 1 / (1 + math.fsum(shares.values()))
    return {
        one: shares[one] * rest if one in shares else power_ratio(-plausible.db(margin))
        for one, (margin, _) in read.items()
    }


def usable_raise(margin_db: float, reserve_db: float = RESERVE_DB) -> float:
    """Return how far a suggestion may go up without going into the reserve; 0 at the reserve and below. [dB].

    Raises:
        NotAFigure, BeyondBelief: A figure is not finite, or beyond 120 dB.
    """
    return max(0.0, plausible.db(margin_db) - plausible.db(reserve_db))


def caution(
    margin_db: float | None, *, is_stale: bool = False, reserve_db: float = RESERVE_DB
) -> MarginCaution | None:
    """Return what to mind about a margin.

    Args:
        margin_db: What is left of it; None if it was not measured. [dB]
        is_stale: Whether EQ, microphone, wedge or a position changed since the reading.
        reserve_db: What is kept free. [dB]

    Returns:
        The gravest caution; None where there is none.

    Raises:
        NotAFigure, BeyondBelief: A figure is not finite, or beyond 120 dB.
    """
    if margin_db is None:
        return MarginCaution.NOT_MEASURED
    if is_stale:
        return MarginCaution.STALE
    if usable_raise(margin_db, reserve_db) == 0:
        return MarginCaution.AT_RESERVE
    return MarginCaution.LOW if margin_db < LOW_MARGIN_DB else None


def potential_gain(  # noqa: PLR0913 - four lengths and three conditions, each with a name of its own
    *,
    talker_to_mic_m: float,
    talker_to_listener_m: float,
    mic_to_speaker_m: float,
    speaker_to_listener_m: float,
    open_mics: int = 1,
    stability_margin_db: float = LOW_MARGIN_DB,
    critical_distance_m: float | None = None,
) -> float:
    """Return how much louder a system can make a talker for a listener before feedback: a planning figure.

    Authors number the four lengths differently; here they go by what they join.

    Args:
        talker_to_mic_m: From mouth to microphone, Ds in the formula. [m]
        talker_to_listener_m: From mouth to the listener, D0. [m]
        mic_to_speaker_m: From microphone to loudspeaker, D1. [m]
        speaker_to_listener_m: From loudspeaker to the listener, D2. [m]
        open_mics: Open microphones, set equally.
        stability_margin_db: What is kept free of feedback. [dB]
        critical_distance_m: Where direct and room sound are equal, indoors; None for the free field. [m]

    Returns:
        The potential acoustic gain. [dB]

    Raises:
        NotAFigure, NoDistance, BeyondBelief, NoOpenMics: A figure is none that can occur.

    References:
        PAG = 20 lg(D0 D1 / (Ds D2)) - 10 lg(NOM) - FSM, Handbook for Sound Engineers, ch. 34, eqs 34-5 and 34-21 to 34-24.
    """
    gain = _gain_between(talker_to_mic_m, talker_to_listener_m, critical_distance_m) + _gain_between(
        speaker_to_listener_m, mic_to_speaker_m, critical_distance_m
    )
    return gain - open_mic_penalty(open_mics) - plausible.db(stability_margin_db)


def needed_gain(
    *, talker_to_listener_m: float, as_near_as_m: float, critical_distance_m: float | None = None
) -> float:
    """Return how much louder a listener needs a talker to be, to hear them as if they stood nearer. [dB].

    A system can work where `potential_gain` is at least this.

    Args:
        talker_to_listener_m: From mouth to the listener, D0 in the formula. [m]
        as_near_as_m: The distance at which a voice is heard well unaided, EAD. [m]
        critical_distance_m: Where direct and room sound are equal, indoors; None for the free field. [m]

    Raises:
        NotAFigure, NoDistance: A distance is not finite, not above zero, or farther than 10 km.

    References:
        NAG = 20 lg(D0 / EAD), Handbook for Sound Engineers, ch. 34, eq. 34-8.
    """
    return _gain_between(as_near_as_m, talker_to_listener_m, critical_distance_m)


def _gain_between(near_m: float, far_m: float, critical_distance_m: float | None) -> float:
    """Return how far a level falls from near to far; indoors the room's own sound fills it up. [dB]."""
    in_the_open = -level_change(near_m, far_m)
    if critical_distance_m is None:
        return in_the_open
    squared = plausible.distance_m(critical_distance_m) ** 2
    return in_the_open - 10 * math.log10((squared + far_m**2) / (squared + near_m**2))
