"""Where the command monreq begins: makes the runtime ready before anything else is imported."""

import sys
from io import TextIOWrapper

from monreq.config import AsyncMode, ConfigError, load_async_mode


def main() -> None:
    """Run the command line."""
    try:
        prepare_runtime(load_async_mode())
    except ConfigError as error:
        sys.exit(f"monreq: {error}")
    from monreq.cli.commands import run  # noqa: PLC0415 - must come after the patching

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a name may hold what a terminal cannot show
    sys.exit(run())


def prepare_runtime(mode: AsyncMode) -> None:
    """Make the standard library cooperative where gevent runs the requests."""
    if mode == "gevent":
        from gevent import monkey  # noqa: PLC0415 - not wanted in the other mode

        monkey.patch_all()
        # Engine.IO would take this abandoned package, if it is installed, and then need its server.
        sys.modules["geventwebsocket"] = None  # type: ignore[assignment]  # None forbids an import
