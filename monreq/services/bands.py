"""Bands and their kept mixes: what one can do with them, each in one transaction."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from monreq.domain import keeping
from monreq.domain.band import Band
from monreq.domain.band_refusals import BandChangedSince, BandIdTaken, BandNameTaken, UnknownBand
from monreq.domain.line_up import with_line_up
from monreq.domain.refusals import SameIdOtherBody
from monreq.domain.show import Show
from monreq.domain.texts import clean_name
from monreq.services.band_ports import BandEntry, BandShelf, HeldShelf
from monreq.services.ports import Clock, Submission, Writer

Edit = Callable[[Band], Band]


class Bands:
    """All bands of this installation, and the way to change them.

    What changes a band takes `seen`, the revision that the desk was showing: of two desks one wins, and the other is
    told. What only adds takes none. A submission that was taken before is answered with the band as it is now.
    """

    def __init__(self, shelf: BandShelf, writer: Writer, clock: Clock, new_id: Callable[[], str]) -> None:
        self._shelf = shelf
        self._writer = writer
        self._clock = clock
        self._new_id = new_id

    def entries(self) -> list[BandEntry]:
        """Return all bands, the last written last."""
        return self._shelf.entries()

    def get(self, band: str) -> Band:
        """Return a band.

        Raises:
            UnknownBand: There is none of this id.
        """
        return _found(self._shelf.read(band))

    def begin(self, name: str, show: Show | None = None, submission: Submission | None = None) -> Band:
        """Begin a band, with a show's line-up or with none.

        Raises:
            NameRequired, TextTooLong: The name is none.
            BandNameTaken: Another band has it.
        """
        band = Band(self._new_id(), clean_name(name))
        return self.add(band if show is None else with_line_up(band, show), submission)

    def add(self, band: Band, submission: Submission | None = None) -> Band:
        """Add a band as it is, with its own id, revision and order.

        Raises:
            BandIdTaken, BandNameTaken: There is another one.
            TooManyKept: It has too many kept mixes.
        """

        def added(held: HeldShelf) -> Band:
            if held.read(band.id) is not None:
                raise BandIdTaken
            return self._put(held, replace(band, revision=max(1, band.revision)))

        return self._once(band.id, added, submission)

    def put(self, band: Band, seen: int, submission: Submission | None = None) -> Band:
        """Replace a band as a whole, for a book that is merged or taken in anew.

        Raises:
            UnknownBand: There is none of this id.
            BandChangedSince: It is not at the revision that was seen.
            BandNameTaken, TooManyKept: It cannot be stored so.
        """
        return self._change(band.id, lambda _: band, submission, seen)

    def rename(self, band: str, name: str, seen: int, submission: Submission | None = None) -> Band:
        """Give a band another name."""
        return self._change(band, lambda old: replace(old, name=name), submission, seen)

    def taken(self, submission: Submission) -> str | None:
        """Return the band that a submission was about, None if it was not taken before."""

        def found() -> str | None:
            with self._shelf.hold() as held:
                claimed = held.find(submission)
                return None if claimed is None else claimed.band

        return self._writer.run(found)

    def remove(self, band: str, seen: int, submission: Submission | None = None) -> None:
        """Take a band and all its kept mixes out for good.

        Raises:
            UnknownBand: There is none of this id.
            BandChangedSince: It is not at the revision that was seen.
        """

        def removed() -> None:
            with self._shelf.hold() as held:
                if submission is not None and held.find(submission) is not None:
                    return
                if _found(held.read(band)).revision != seen:
                    raise BandChangedSince
                held.remove(band)
                if submission is not None:
                    held.claim(submission, band)

        self._writer.run(removed)

    def take_over(self, band: str, show: Show, submission: Submission | None = None) -> Band:
        """Take a show's line-up over into a band; see `with_line_up`."""
        return self._change(band, lambda old: with_line_up(old, show), submission)

    def keep(
        self, band: str, show: Show, wanted: keeping.ToKeep, submission: Submission | None = None
    ) -> Band:
        """Keep mixes of a show; see `keeping.keep` for what is refused."""
        ids = [self._new_id() for _ in wanted.mixes]
        now_ms = self._clock()
        return self._change(band, lambda old: keeping.keep(old, show, wanted, ids, now_ms), submission)

    def rename_kept(
        self, band: str, kept: str, name: str, seen: int, submission: Submission | None = None
    ) -> Band:
        """Give a kept mix another name."""
        return self._change(band, lambda old: keeping.with_kept_renamed(old, kept, name), submission, seen)

    def remove_kept(
        self, band: str, kept: Sequence[str], seen: int, submission: Submission | None = None
    ) -> Band:
        """Take kept mixes out for good."""
        return self._change(band, lambda old: keeping.without_kept(old, kept), submission, seen)

    def _change(self, band: str, edit: Edit, submission: Submission | None, seen: int | None = None) -> Band:
        def changed(held: HeldShelf) -> Band:
            old = _found(held.read(band))
            if seen is not None and old.revision != seen:
                raise BandChangedSince
            new = replace(edit(old), revision=old.revision)
            return old if new == old else self._put(held, replace(new, revision=old.revision + 1))

        return self._once(band, changed, submission)

    def _once(self, band: str, do: Callable[[HeldShelf], Band], submission: Submission | None) -> Band:
        """Do something in one transaction, unless the submission says that it was done."""

        def done() -> Band:
            with self._shelf.hold() as held:
                claimed = None if submission is None else held.find(submission)
                if claimed is not None:
                    if claimed.submission != submission:
                        raise SameIdOtherBody
                    return _found(held.read(claimed.band))
                result = do(held)
                if submission is not None:
                    held.claim(submission, band)
                return result

        return self._writer.run(done)

    def _put(self, held: HeldShelf, band: Band) -> Band:
        stored = keeping.checked(band)
        names = {entry.name.casefold() for entry in held.entries() if entry.id != band.id}
        if stored.name.casefold() in names:
            raise BandNameTaken
        held.put(stored, self._clock())
        return stored


def _found(band: Band | None) -> Band:
    if band is None:
        raise UnknownBand
    return band
