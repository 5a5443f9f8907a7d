"""Phones on a bad Wi-Fi: slow, and cut in the middle of what is sent or answered; each ask arrives, and counts once."""

import threading
from pathlib import Path

import pytest
import requests

from monreq.cli import demo_show
from tests.support.bad_link import bad_link
from tests.support.monreq_process import PATIENCE_S, serving, token_in

pytestmark = pytest.mark.faults

SEED = 20261127
ASKS = 4
GIVES_UP_S = 1.0
PHONES = {"bass": "Bass", "drums": "Drums", "guitar": "Guitar"}


def ask_until_answered(url: str, mix: str, token: str, taken: dict[str, str], tries: list[str]) -> None:
    for number in range(ASKS):
        client_id = f"{mix}-{number}"
        body = {"client_id": client_id, "kind": "sound", "source": "kick", "words": f"{client_id} boomy"}
        while client_id not in taken:
            tries.append(client_id)
            try:
                answer = requests.post(
                    f"{url}/api/v1/mixes/{mix}/requests",
                    json=body,
                    headers={"Authorization": f"Bearer {token}"},
                    timeout=GIVES_UP_S,
                )
            except requests.RequestException:
                continue
            assert answer.ok, answer.text
            taken[client_id] = answer.json()["request"]


def test_asks_over_a_link_that_is_slow_and_cut_arrive_and_count_once(tmp_path: Path) -> None:
    taken: dict[str, str] = {}
    tries: list[str] = []
    with serving("demo", tmp_path / "data", len(demo_show.MIXES), "--still") as served:
        tokens = {mix: token_in(served.phones[name]) for mix, name in PHONES.items()}
        with bad_link(int(served.url.rpartition(":")[2]), SEED) as link:
            url = f"http://127.0.0.1:{link.port}"
            phones = [
                threading.Thread(target=ask_until_answered, args=(url, mix, token, taken, tries))
                for mix, token in tokens.items()
            ]
            for phone in phones:
                phone.start()
            for phone in phones:
                phone.join(PATIENCE_S)
        known = [
            entry["requests"][0]
            for mix, token in tokens.items()
            for entry in served.read(f"/mixes/{mix}/history", token)["entries"]
            if entry["what"] == "asked" and entry["requests"][0] in taken.values()
        ]
        waiting = sum(row["asked"] for row in served.read("/queue")["rows"])

    assert link.cuts > 0
    assert len(tries) > len(taken) == ASKS * len(PHONES)
    assert sorted(known) == sorted(taken.values())
    assert waiting == len(taken)
