"""Keeps a database of this version for ever, as SQL: python -m tests.support.keep_schema, before a schema is released.

The file is named by the schema's version and opened by tests/storage/test_schemas.py.
"""

import sqlite3
import sys
import tempfile
from contextlib import closing
from pathlib import Path

from monreq.app import Monreq
from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from monreq.services.ports import Submission
from tests.support import evening as evenings

SCHEMAS = Path(__file__).parents[1] / "storage" / "schemas"


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "data"
        monreq = evenings.start(folder)
        evenings.set_up(monreq)
        play(monreq)
        monreq.bands.begin("The kept ones", monreq.shows.state(evenings.SHOW))
        monreq.settings.put("wifi_network", "Stage")
        monreq.close()
        version, sql = dumped(folder / "monreq.sqlite")
    SCHEMAS.mkdir(exist_ok=True)
    (SCHEMAS / f"{version}.sql").write_text(sql, encoding="utf-8")
    sys.stdout.write(f"{SCHEMAS / version}.sql\n")


def play(monreq: Monreq) -> None:
    """Leave requests in every state."""
    evening = evenings.Evening(monreq)
    for number, tenths in enumerate((30, 30, -10)):
        command = c.AskForLevel("front", None, "voice", tenths)
        monreq.shows.submit(evenings.SHOW, command, Submission("front", f"ask-{number}", f"print-{number}"))
    answered = list(evening.show.open_requests)
    evening.do(c.Answer(tuple(answered), Outcome.DONE))
    evening.ask("ears", "drums", 20, "bass")
    evening.do(c.AskForLevel("ears", "bass", "drums", -20, None))
    refused = evening.ask("side", "harp", -30)
    evening.do(c.Answer((refused,), Outcome.NOT_DONE, reason="after_this_song"))
    evening.ask("side", None, 10)


def dumped(path: Path) -> tuple[str, str]:
    """Return a database's version, and all of it as SQL."""
    with closing(sqlite3.connect(path)) as connection:
        version = connection.execute("SELECT version_num FROM alembic_version").fetchone()[0]
        mark = connection.execute("PRAGMA application_id").fetchone()[0]
        lines = "\n".join(connection.iterdump())
    return str(version), f"PRAGMA application_id={mark};\n{lines}\n"


if __name__ == "__main__":
    main()
