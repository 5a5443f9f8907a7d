"""Where musicians would stand if nobody said: by the words of their mix's place, else side by side."""

import re
from collections.abc import Mapping
from typing import Final

from monreq.domain.show import Show
from monreq.domain.stage_plan import Spot, Standing

# chosen: a stage of 8 m by 5 m; "left" and "right" are the stage's own, seen towards the audience (common practice)
_ACROSS_CM: Final = {"left": 250, "right": -250, "centre": 0, "center": 0, "middle": 0}
_BACK_CM: Final = {"back": 400, "front": 100, "riser": 400}
_ROW_CM: Final = 250
_APART_CM: Final = 150


def spread(show: Show) -> Mapping[str, Standing]:
    """Return a standing for each musician who has none, facing the audience, no two at one spot."""
    taken = {standing.spot for standing in show.standings.values()}
    standings = {}
    for mix in show.mixes.values():
        for musician in mix.musicians:
            if musician not in show.standings and musician not in standings:
                spot = _free(_spot_of(mix.place), taken)
                taken.add(spot)
                standings[musician] = Standing(spot)
    for musician in show.musicians:
        if musician not in show.standings and musician not in standings:
            spot = _free(Spot(0, _ROW_CM), taken)
            taken.add(spot)
            standings[musician] = Standing(spot)
    return standings


def _spot_of(place: str) -> Spot:
    words = re.findall(r"\w+", place.casefold())
    across = next((_ACROSS_CM[word] for word in words if word in _ACROSS_CM), 0)
    back = next((_BACK_CM[word] for word in words if word in _BACK_CM), _ROW_CM)
    return Spot(across, back)


def _free(wanted: Spot, taken: set[Spot]) -> Spot:
    """Return the wanted spot or the nearest free one beside it, first towards the middle of the stage."""
    inwards = -1 if wanted.x_cm > 0 else 1
    steps = (step * side for step in range(len(taken) + 1) for side in (inwards, -inwards))
    spots = (Spot(wanted.x_cm + step * _APART_CM, wanted.y_cm) for step in steps)
    return next(spot for spot in spots if spot not in taken)
