"""Ten shows in a row: what one evening ends with does not make the next begin louder."""

from monreq.domain import carry_commands as k
from monreq.domain import song_commands as so
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from tests.support.guarded_bounds import ears
from tests.support.stage import Stage, small_stage

SHOWS = 10

Kept = dict[str | None, Setting]


def evening(settings: Kept | None) -> Stage:
    """Play one show in which everybody always wants more, from the in-ear mix as it was kept."""
    stage = small_stage()
    if settings is not None:
        stage.do(k.CarryLevels("ears", tuple(settings.items())))
    stage.mark()
    for song in range(12):
        for source in (None, "voice", "drums", "click"):
            stage.ask("ears", source, 60, ("bass", "drummer")[song % 2])
        for row in stage.rows:
            stage.done(*(request.id for request in row.requests))
        stage.do(so.BeginSong())
        stage.wait(240)
        stage.do(so.BeginGap())
    return stage


def loudest(show: Show) -> float:
    return ears(show.levels["ears"], show.gains)


def kept(show: Show) -> Kept:
    levels = show.levels["ears"]
    return {None: levels.output.setting, **{one: there.setting for one, there in levels.sends.items()}}


def test_ten_shows_kept_as_at_the_mark_never_end_above_the_first_evenings_bound() -> None:
    began = loudest(small_stage().show)
    settings: Kept | None = None

    for _ in range(SHOWS):
        show = evening(settings).show
        assert loudest(show) <= began * 10**0.6 * (1 + 1e-6)
        marked = show.mark or {}
        levels = marked["ears"]
        settings = {None: levels.output.setting, **{one: at.setting for one, at in levels.sends.items()}}


def test_no_evening_of_ten_goes_up_by_more_than_its_bound_wherever_it_began() -> None:
    settings: Kept | None = None

    for _ in range(SHOWS):
        stage = evening(settings)
        began = (stage.show.mark or {})["ears"]
        assert loudest(stage.show) <= ears(began, stage.show.marked_gains) * 10**0.6 * (1 + 1e-6)
        settings = kept(stage.show)
