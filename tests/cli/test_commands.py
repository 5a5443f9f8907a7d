"""What all commands have in common: help, and errors of one line."""

from pathlib import Path

import click
import pytest

from monreq.cli.commands import cli
from tests.support.monreq_process import Ended, monreq
from tests.support.started_commands import Command


def leaves(group: click.Group, path: str = "") -> dict[str, click.Command]:
    """Return every command that does something, by the words that call it."""
    found: dict[str, click.Command] = {}
    for name, command in group.commands.items():
        words = f"{path}{name}"
        found |= leaves(command, f"{words} ") if isinstance(command, click.Group) else {words: command}
    return found


COMMANDS = leaves(cli)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_with_an_example(name: str) -> None:
    command = COMMANDS[name]

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
