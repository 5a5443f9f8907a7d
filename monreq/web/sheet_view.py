"""What the printed sheets of a show say: the input list, and the mixes as tables, each line in words."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from monreq.domain.setup import Mix, Setting, Source, SourceUse
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.mix_cautions import standing_cautions
from monreq.web.speech import _, listed

MIXES_ABREAST = 6  # chosen: so many columns of levels stay legible on a portrait page


@dataclass(frozen=True, slots=True)
class SheetView:
    """One table of a sheet.

    Attributes:
        about: Lines above the table.
        rows: Each as many cells as `head`; the first names what the row is about.
    """

    title: str
    about: tuple[str, ...]
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def show_sheets(show: Show) -> list[SheetView]:
    """Return the sheets of a whole show: inputs, all mixes side by side, and each mix alone."""
    return [
        _input_list(show),
        *_all_mixes(show),
        *(mix_sheet(show, mix) for mix in show.mixes),
    ]


def mix_sheet(show: Show, mix: str) -> SheetView:
    """Return the sheet of one mix, as its musician takes it home.

    Raises:
        UnknownMix: There is no such mix.
    """
    facts = show.mix(mix)
    output = show.levels[mix].output.setting
    return SheetView(
        title=facts.name,
        about=tuple(_about(show, facts, output)),
        head=(_("source"), _("level"), _("pan")) if facts.is_stereo else (_("source"), _("level")),
        rows=tuple(
            (
                source.name,
                _level(position.setting),
                *([wording.pan(position.setting.pan_percent)] * facts.is_stereo),
            )
            for source, position in show.sends_in_order(mix)
        ),
    )


def _about(show: Show, mix: Mix, output: Setting) -> Iterator[str]:
    who = listed(show.musician_name(one) for one in mix.musicians)
    yield listed(
        part for part in (show.name, who, wording.mix_kind(mix), mix.place, wording.auxes(mix)) if part
    )
    yield _("output %(level)s dB", level=wording.level(output.level_tenths))
    yield from standing_cautions(mix)


def _input_list(show: Show) -> SheetView:
    return SheetView(
        title=_("Input list"),
        about=(show.name,),
        head=(_("number"), _("source"), _("where from"), _("marks")),
        rows=tuple(
            (
                str(number),
                source.name,
                _(wording.SOURCE_KINDS[wording.source_kind(source)]),
                listed(_marks(show, source)),
            )
            for number, source in enumerate(show.sources.values(), 1)
        ),
    )


def _marks(show: Show, source: Source) -> Iterable[str]:
    if source.is_stereo:
        yield _("stereo")
    if source.use is not SourceUse.MUSIC:
        yield _(wording.SOURCE_USES[source.use])
    if source.trim_tenths:
        yield _("trim %(figure)s dB", figure=wording.signed(source.trim_tenths))
    yield from (group.name for group in show.groups.values() if source.id in group.sources)


def _all_mixes(show: Show) -> Iterator[SheetView]:
    mixes = list(show.mixes.values())
    for first in range(0, len(mixes), MIXES_ABREAST):
        abreast = mixes[first : first + MIXES_ABREAST]
        yield SheetView(
            title=_("Mixes"),
            about=(show.name, _("Levels in dB; behind a level the pan, L to the left and R to the right.")),
            head=(_("source"), *(mix.name for mix in abreast)),
            rows=(
                (
                    _("output"),
                    *(wording.level(show.levels[mix.id].output.setting.level_tenths) for mix in abreast),
                ),
                *(
                    (source.name, *(_cell(show, mix, source) for mix in abreast))
                    for source in show.sources.values()
                ),
            ),
        )


def _cell(show: Show, mix: Mix, source: Source) -> str:
    position = show.levels[mix.id].at(source.id)
    if position is None:
        return ""
    pan = position.setting.pan_percent
    side = f" {'L' if pan < 0 else 'R'}{abs(pan)}" if mix.is_stereo and pan and position.setting.is_on else ""
    return _level(position.setting) + side


def _level(setting: Setting) -> str:
    return wording.level(setting.level_tenths) if setting.is_on else _("off")
