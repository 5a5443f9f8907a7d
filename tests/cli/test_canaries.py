"""A whole small evening with secrets that are known, which are then looked for wherever they must not be."""

import base64
import re
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field

import pytest
import requests

from tests.support.monreq_process import PATIENCE_S, Served, monreq, serving, token_in
from tests.support.started_commands import MIXES

pytestmark = pytest.mark.security

PASSPHRASE = "canary kettle on the moon"
GUESSED = "canary guessed and wrong"
WORDS = "canary words of a musician"
_HIDDEN = re.compile(r'name="(csrf_token|show)"[^>]*value="([^"]+)"')
_SHORT = re.compile(r"\b[a-km-np-z2-9]{4}-[a-km-np-z2-9]{4}\b")


@dataclass
class Evening:
    """What was secret, and what everybody else got to see.

    Attributes:
        shown: Pages and answers, by who saw them.
    """

    served: Served
    secrets: dict[str, str] = field(default_factory=dict)
    shown: dict[str, str] = field(default_factory=dict)
    errors: str = ""


class Browser:
    """One browser with its cookie."""

    def __init__(self, served: Served) -> None:
        self._session, self._url = requests.Session(), served.url

    def get(self, path: str) -> str:
        return self._session.get(self._url + path, timeout=PATIENCE_S).text

    def send(self, path: str, on: str | None = None, **fields: str) -> requests.Response:
        """Send a form with what the page that it stands on hides in it."""
        hidden = dict(_HIDDEN.findall(self.get(on or path)))
        assert "csrf_token" in hidden, f"no form on {on or path}"
        data = {**hidden, "client_id": "canary", **fields}
        return self._session.post(self._url + path, data=data, timeout=PATIENCE_S)

    def cookie(self) -> str:
        (kept,) = self._session.cookies.get_dict().values()
        return str(kept)


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory) -> Evening:
    folder = tmp_path_factory.mktemp("canaries") / "data"
    with serving("demo", folder, len(MIXES), "--still") as served:
        evening = Evening(served)
        _play(evening)
        backup = monreq("backup", folder.parent / "evening.backup", "--data", folder)
        assert backup.code == 0, backup.errors
        book = monreq("book", "export", folder.parent / "evening.book", "--data", folder)
        assert book.code == 0, book.errors
        evening.shown["the commands"] = backup.output + backup.errors + book.output + book.errors
        evening.errors = served.stop().errors
    return evening


def _play(evening: Evening) -> None:
    served = evening.served
    desk, bass, horns, late = (Browser(served) for _ in range(4))
    desk.send(f"/j/{served.desk_token}")
    bass_token, horns_token = token_in(served.phones["Bass"]), token_in(served.phones["Horns"])
    bass.send(f"/j/{bass_token}")
    horns.send(f"/j/{horns_token}", musician="trumpet")
    codes = desk.get("/desk/codes")
    desk.send("/desk/codes/passphrase", on="/desk/codes", passphrase=PASSPHRASE)
    late.send("/desk/enter", passphrase=GUESSED)
    late.send("/desk/enter", passphrase=PASSPHRASE)
    Browser(served).send("/", code="aaaa-bbbb")
    bass.send("/mix/bass", do="sound-own:bass", words=WORDS, amount="some")
    served.api("/mixes/bass/requests", bass_token, {"client_id": "a", "kind": "level", "change_db": 3})
    desk.send("/desk/codes/replace/horns", on="/desk/codes")
    evening.secrets = {
        "the desk's token": served.desk_token,
        **{f"the token of {name}": token_in(link) for name, link in served.phones.items()},
        **{f"short code {number}": code for number, code in enumerate(dict.fromkeys(_SHORT.findall(codes)))},
        "the passphrase": PASSPHRASE,
        "a guessed passphrase": GUESSED,
        "the desk's cookie": desk.cookie(),
        "the bass player's cookie": bass.cookie(),
    }
    assert len([name for name in evening.secrets if name.startswith("short code")]) >= len(MIXES)
    evening.shown |= _seen_by_others(served, bass, horns)


def _seen_by_others(served: Served, bass: Browser, horns: Browser) -> dict[str, str]:
    token = served.desk_token
    refused: Mapping[str, requests.Response] = {
        "a foreign host": requests.get(
            f"{served.url}/j/{token}", headers={"Host": f"{token}.example"}, timeout=PATIENCE_S
        ),
        "a foreign page": requests.post(
            f"{served.url}/j/{token}", headers={"Origin": f"http://{token}.example"}, timeout=PATIENCE_S
        ),
        "a form without its token": requests.post(f"{served.url}/j/{token}", timeout=PATIENCE_S),
        "a wrong method": requests.put(f"{served.url}/j/{token}", timeout=PATIENCE_S),
        "a wrong place": requests.get(f"{served.url}/nowhere/{token}", timeout=PATIENCE_S),
        "a wrong token": served.api("/queue", token[:-1] + "_"),
        "too much": requests.post(f"{served.url}/j/{token}", data=b"x" * 100_000, timeout=PATIENCE_S),
    }
    seen = {name: answer.text for name, answer in refused.items() if name != "a foreign host"}
    seen["the bass player's page"] = bass.get("/mix/bass")
    seen["the bass player's places"] = bass.get("/mix/bass/places")
    seen["a replaced phone's page"] = horns.get("/mix/horns")
    seen["health"] = Browser(served).get("/healthz")
    seen["the interface's answers"] = served.api("/queue", token).text + served.api("/mixes", token).text
    return seen


def spellings(secret: str) -> set[bytes]:
    """The secret as it is, and its MAC alone, which would do."""
    return {
        secret.encode(),
        *([secret.partition(".")[2].encode()] if re.search(r"\.[\w-]{22}$", secret) else []),
    }


def test_nothing_that_was_written_down_holds_a_secret(evening: Evening) -> None:
    folder = evening.served.folder
    files = [file for file in folder.parent.rglob("*") if file.is_file()]

    found = [
        (name, file.name)
        for file in files
        for name, secret in evening.secrets.items()
        for spelling in spellings(secret)
        if spelling in file.read_bytes()
    ]

    assert {"monreq.sqlite", "evening.backup", "evening.book"} <= {file.name for file in files}
    assert found == []


def test_the_key_is_in_its_own_file_and_nowhere_else(evening: Evening) -> None:
    folder = evening.served.folder
    key = (folder / "key").read_bytes().strip()
    spelled = {
        key,
        key.hex().encode(),
        base64.b64encode(key).rstrip(b"="),
        base64.urlsafe_b64encode(key).rstrip(b"="),
    }
    files = [file for file in folder.parent.rglob("*") if file.is_file()]

    holding = {file.name for file in files if any(one in file.read_bytes() for one in spelled)}

    assert len(key) >= 32
    assert holding == {"key"}


def test_the_log_holds_no_secret_and_no_words_of_people(evening: Evening) -> None:
    secrets = {**evening.secrets, "words": WORDS}

    found = [
        name
        for name, secret in secrets.items()
        for one in spellings(secret)
        if one.decode() in evening.errors
    ]

    assert "refused the unknown host" in evening.errors
    assert found == []


def test_no_page_of_others_and_no_refusal_holds_a_secret(evening: Evening) -> None:
    found = [
        (who, name)
        for who, text in evening.shown.items()
        for name, secret in evening.secrets.items()
        for spelling in spellings(secret)
        if spelling.decode() in text
    ]

    assert len(evening.shown) >= 10
    assert found == []


def test_the_evening_did_happen(evening: Evening) -> None:
    with sqlite3.connect(f"file:{evening.served.folder / 'monreq.sqlite'}?mode=ro", uri=True) as database:
        dumped = "\n".join(database.iterdump())
    database.close()

    assert WORDS in dumped
    assert "$argon2id$" in dumped
    assert WORDS in evening.shown["the bass player's page"]
