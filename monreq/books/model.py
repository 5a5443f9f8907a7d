"""What stands in a band book of the newest version: the JSON Schema in the package is made from these models."""

from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from monreq.books.values import Aux, Db, Degrees, Flag, Id, Metres, Name, Pan, Place, Time, Words
from monreq.domain.setup import Output, SourceKind, SourceUse, TakenAt

FORMAT: Final = "monreq-band-book"
VERSION: Final = 1

_Things: Final = Field(max_length=1000)  # chosen: five times the longest input list
_Kept: Final = Field(max_length=1000)  # chosen: as many as a band can have


class Part(BaseModel):
    """A JSON object with these fields and no others."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class BookSource(Part):
    """A named thing that can be in a mix."""

    id: Id
    name: Name
    kind: SourceKind
    use: SourceUse = SourceUse.MUSIC
    is_stereo: Flag = False
    trim_db: Db = 0.0
    is_acoustic: Annotated[
        Flag, Field(description="A pickup in a body that sounds: it can ring in a wedge.")
    ] = False


class BookGroup(Part):
    """Sources that are asked for together."""

    id: Id
    name: Name
    sources: Annotated[tuple[Id, ...], _Things]
    sub_mix: Annotated[Id | None, Field(description="The source that carries them all as one send.")] = None


class BookMusician(Part):
    """A chair of the band, who usually sits there, and who did instead."""

    id: Id
    name: Name
    is_lead: Flag = False
    chair: Words = ""
    deputy: Words = ""


class BookMix(Part):
    """What one musician, or several who share it, hear: its facts. Null is: nobody said."""

    id: Id
    name: Name
    output: Output
    musicians: Annotated[tuple[Id, ...], _Things] = ()
    place: Place = ""
    auxes: Annotated[tuple[Aux, ...], Field(max_length=2, description="On the desk of that evening.")] = ()
    is_fed_mono: Flag = False
    taken_at: TakenAt = TakenAt.PRE_FADER
    is_cut_by_mutes: Flag | None = None
    has_limiter: Flag | None = None
    is_pack_low: Flag | None = None


class BookSong(Part):
    """A song that mixes can be kept for."""

    id: Id
    name: Name


class BookStanding(Part):
    """Where a musician stands: x to the audience's right, y away from it; facing clockwise, 0 to the audience."""

    musician: Id
    x_m: Metres
    y_m: Metres
    facing_deg: Degrees = 0


class BookSourcePlace(Part):
    """Where a source stands: at a place of its own, or beside a musician."""

    source: Id
    x_m: Metres | None = None
    y_m: Metres | None = None
    beside: Id | None = None
    is_central: Flag = False


class BookStage(Part):
    """Who and what stands where."""

    musicians: Annotated[tuple[BookStanding, ...], _Things] = ()
    sources: Annotated[tuple[BookSourcePlace, ...], _Things] = ()


class BookOutput(Part):
    """Where the output of a kept mix stood."""

    level_db: Db
    is_on: Flag = True


class BookSend(Part):
    """Where a send of a kept mix stood; pan is 0 in a mono mix."""

    source: Id
    level_db: Db
    pan: Pan = 0.0
    is_on: Flag = True


class BookGain(Part):
    """How far a preamp had been turned in the show that a mix was kept in."""

    source: Id
    gain_db: Db


class BookKeptMix(Part):
    """A mix stored under a name, for the whole show (song null) or for one song."""

    id: Id
    mix: Id
    name: Name
    song: Id | None = None
    kept_at: Time
    show_name: Words = ""
    heard_as: Annotated[Output | None, Field(description="How it was heard then; null is: as now.")] = None
    was_fed_mono: Flag = False
    output: BookOutput
    sends: Annotated[tuple[BookSend, ...], _Things] = ()
    show: Annotated[Id | None, Field(description="The show that it was kept in; null is: nobody knows.")] = (
        None
    )
    gains: Annotated[tuple[BookGain, ...], _Things] = ()
    lowered_db: Annotated[Db, Field(description="How much lower than it stood the output was kept.")] = 0.0


class BookBand(Part):
    """A band: what stays the same from one show to the next."""

    id: Id
    name: Name
    sources: Annotated[tuple[BookSource, ...], _Things] = ()
    groups: Annotated[tuple[BookGroup, ...], _Things] = ()
    musicians: Annotated[tuple[BookMusician, ...], _Things] = ()
    mixes: Annotated[tuple[BookMix, ...], _Things] = ()
    songs: Annotated[tuple[BookSong, ...], _Things] = ()
    stage: BookStage = BookStage()
    kept_mixes: Annotated[tuple[BookKeptMix, ...], _Kept] = ()


class BandBook(Part):
    """The file that carries a band. It holds no code, passphrase or key."""

    format: Literal["monreq-band-book"]
    version: Literal[1]
    exported_at: Time
    band: BookBand
