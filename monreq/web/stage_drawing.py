"""The stage plan as a drawing: who and what stands where, seen from above, the audience at the bottom."""

from dataclasses import dataclass

from monreq.domain.show import Show
from monreq.domain.stage_plan import Spot
from monreq.web.stage_names import LINE_CM, Drawn, roomy

_MARGIN_CM = 100  # chosen: room for a name around who stands at the edge
# chosen: a small stage, so that two people are not drawn as giants
_LEAST_SIDE_CM, _LEAST_DEPTH_CM = 400, 600
_BELOW_CM = 100  # below somebody, as the page draws it


@dataclass(frozen=True, slots=True)
class StageDrawing:
    """A stage to be drawn.

    Attributes:
        left, top, width, depth: What the drawing shows. [cm]
        front: Where the front edge is. [cm]
        metres: Where lines a metre apart are drawn, from the back to the front edge. [cm]
        unplaced: The names of musicians who stand nowhere yet.
    """

    left: int
    top: int
    width: int
    depth: int
    front: int
    metres: tuple[int, ...]
    musicians: tuple[Drawn, ...]
    sources: tuple[Drawn, ...]
    unplaced: tuple[str, ...]


def stage_drawing(show: Show) -> StageDrawing:
    """Return the drawing of a show's stage; nobody needs to stand anywhere yet."""
    spots = [one.spot for one in show.standings.values()]
    spots += [place.spot for source in show.sources if (place := show.place_of(source)).spot is not None]
    side = max([_LEAST_SIDE_CM, *(abs(spot.x_cm) + _MARGIN_CM for spot in spots)])
    back = max([_LEAST_DEPTH_CM, *(spot.y_cm + _MARGIN_CM for spot in spots)])
    musicians, sources = _musicians(show), _sources(show)
    below = max(
        [_MARGIN_CM, *(one.y + _BELOW_CM + LINE_CM * len(one.sources) for one in musicians + sources)]
    )
    return StageDrawing(
        left=-side,
        top=-back,
        width=2 * side,
        depth=back + below,
        front=0,
        metres=tuple(range(-(back // 100) * 100, 0, 100)),
        musicians=tuple(roomy(musicians, (*musicians, *sources), side)),
        sources=tuple(roomy(sources, (*musicians, *sources), side)),
        unplaced=tuple(show.musician_name(one) for one in show.musicians if one not in show.standings),
    )


def _musicians(show: Show) -> list[Drawn]:
    return [
        Drawn(
            f"musician-{musician}",
            show.musician_name(musician),
            *_drawn(standing.spot),
            standing.facing_deg,
            tuple(
                source.name for source in show.sources.values() if show.place_of(source.id).beside == musician
            ),
            is_musician=True,
        )
        for musician, standing in show.standings.items()
        if musician in show.musicians
    ]


def _sources(show: Show) -> list[Drawn]:
    return [
        Drawn(f"source-{source.id}", source.name, *_drawn(place.spot))
        for source in show.sources.values()
        if (place := show.place_of(source.id)).spot is not None
    ]


def _drawn(spot: Spot) -> tuple[int, int]:
    return spot.x_cm, -spot.y_cm
