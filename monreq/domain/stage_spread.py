"""Where musicians would stand if nobody said: by the words of their mix's place, else side by side."""

import re
from collections.abc import Mapping
from itertools import count
from typing import Final

from monreq.domain.show import Show
from monreq.domain.stage_plan import Spot, Standing

# chosen: a stage of 8 m by 5 m; left and right are the stage's own, seen towards the audience (common practice).
# What people write in the languages of the pages: from memory.
_ACROSS_CM: Final = {
    word: across_cm
    for across_cm, words in (
        (250, "left links izquierda gauche cour esquerda 左 上手 يسار اليسار"),
        (-250, "right rechts derecha droite jardin direita 右 下手 يمين اليمين"),
        (0, "centre center middle mitte centro medio milieu meio 中央 真ん中 وسط الوسط"),
    )
    for word in words.split()
}
_BACK_CM: Final = {
    word: back_cm
    for back_cm, words in (
        (400, "back riser hinten podest atrás fondo tarima fond arrière fundo praticável 後 奥 خلف الخلف"),
        (100, "front vorn vorne delante frente avant devant 前 أمام الأمام"),
    )
    for word in words.split()
}
# Japanese puts no space between words.
_WORD: Final = re.compile(r"上手|下手|中央|真ん中|[左右前後奥]|[^\W左右前後奥上下中央真]+")
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
    words = _WORD.findall(place.casefold())
    across = next((_ACROSS_CM[word] for word in words if word in _ACROSS_CM), 0)
    back = next((_BACK_CM[word] for word in words if word in _BACK_CM), _ROW_CM)
    return Spot(across, back)


def _free(wanted: Spot, taken: set[Spot]) -> Spot:
    """Return the wanted spot or the nearest free one beside it, first towards the middle of the stage."""
    inwards = -1 if wanted.x_cm > 0 else 1
    steps = (step * side for step in count() for side in (inwards, -inwards))
    spots = (Spot(wanted.x_cm + step * _APART_CM, wanted.y_cm) for step in steps)
    return next(spot for spot in spots if spot not in taken)
