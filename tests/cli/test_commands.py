"""The commands as a person starts them: real processes, their output, their exit codes."""

import signal
import socket
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import click
import pypdfium2
import pytest
import requests

from monreq.cli import demo_show
from monreq.cli.commands import cli, run
from monreq.config import Config
from monreq.domain.commands import OpenShow, PutMix, PutMusician
from monreq.domain.setup import Mix, Output
from tests.support import evening as evenings
from tests.support.codes import codes_in
from tests.support.monreq_process import Ended, Served, monreq, serving, token_in

MIXES = [mix.name for mix in demo_show.MIXES]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A still demo that several tests look at; none changes it."""
    folder = tmp_path_factory.mktemp("demo")
    with serving("demo", folder, len(MIXES), "--still") as served:
        yield served


Command = Callable[..., Ended]


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Runs a command in this process, which spares the start of one."""

    def run_here(*words: str | Path, **environ: str) -> Ended:
        for name, value in {**environ, "MONREQ_ASYNC_MODE": "threading"}.items():
            monkeypatch.setenv(name, value)
        monkeypatch.setattr(sys, "argv", ["monreq", *map(str, words)])
        code = run()
        return Ended(*capsys.readouterr(), code)

    return run_here


def show_on(folder: Path, name: str, *, is_demo: bool = False) -> None:
    """Leave a show in a folder, as another evening would."""
    monreq = evenings.start(folder)
    monreq.shows.open("old1", OpenShow(name, is_demo))
    monreq.close()


# serve


def test_serve_on_an_empty_folder_leads_to_an_empty_prepare_page_until_told_to_stop(tmp_path: Path) -> None:
    with serving("serve", tmp_path / "new", 0) as served:
        browser = requests.Session()
        page = browser.get(served.desk, timeout=30)
        token = page.text.partition('name="csrf_token"')[2].partition('value="')[2].partition('"')[0]
        answer = browser.post(page.url, data={"csrf_token": token}, timeout=30)

        assert answer.url == f"{served.url}/desk/prepare"
        assert [one.status_code for one in answer.history] == [303, 303]
        assert served.read("/show")["name"] == "New show"
        assert served.stop() == Ended("", "", 0)


def test_serve_opens_the_newest_open_show_until_interrupted(tmp_path: Path) -> None:
    show_on(tmp_path, "Last night")

    with serving("serve", tmp_path, 0) as served:
        show = served.read("/show")
        ended = served.stop(signal.SIGINT)

    assert (show["show"], show["name"]) == ("old1", "Last night")
    assert (ended.output, ended.errors, ended.code) == ("", "", 0)


def test_serve_refuses_a_folder_in_use_in_one_sentence(demo: Served) -> None:
    ended = monreq("serve", "--data", demo.folder, "--host", "127.0.0.1", "--port", "0", "--no-browser")

    assert (ended.output, ended.code) == ("", 1)
    assert ended.errors == f"monreq: Another monreq is using this folder: {demo.folder}.\n"


def test_restart_keeps_links_and_what_was_asked(tmp_path: Path) -> None:
    with serving("demo", tmp_path, len(MIXES), "--still") as served:
        token = token_in(served.phones["Bass"])
        body = {"client_id": "once", "kind": "level", "source": "kick", "amount": "some", "direction": "more"}
        asked = served.api("/mixes/bass/requests", token, body)
        served.stop()

    with serving("serve", tmp_path, len(MIXES)) as again:
        (row,) = again.read("/queue")["rows"]
        replayed = again.api("/mixes/bass/requests", token, body)

        assert token_in(again.desk) == served.desk_token
        assert {name: token_in(link) for name, link in again.phones.items()} == {
            name: token_in(link) for name, link in served.phones.items()
        }
        assert (row["mix"], row["source"], row["sum_db"], row["asked"]) == ("bass", "kick", 3, 1)
        assert (asked.status_code, replayed.status_code) == (201, 200)
        assert replayed.json() == asked.json()


def test_serve_prints_names_that_the_terminal_cannot_show(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    show_on(folder, "Evening")
    _add_mix(folder, "Čelo \N{CJK UNIFIED IDEOGRAPH-97F3}")

    with serving("serve", folder, 1, PYTHONIOENCODING="latin-1") as served:
        assert list(served.phones) == [r"\u010celo \u97f3"]


def _add_mix(folder: Path, name: str) -> None:
    other = evenings.start(folder)
    other.shows.submit("old1", PutMix(Mix("celo", name, Output.WEDGE, ())))
    other.close()


# demo


def test_demo_prints_the_desk_and_every_mix(demo: Served) -> None:
    assert list(demo.phones) == MIXES
    assert len(MIXES) == 6


def test_still_demo_has_an_empty_queue(demo: Served) -> None:
    assert demo.read("/queue")["rows"] == []


@pytest.mark.parametrize("mix", demo_show.MIXES, ids=lambda mix: mix.id)
def test_demo_links_open_mixes_with_six_sends_below_zero(demo: Served, mix: Mix) -> None:
    found = demo.read(f"/mixes/{mix.id}", token_in(demo.phones[mix.name]))

    levels = [send["level_db"] for send in found["sends"] if send["level_db"] is not None]
    assert found["mix_name"] == mix.name
    assert sum(level < 0 for level in levels) >= 6


def test_demo_with_phones_stops_well_while_they_ask(tmp_path: Path) -> None:
    with serving("demo", tmp_path / "new", len(MIXES)) as served:
        assert served.read("/show")["is_demo"] is True

        ended = served.stop()

    assert (ended.output, ended.errors, ended.code) == ("", "", 0)


def test_demo_goes_on_in_a_folder_of_a_demo(tmp_path: Path) -> None:
    show_on(tmp_path, "Rehearsal", is_demo=True)

    with serving("demo", tmp_path, 0, "--still") as served:
        assert served.read("/show")["name"] == "Rehearsal"


def test_demo_that_was_killed_while_it_set_up_begins_afresh(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    cut_off = evenings.start(folder)
    cut_off.shows.open("cut1", demo_show.opening())
    cut_off.shows.submit("cut1", PutMusician(demo_show.MUSICIANS[0]))
    cut_off.shows.submit("cut1", PutMix(demo_show.MIXES[0]))
    cut_off.close()

    with serving("demo", folder, len(MIXES), "--still") as served:
        assert list(served.phones) == MIXES


@pytest.mark.parametrize("content", ["a show", "a file"])
def test_demo_refuses_a_folder_of_something_else(here: Command, tmp_path: Path, content: str) -> None:
    if content == "a show":
        show_on(tmp_path, "Real evening")
    else:
        (tmp_path / "letter.txt").write_text("Dear all", encoding="utf-8")
    before = sorted(tmp_path.iterdir())

    ended = here("demo", "--data", tmp_path, "--host", "127.0.0.1", "--port", "0", "--no-browser")

    assert ended.code == 1
    assert ended.output == ""
    assert ended.errors == f"monreq: {tmp_path} is neither empty nor a demo's folder: choose another.\n"
    assert sorted(tmp_path.iterdir()) == before


def test_demo_refuses_a_database_of_real_shows_elsewhere(here: Command, tmp_path: Path) -> None:
    show_on(tmp_path / "real", "Real evening")
    url = Config.from_environment({}, data_dir=tmp_path / "real").database_url

    ended = here("demo", "--host", "127.0.0.1", "--port", "0", "--no-browser", MONREQ_DATABASE_URL=url)

    assert (ended.output, ended.code) == ("", 1)
    assert ended.errors.count("\n") == 1
    assert "shows that are no demo's" in ended.errors


# token


@pytest.mark.parametrize("mix", demo_show.MIXES[:2], ids=lambda mix: mix.id)
def test_token_of_a_mix_by_id_and_by_name(here: Command, demo: Served, mix: Mix) -> None:
    by_id, by_name = (here("token", one, "--data", demo.folder) for one in (mix.id, mix.name))

    assert by_id.output == by_name.output == token_in(demo.phones[mix.name]) + "\n"
    assert (by_id.errors, by_id.code) == ("", 0)


def test_token_of_the_desk(here: Command, demo: Served) -> None:
    assert here("token", "desk", "--data", demo.folder).output == demo.desk_token + "\n"


def test_token_is_told_by_a_process_of_its_own(demo: Served) -> None:
    ended = monreq("token", "Lead voice", "--data", demo.folder)

    assert ended == Ended(token_in(demo.phones["Lead voice"]) + "\n", "", 0)


def test_token_of_an_unknown_mix_lists_those_there_are(here: Command, demo: Served) -> None:
    ended = here("token", "kazoo", "--data", demo.folder)

    assert (ended.output, ended.code) == ("", 1)
    assert ended.errors == (
        "monreq: There is no mix 'kazoo'. Mixes here: lead (Lead voice), bass (Bass), horns (Horns), "
        "drums (Drums), accord (Accordion), guitar (Guitar).\n"
    )


def test_token_of_an_unknown_show_lists_those_there_are(here: Command, demo: Served) -> None:
    show = demo.read("/show")["show"]

    ended = here("token", "desk", "--data", demo.folder, "--show", "none")

    assert ended.code == 1
    assert ended.errors == f"monreq: There is no show none. Shows here: {show} ({demo_show.NAME}).\n"


def test_token_beside_nothing_makes_nothing(here: Command, tmp_path: Path) -> None:
    ended = here("token", "desk", "--data", tmp_path / "none")

    assert (ended.output, ended.code, ended.errors.count("\n")) == ("", 1, 1)
    assert not (tmp_path / "none").exists()


# cards


def test_cards_beside_a_running_server_carry_its_links(here: Command, demo: Served, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"

    ended = here("cards", out, "--data", demo.folder)

    assert (ended.errors, ended.code) == ("", 0)
    assert ended.output == f"6 mixes, codes to {demo.url}: {out}\n"
    assert set(_codes_of(out)) == set(demo.phones.values())
    assert len(_codes_of(out)) == 7  # two of the seven musicians share a mix


def test_cards_carry_another_address_if_told(here: Command, demo: Served, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"

    here("cards", out, "--data", demo.folder, "--address", "stage.example:9000")

    assert {link.partition("/j/")[0] for link in _codes_of(out)} == {"http://stage.example:9000"}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("{tmp}/none/cards.pdf",), "cannot be written: No such file or directory."),
        (("{tmp}/cards.pdf", "--address", "http://"), "is not a host, host:port or http(s) URL."),
    ],
)
def test_cards_that_cannot_be_made_are_told_in_one_line(
    here: Command, demo: Served, tmp_path: Path, words: tuple[str, ...], says: str
) -> None:
    given = [word.format(tmp=tmp_path) for word in words]

    ended = here("cards", *given, "--data", demo.folder)

    assert (ended.output, ended.code, ended.errors.count("\n")) == ("", 1, 1)
    assert ended.errors.rstrip().endswith(says)
    assert list(tmp_path.iterdir()) == []


def _codes_of(pdf: Path) -> list[str]:
    with pypdfium2.PdfDocument(pdf.read_bytes()) as document:
        pictures = [page.render(scale=3).to_pil().convert("L") for page in document]
    return [text for picture in pictures for text in codes_in(picture) if not text.startswith("WIFI:")]


# check


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])


def test_check_of_a_ready_machine(here: Command, demo: Served) -> None:
    ended = here(
        "check", "--data", demo.folder, "--port", str(free_port()), "--address", "192.0.2.7",
        MONREQ_HOST="127.0.0.1",
    )  # fmt: skip

    lines = ended.output.splitlines()
    assert [line.partition(":")[0] for line in lines] == [
        "ok  address",
        "ok  port",
        "ok  disk",
        "ok  database",
        "ok  clock",
    ]
    assert f"database: 1 show in {demo.folder}" in ended.output
    assert (ended.errors, ended.code) == ("", 0)


def test_check_of_a_machine_that_is_not_ready(here: Command, tmp_path: Path) -> None:
    (tmp_path / "key").write_text("not a key", encoding="ascii")
    (tmp_path / "key").chmod(0o600)
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = str(other.getsockname()[1])

        ended = here(
            "check", "--data", tmp_path, "--port", port, "--address", "not an address",
            MONREQ_HOST="127.0.0.1",
        )  # fmt: skip

    assert [line[:12].strip() for line in ended.output.splitlines() if line.startswith("BAD")] == [
        "BAD address:",
        "BAD port: Po",
        "BAD database",
    ]
    assert f"Port {port} is taken" in ended.output
    assert (ended.errors, ended.code) == ("", 1)


def test_check_makes_nothing(here: Command, tmp_path: Path) -> None:
    ended = here(
        "check", "--data", tmp_path / "none", "--port", str(free_port()), "--address", "192.0.2.7",
        MONREQ_HOST="127.0.0.1",
    )  # fmt: skip

    assert "ok  database: none yet" in ended.output
    assert ended.code == 0
    assert not (tmp_path / "none").exists()


# All of them.


@pytest.mark.parametrize("name", cli.commands)
def test_every_command_has_help_with_an_example(name: str) -> None:
    command = cli.commands[name]

    text = command.get_help(click.Context(command, info_name=f"monreq {name}"))

    assert f"Example: monreq {name}" in text
    assert "--data" in text


def test_an_error_of_a_process_is_one_line() -> None:
    ended = monreq("juggle")

    assert ended == Ended("", "monreq: No such command 'juggle'. See: monreq --help\n", 2)


def test_help_is_told_and_ends_well(here: Command) -> None:
    ended = here("serve", "--help")

    assert (ended.errors, ended.code) == ("", 0)
    assert "Example: monreq serve" in ended.output


@pytest.mark.parametrize(
    ("words", "says", "code"),
    [
        (("token",), "Missing argument 'desk|MIX'. See: monreq token --help", 2),
        (("serve", "--port", "x"), "'x' is not a valid integer range. See: monreq serve --help", 2),
        (("serve", "--data", "{file}"), "'{file}' is a file. See: monreq serve --help", 2),
        (("serve", "--data", "{file}/in", "--port", "0"), "cannot be made: Not a directory.", 1),
    ],
)
def test_errors_are_one_line(
    here: Command, tmp_path: Path, words: tuple[str, ...], says: str, code: int
) -> None:
    file = tmp_path / "file"
    file.touch()

    ended = here(*(word.format(file=file) for word in words))

    assert (ended.output, ended.code) == ("", code)
    assert ended.errors.startswith("monreq: ")
    assert ended.errors.endswith(says.format(file=file) + "\n")
    assert ended.errors.count("\n") == 1
