"""The JSON Schema of band books, as it lies in the package beside this file: `python -m monreq.books.schema` writes it."""

import json
from pathlib import Path
from typing import Final

from monreq.books.model import VERSION, BandBook

PATH: Final = Path(__file__).with_name(f"band-book-{VERSION}.schema.json")


def schema_text() -> str:
    """Return the schema as a file."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **BandBook.model_json_schema()}
    return json.dumps(schema, indent=2, sort_keys=True) + "\n"


if __name__ == "__main__":
    PATH.write_text(schema_text(), encoding="utf-8")
