"""The fields that hold the choices of taking a band over: written on one page, read on the next, kept in its form."""

from collections.abc import Mapping
from dataclasses import replace

from monreq.domain.band import Band
from monreq.domain.carry_choices import Choices, MixChoice, match_band, proposed
from monreq.domain.carry_conversion import Levels
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.domain.texts import NAME_LIMIT, clean
from monreq.web.figures import UnreadableLevel, read_level
from monreq.web.speech import refusal_said

NOT_SAID = "?"
FED_MONO = "fed_mono"
MATCHES = ("source-", "musician-", "deputy-", "mix-")
LEVELS = ("heard-", "kept-", "by-", "stands-", "output-", "click-")

_HEARD = {
    Output.WEDGE.value: (Output.WEDGE, False),
    Output.IN_EAR_PAIR.value: (Output.IN_EAR_PAIR, False),
    FED_MONO: (Output.IN_EAR_PAIR, True),
}

Fields = Mapping[str, str]


def heard(mix: Mix) -> str:
    """Return how a mix is heard, as its field says it."""
    return FED_MONO if mix.is_fed_mono else mix.output.value


def fields_of(pages: tuple[str, ...], fields: Fields) -> list[tuple[str, str]]:
    """Return the fields of some of these pages, so that the next page sends them on."""
    return [(name, value) for name, value in fields.items() if name.startswith(pages)]


def read_choices(band: Band, show: Show, fields: Fields) -> Choices:
    """Return what was chosen, with the levels that were typed; what was not said yet is as proposed.

    Raises:
        UnreadableLevel: A level is none; the sentence names the mix.
        FinerThanTenths: It is finer than a tenth of a dB.
        TextTooLong: A deputy's name is.
    """
    chosen = read_answers(band, show, fields)
    levels = {mix.id: _levels(mix, fields) for mix in band.mixes}
    typed = {mix: replace(choice, levels=levels[mix]) for mix, choice in chosen.mix_choices.items()}
    return replace(chosen, mix_choices=typed)


def read_answers(band: Band, show: Show, fields: Fields) -> Choices:
    """Return what was chosen but for the levels that were typed; what was not said yet is as proposed.

    Raises:
        TextTooLong: A deputy's name is.
    """
    start = proposed(band, show, match_band(band, show))
    return replace(
        start,
        sources=_answers("source-", start.sources, [one.id for one in band.sources], fields),
        musicians=_answers("musician-", start.musicians, [one.id for one in band.musicians], fields),
        mixes=_answers("mix-", start.mixes, [one.id for one in band.mixes], fields),
        deputies={
            one.id: clean(fields.get(f"deputy-{one.id}", start.deputies.get(one.id, "")), NAME_LIMIT)
            for one in band.musicians
        },
        mix_choices={mix.id: _mix(mix, start.mix_choices[mix.id], fields) for mix in band.mixes},
    )


def _answers(prefix: str, start: Mapping[str, str], known: list[str], fields: Fields) -> dict[str, str]:
    said = {one: fields.get(prefix + one, start.get(one, NOT_SAID)) for one in known}
    return {one: answer for one, answer in said.items() if answer != NOT_SAID}


def _mix(mix: Mix, start: MixChoice, fields: Fields) -> MixChoice:
    output, is_fed_mono = _HEARD.get(fields.get(f"heard-{mix.id}", ""), (start.output, start.is_fed_mono))
    return MixChoice(
        output=output,
        is_fed_mono=is_fed_mono,
        kept=fields.get(f"kept-{mix.id}", start.kept or "") or None,
    )


def _levels(mix: Mix, fields: Fields) -> Levels:
    source, stands = fields.get(f"by-{mix.id}", ""), _level(mix, fields.get(f"stands-{mix.id}", ""))
    return Levels(
        reference=(source, stands) if source and stands is not None else None,
        output_tenths=_level(mix, fields.get(f"output-{mix.id}", "")),
        takes_click=f"click-{mix.id}" in fields,
    )


def _level(mix: Mix, typed: str) -> int | None:
    if not typed.strip():
        return None
    try:
        return read_level(typed)
    except UnreadableLevel as unreadable:
        raise UnreadableLevel(
            "%(name)s: %(sentence)s", name=mix.name, sentence=refusal_said(unreadable)
        ) from unreadable
