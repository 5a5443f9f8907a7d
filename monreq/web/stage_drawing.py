"""The stage plan as a drawing: who and what stands where, seen from above, the audience at the bottom."""

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from monreq.domain.show import Show
from monreq.domain.stage_plan import Spot

_MARGIN_CM = 100  # chosen: room for a name around who stands at the edge
# chosen: a small stage, so that two people are not drawn as giants
_LEAST_SIDE_CM, _LEAST_DEPTH_CM = 400, 600
# chosen: who stands less than this before or behind another has a name at the same height
_SAME_ROW_CM = 60
_LEAST_ROOM_CM, _MOST_ROOM_CM = 60, 300
_BELOW_CM, _LINE_CM = 100, 24  # below somebody, and for each source beside them; as the page draws it
_LETTER_CM = 17  # chosen: as wide as a letter of the drawing's names on average


@dataclass(frozen=True, slots=True)
class Drawn:
    """A musician or a source at its own place, in the drawing's units: centimetres, y growing towards the audience.

    Attributes:
        field: The beginning of the names of its fields.
        facing_deg: As the stage plan has it; a drawing turns by it clockwise, because 0 faces down.
        sources: The names of what stands beside a musician.
        room: How wide the name may be, so that it meets no neighbour's. [cm]
    """

    field: str
    name: str
    x: int
    y: int
    facing_deg: int = 0
    sources: tuple[str, ...] = ()
    room: int = _MOST_ROOM_CM

    def cut(self, name: str) -> str:
        """Return a name as far as there is room for it."""
        widths = [2 if unicodedata.east_asian_width(one) in "WF" else 1 for one in name]
        room = self.room // _LETTER_CM
        if sum(widths) <= room:
            return name
        kept = [one for place, one in enumerate(name) if sum(widths[: place + 1]) < room]
        return "".join(kept).rstrip() + "\N{HORIZONTAL ELLIPSIS}"


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
        [_MARGIN_CM, *(one.y + _BELOW_CM + _LINE_CM * len(one.sources) for one in musicians + sources)]
    )
    return StageDrawing(
        left=-side,
        top=-back,
        width=2 * side,
        depth=back + below,
        front=0,
        metres=tuple(range(-(back // 100) * 100, 0, 100)),
        musicians=tuple(_roomy(musicians, (*musicians, *sources))),
        sources=tuple(_roomy(sources, (*musicians, *sources))),
        unplaced=tuple(show.musician_name(one) for one in show.musicians if one not in show.standings),
    )


def _roomy(some: Sequence[Drawn], everybody: Sequence[Drawn]) -> Iterator[Drawn]:
    """Give each as much room for its name as the nearest in its row leaves."""
    for one in some:
        apart = [
            abs(other.x - one.x)
            for other in everybody
            if other is not one and abs(other.y - one.y) < _SAME_ROW_CM
        ]
        yield replace(one, room=max(_LEAST_ROOM_CM, min([_MOST_ROOM_CM, *apart])))


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
