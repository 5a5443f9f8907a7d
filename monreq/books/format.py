"""The format of band books as the pages know it: what they can read and write, without knowing how."""

from typing import IO

from monreq.books.read import LARGEST_BYTES, read_book
from monreq.books.write import write_book
from monreq.domain.band import Band


class BookFormat:
    """Reads and writes band books."""

    largest_bytes = LARGEST_BYTES

    def read(self, file: IO[bytes]) -> Band:
        """Return the band of a book; see `read_book` for what is refused."""
        return read_book(file)

    def write(self, band: Band, now_ms: int) -> bytes:
        """Return a band's book, exported at a time. [ms since 1970, UTC]."""
        return write_book(band, now_ms)
