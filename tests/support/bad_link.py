"""A relay that stands for a bad Wi-Fi: what passes waits at random, and a connection now and then ends in the middle."""

import random
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress

LONGEST_WAIT_S = 0.6
CUT_OF = 0.25
"""Of what passes, how much ends its connection instead."""


class BadLink:
    """Listens on a port of its own, and leads to another.

    Attributes:
        cuts: How many connections it ended.
    """

    def __init__(self, to_port: int, chance: random.Random) -> None:
        self._to_port, self._chance = to_port, chance
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = int(self._listener.getsockname()[1])
        self.cuts = 0

    def run(self) -> None:
        """Pass on until closed."""
        with suppress(OSError):
            while True:
                near, _ = self._listener.accept()
                far = socket.create_connection(("127.0.0.1", self._to_port))
                threading.Thread(target=self._carry, args=(near, far), daemon=True).start()

    def close(self) -> None:
        with suppress(OSError):
            self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()

    def _carry(self, near: socket.socket, far: socket.socket) -> None:
        with closing(near), closing(far):
            back = threading.Thread(target=self._pass_on, args=(far, near), daemon=True)
            back.start()
            self._pass_on(near, far)
            back.join()

    def _pass_on(self, source: socket.socket, target: socket.socket) -> None:
        with suppress(OSError):
            while chunk := source.recv(65536):
                time.sleep(self._chance.uniform(0, LONGEST_WAIT_S))
                if self._chance.random() < CUT_OF:
                    self.cuts += 1
                    break
                target.sendall(chunk)
        for one in (source, target):
            with suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)


@contextmanager
def bad_link(to_port: int, seed: int) -> Iterator[BadLink]:
    """Have a bad link at hand until the block ends."""
    link = BadLink(to_port, random.Random(seed))
    passing = threading.Thread(target=link.run)
    passing.start()
    try:
        yield link
    finally:
        link.close()
        passing.join()
