"""How much a row's waiting counts in the gap plan: more for each further ask, and more the longer it waits."""

import math

from monreq.domain.plan_refusals import BadCount, BadTime

PER_FURTHER_ASK = 0.5
"""Chosen: who asks twice is not twice as badly off."""

MOST_ASKS = 5
"""Chosen: beyond that a thumb pressed in anger would outweigh everybody else on stage."""

MOST_DOUBLINGS = 20
"""Chosen: a row that waited for twenty songs is a million times as heavy; more would change no order."""

LONGEST_WAIT_S = 1e7
"""Chosen: nothing waits for months. [s]"""

HEAVIEST_FRESH = 1 + PER_FURTHER_ASK * (MOST_ASKS - 1)
"""The most that a row can weigh when it is asked."""


def weight(asks: int, waited_s: float, *, round_s: float) -> float:
    """Return the weight of a row.

    It is 1 for a first ask, half as much again for each further one up to five, and doubles with every round that
    the row has waited. So a row asked once weighs more than any row that is just being asked after two rounds
    (2 doublings make 4, a row just asked weighs at most 3), and more than any row asked within the last round after
    three. Doubling is chosen: in simulated evenings slower growth spared a fiftieth of the mean waiting and made the
    longest longer. How long it takes to bring a row into the gap, `gaps_until_done` tells.

    Args:
        asks: How often it was asked, at least once.
        waited_s: Since its oldest open request. [s]
        round_s: A song and the gap after it, above zero. [s]

    Raises:
        BadCount: The row was not asked once.
        BadTime: A time is negative, not finite, absurd, or a round takes none.
    """
    if asks < 1:
        raise BadCount
    if not (0 <= waited_s <= LONGEST_WAIT_S and 0 < round_s <= LONGEST_WAIT_S):
        raise BadTime
    of_asking = 1 + PER_FURTHER_ASK * (min(asks, MOST_ASKS) - 1)
    return float(of_asking * 2 ** min(waited_s / round_s, MOST_DOUBLINGS))


def gaps_until_done(*, move_s: float, setup_s: float, song_s: float, others: int) -> int:
    """Return after how many gaps, at most, a row is not put off any more by rows asked since the gap before.

    The bound is that of an exact plan in which all moves take the same time and in which the row fits into the gap on
    its own. If it were put off, it could be worked first instead. It would save a song. The others would be delayed
    by its move and two set-ups, d = p + 2 s; at most d / p + 1 of them, those that end in the last d of the gap,
    would be put off. A row asked within the last round weighs less than W = 2 * 3. So once 2^k exceeds
    W (d / p + 1) + W n d / T, putting it off is dearer, and no best plan does it.

    With a move of 4 s, a set-up of 6 s, a song of 240 s and 50 others this is 6 gaps.

    Args:
        move_s: What a move takes, above zero. [s]
        setup_s: What going to another mix takes. [s]
        song_s: A song, above zero. [s]
        others: How many other rows wait.
    """
    if others < 0:
        raise BadCount
    if not (0 < move_s < math.inf and 0 <= setup_s < math.inf and 0 < song_s < math.inf):
        raise BadTime
    heaviest = 2 * HEAVIEST_FRESH
    delay_s = move_s + 2 * setup_s
    outweighed = heaviest * (delay_s / move_s + 1) + heaviest * others * delay_s / song_s
    return math.floor(math.log2(outweighed)) + 1
