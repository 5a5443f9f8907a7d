"""`monreq serve`: the desk and the phones of the newest open show."""

import sys
import threading
import webbrowser
from collections.abc import Callable
from typing import Unpack

import click

from monreq.app import Monreq, build
from monreq.cli.log import set_up_log
from monreq.cli.options import serving_options, settings, told_in_one_line
from monreq.cli.server import listen, run_server
from monreq.cli.way_back import started_on
from monreq.config import Config, Overrides
from monreq.domain.show import Show
from monreq.services.next_show import begin_next
from monreq.storage.folder import DataFolder
from monreq.storage.held import served
from monreq.upkeep import SERVED_AT
from monreq.web.addresses import AddressError, base_url, desk_url, lan_addresses, port_of

_LEARNING_PAUSE_S = 0.05  # chosen: as long as a show takes to be read, so that half the time is for others


@click.command(epilog="Example: monreq serve --data ~/shows --port 8330")
@serving_options
def serve(*, no_browser: bool, **given: Unpack[Overrides]) -> None:
    """Serve the newest open show, or an empty one to prepare.

    Prints the desk's link and one link for every mix, then serves until Ctrl+C.
    """
    with told_in_one_line():
        config = settings(**given)
        DataFolder(config.data_dir).create()
        run(config, newest_open_show, opens_browser=not no_browser)


def run(
    config: Config,
    choose_show: Callable[[Monreq], Show],
    *,
    opens_browser: bool,
    beside: Callable[[Monreq, Show], None] = lambda _monreq, _show: None,
) -> None:
    """Serve a show until told to stop, holding the data folder.

    Args:
        config: The settings; the folder exists.
        choose_show: Returns the show to open.
        opens_browser: Whether to open the desk in this machine's browser.
        beside: Started once requests are answered; it returns at once.
    """
    set_up_log(sys.stderr)
    folder = DataFolder(config.data_dir)
    with (
        folder.hold(),
        listen(config.host, config.port) as listener,
        served(config.database_url, folder) as holding,
    ):
        port = listener.getsockname()[1]
        codes_url = base_url(config.host, port, config.address, lan_addresses())
        with started_on(config):
            monreq = build(
                config, codes_url, port_of(codes_url), _found_anew(config, port, codes_url), holding
            )
        try:
            show = choose_show(monreq)
            monreq.settings.put(SERVED_AT, codes_url)
        except BaseException:
            monreq.close()
            raise

        def ready() -> None:
            desk = monreq.link(show, None, desk_url(config.host, port))
            _print_links(monreq, show, desk)
            monreq.watching.start()
            monreq.socketio.start_background_task(
                monreq.shows.learn_open_ones,
                lambda: monreq.socketio.sleep(_LEARNING_PAUSE_S),  # type: ignore[arg-type]  # its stubs know no parts of a second
            )
            beside(monreq, show)
            if opens_browser:
                threading.Thread(target=webbrowser.open, args=(desk,), daemon=True).start()

        run_server(monreq.flask, monreq.socketio, listener, on_ready=ready, on_stop=monreq.close)


def _found_anew(config: Config, port: int, first: str) -> Callable[[], str]:
    def codes_url() -> str:
        try:
            return base_url(config.host, port, config.address, lan_addresses())
        except AddressError:
            return first

    return codes_url


def newest_open_show(monreq: Monreq) -> Show:
    """Return the newest open show; begin an empty one if there is none, and only one at all workers."""
    entries = monreq.shows.entries()
    open_ones = [entry for entry in entries if entry.is_open]
    if open_ones:
        return monreq.shows.state(open_ones[-1].id)
    show = begin_next(monreq.shows, monreq.show_id, entries[-1].id if entries else "")
    while not show.is_open:
        show = begin_next(monreq.shows, monreq.show_id, show.id)
    return show


def _print_links(monreq: Monreq, show: Show, desk: str) -> None:
    click.echo(f"desk: {desk}")
    for mix in show.mixes.values():
        click.echo(f"phone {mix.name}: {monreq.link(show, mix.id, monreq.codes_url)}")
    sys.stdout.flush()
