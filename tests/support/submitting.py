"""Submits to a show from a process of its own: python -m tests.support.submitting URL SHOW NAME COUNT.

Each submission that was taken is told in a line: its client id and its revision. A COUNT of 0 is without end.
"""

import sys
from itertools import count, islice

from monreq.domain import commands as c
from monreq.domain.setup import Musician
from monreq.services.ports import Submission
from monreq.services.shows import Receipt, Shows
from monreq.storage.open import open_storage

MUSICIANS = 20


def open_show(shows: Shows, show_id: str) -> None:
    """Open a show that can be submitted to."""
    shows.open(show_id, c.OpenShow("Evening"))


def submit(shows: Shows, show_id: str, client_id: str) -> Receipt:
    """Submit what belongs to a client id; always the same."""
    number = int(client_id.rpartition("-")[2])
    command = c.PutMusician(Musician(f"m{number % MUSICIANS}", client_id))
    return shows.submit(show_id, command, Submission("desk", client_id, client_id))


def main() -> None:
    url, show_id, name, how_many = sys.argv[1:]
    storage = open_storage(url, "threading", may_write=True)
    shows = Shows(storage.log, storage.writer, lambda: 0, lambda _: None)
    for number in islice(count(), int(how_many) or None):
        client_id = f"{name}-{number}"
        receipt = submit(shows, show_id, client_id)
        sys.stdout.write(f"{client_id} {receipt.revision}\n")
        sys.stdout.flush()
    storage.close()


if __name__ == "__main__":
    main()
