"""Bands as they are stored: a band's line-up and a kept mix's levels are JSON texts, which must be readable for ever."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from cattrs import Converter
from cattrs.errors import ClassValidationError

from monreq.domain.band import Band, KeptMix

_CONVERTER: Final = Converter()
_BAND_COLUMNS: Final = frozenset({"id", "name", "revision", "kept"})
_KEPT_COLUMNS: Final = ("id", "mix", "name", "kept_at_ms", "song", "show_name")


class UnreadableBand(Exception):  # noqa: N818 - said to a person; the name says what is wrong
    """A stored band that this version of monreq cannot read; its text is one sentence."""


def encode_band(band: Band) -> dict[str, Any]:
    """Return a band's columns; every field of the body is written, so that a later default changes nothing."""
    fields = _CONVERTER.unstructure(band)
    body = {name: value for name, value in fields.items() if name not in _BAND_COLUMNS}
    return {"id": band.id, "name": band.name, "revision": band.revision, "body": _text(body)}


def decode_band(row: Mapping[Any, Any], kept: Sequence[KeptMix]) -> Band:
    """Return a stored band. Fields that its body lacks take their defaults; fields that are not known are ignored.

    Raises:
        UnreadableBand: The body does not fit.
    """
    columns = {name: row[name] for name in ("id", "name", "revision")}
    band: Band = _structured(row["body"], columns, Band)
    return replace(band, kept=tuple(kept))


def encode_kept(kept: KeptMix) -> dict[str, Any]:
    """Return a kept mix's columns."""
    fields = _CONVERTER.unstructure(kept)
    body = {name: value for name, value in fields.items() if name not in _KEPT_COLUMNS}
    return {**{name: fields[name] for name in _KEPT_COLUMNS}, "body": _text(body)}


def decode_kept(row: Mapping[Any, Any]) -> KeptMix:
    """Return a stored kept mix.

    Raises:
        UnreadableBand: The body does not fit.
    """
    columns = {name: row[name] for name in _KEPT_COLUMNS}
    kept: KeptMix = _structured(row["body"], columns, KeptMix)
    return kept


def _text(body: dict[str, Any]) -> str:
    return json.dumps(body, separators=(",", ":"))


def _structured(body: str, columns: dict[str, Any], kind: type[Any]) -> Any:
    try:
        return _CONVERTER.structure({**json.loads(body), **columns}, kind)
    except (ClassValidationError, ValueError, TypeError) as error:
        raise UnreadableBand(
            f"The stored band or mix {columns['name']!r} is damaged: {body[:80]!r}."
        ) from error
