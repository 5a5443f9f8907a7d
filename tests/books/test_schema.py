"""The published JSON Schema: made from the models, valid itself, and true of every book, by a general validator."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given

from monreq.books.read import read_book
from monreq.books.schema import PATH, schema_text
from monreq.books.write import write_book
from monreq.domain.band import Band
from tests.support.strategies import BANDS

pytestmark = pytest.mark.external

SCHEMA = json.loads(PATH.read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
SAMPLES = sorted(Path(__file__).with_name("samples").glob("v1_*.json"))


def test_published_schema_is_what_the_models_say() -> None:
    """Source: the models; `python -m monreq.books.schema` writes it anew."""
    assert PATH.read_text(encoding="utf-8") == schema_text()


def test_schema_is_a_schema() -> None:
    """Source: JSON Schema, draft 2020-12, by jsonschema."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@given(BANDS)
def test_any_export_is_valid(band: Band) -> None:
    """Source: the same validator."""
    assert list(VALIDATOR.iter_errors(json.loads(write_book(band, 1_800_000_000_000)))) == []


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_sample_is_valid(path: Path) -> None:
    """Source: the same validator."""
    VALIDATOR.validate(json.loads(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    "change",
    [
        {"version": 2},
        {"format": "other"},
        {"band": None},
        {"colour": "amber"},
        {"exported_at": "yesterday"},
        {"band": {"id": "B!", "name": "x"}},
    ],
)
def test_what_monreq_refuses_the_schema_refuses_too(change: dict[str, Any], tmp_path: Path) -> None:
    """Source: the same validator."""
    book = {**json.loads(SAMPLES[0].read_text(encoding="utf-8")), **change}
    (tmp_path / "book.json").write_text(json.dumps(book), encoding="utf-8")

    assert not VALIDATOR.is_valid(book)
    with pytest.raises(Exception, match="band book"), (tmp_path / "book.json").open("rb") as file:
        read_book(file)
