"""Runs the web server: listens, serves until told to stop, and stops in good order."""

import errno
import logging
import signal
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from queue import Empty, SimpleQueue
from types import FrameType
from typing import Any, Final

from flask import Flask
from flask_socketio import SocketIO

from monreq.cli.connections import MOST, RESERVE, Connections
from monreq.cli.runtimes import Running, runtime

if sys.platform != "win32":
    import resource

LOG = logging.getLogger(__name__)

_BACKLOG: Final = 1024  # chosen: every phone of a large stage reconnects in the same second
_GRACE_S: Final = 3.0  # chosen: with what follows, a stop takes no more than five seconds
_GOODBYE_S: Final = 0.1  # chosen: enough for the last packets to leave, if they can at all
_LOOK_S: Final = 0.5  # Windows delivers no signal during a wait without end
ENOUGH_FILES: Final = 1000  # chosen: two for each live connection that there may be, and room
OPEN_FILES: Final = 8192  # chosen: two for each of 1,000 live connections, and room


class ServerError(Exception):
    """A server that cannot run; its text is one sentence."""


class PortTaken(ServerError):  # noqa: N818 - the name already says what is wrong
    """Somebody listens on the port."""


def listen(host: str, port: int) -> socket.socket:
    """Bind and listen.

    Args:
        host: An IP address or name; 0.0.0.0 for all of IPv4, :: for all there is.
        port: The TCP port; 0 lets the system choose, and the socket tells which.

    Raises:
        PortTaken: Somebody has it.
        ServerError: If the address cannot be had.
    """
    try:
        family, _, _, _, place = socket.getaddrinfo(host or None, port, type=socket.SOCK_STREAM)[0]
        both = host == "::" and socket.has_dualstack_ipv6()
        return socket.create_server(place, family=family, backlog=_BACKLOG, dualstack_ipv6=both)
    except OSError as error:
        kind = PortTaken if error.errno == errno.EADDRINUSE else ServerError
        raise kind(_why_not(error, host, port)) from error


def run_server(
    app: Flask,
    socketio: SocketIO,
    listener: socket.socket,
    *,
    on_ready: Callable[[], None],
    on_stop: Callable[[], None],
) -> None:
    """Serve until the process is told to stop by SIGTERM or Ctrl+C.

    Then nothing new is accepted, live connections are closed, what runs is waited for, and
    on_stop is called. A second signal ends the process at once.

    Args:
        app: The application with all its wrappers.
        socketio: Its Socket.IO server, whose async_mode says what runs the requests.
        listener: A socket from listen().
        on_ready: Called once requests are answered.
        on_stop: Called when no request runs any more; it must be quick.

    Raises:
        ServerError: If the application is in debug mode.
    """
    if app.debug:
        raise ServerError("Debug mode is on, and monreq does not serve with it: unset FLASK_DEBUG.")
    running = Running()
    files = allow_open_files()
    if files < ENOUGH_FILES:
        LOG.warning(
            "only %d files may be open at once, and phones would be refused: raise it (ulimit -n)", files
        )
    open_ones = Connections(min(MOST, files - RESERVE))
    server = runtime(_live_server(socketio).async_mode, listener, app, running, open_ones)
    try:
        with _stop_signals() as asked:
            server.start()
            open_ones.watch()
            on_ready()
            _wait(asked)
        server.close()
        _close_live(socketio)
        if not running.wait_until_none(_GRACE_S):
            LOG.warning("stopped while requests were still being answered")
    finally:
        open_ones.stop()
        on_stop()


@contextmanager
def _stop_signals() -> Iterator[SimpleQueue[int]]:
    asked: SimpleQueue[int] = SimpleQueue()

    # A queue, because it may be used from inside a signal handler, and an event may not.
    def ask(number: int, _frame: FrameType | None) -> None:
        asked.put(number)

    names = ("SIGINT", "SIGTERM", "SIGBREAK")
    numbers = [getattr(signal, name) for name in names if hasattr(signal, name)]
    before = {number: signal.signal(number, ask) for number in numbers}
    try:
        yield asked
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _wait(asked: SimpleQueue[int]) -> None:
    while True:
        try:
            asked.get(timeout=_LOOK_S)
        except Empty:
            continue
        return


# Engine.IO's own way to close all waits for each phone in turn, and one of them may be asleep.
def _close_live(socketio: SocketIO) -> None:
    for client in list(_live_server(socketio).eio.sockets.values()):
        client.close(wait=False)
    _live_server(socketio).sleep(_GOODBYE_S)


# The published types leave this attribute out.
def _live_server(socketio: SocketIO) -> Any:
    untyped: Any = socketio
    return untyped.server


def allow_open_files() -> int:
    """Let this process open as many files as it may, up to what it can use; returns how many."""
    if sys.platform == "win32":
        return OPEN_FILES
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = OPEN_FILES if hard == resource.RLIM_INFINITY else min(hard, OPEN_FILES)
    if soft == resource.RLIM_INFINITY or soft >= wanted:
        return OPEN_FILES if soft == resource.RLIM_INFINITY else soft
    resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
    return wanted


def _why_not(error: OSError, host: str, port: int) -> str:
    if error.errno == errno.EADDRINUSE:
        return (
            f"Port {port} is taken: another program listens on it, so stop that one "
            "or choose another port with --port."
        )
    if error.errno == errno.EACCES:
        return f"Port {port} is not allowed for this user: choose one from 1024 up with --port."
    if error.errno == errno.EADDRNOTAVAIL or isinstance(error, socket.gaierror):
        return f"This machine has no address {host!r} to listen on: see --host."
    return f"Cannot listen on {host!r}, port {port}: {error.strerror}."
