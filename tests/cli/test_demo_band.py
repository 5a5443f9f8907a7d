"""The demo's band: stored, with kept mixes, and stored once however often the demo is started."""

from pathlib import Path

from monreq.cli import demo_band, demo_show
from monreq.cli.demo import begin
from monreq.domain.keeping_differences import since_kept
from tests.support import evening as evenings

SHOW = "demo"


def test_demo_band_is_stored_once_with_a_kept_mix_of_every_mix(tmp_path: Path) -> None:
    monreq = evenings.start(tmp_path / "data")
    try:
        show = begin(monreq.shows, SHOW)
        demo_band.store(monreq.bands, show)
        demo_band.store(monreq.bands, show)

        band = monreq.bands.get(show.band)
        assert [entry.name for entry in monreq.bands.entries()] == [demo_band.NAME]
        assert [one.mix for one in band.kept if one.song is None] == [mix.id for mix in demo_show.MIXES]
        assert [one.mix for one in band.kept if one.song == "lamp"] == ["lead", "drums"]
        assert all(since_kept(show, one.mix, one) for one in band.kept)
    finally:
        monreq.close()


def test_first_song_of_the_demo_has_nothing_kept_so_that_the_queue_is_empty(tmp_path: Path) -> None:
    monreq = evenings.start(tmp_path / "data")
    try:
        band = demo_band.band_of(begin(monreq.shows, SHOW))

        assert demo_band.SONGS[0].id not in {one.song for one in band.kept}
    finally:
        monreq.close()
