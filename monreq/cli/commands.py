"""The command `monreq`, with one subcommand a file."""

import click

from monreq.cli.backup import backup
from monreq.cli.book import book
from monreq.cli.cards import cards
from monreq.cli.check import check
from monreq.cli.demo import demo
from monreq.cli.passphrase import passphrase
from monreq.cli.restore import restore
from monreq.cli.serve import serve
from monreq.cli.sheets import sheets
from monreq.cli.token import token

_INTERRUPTED = 130  # what a shell gives a program that Ctrl+C ended


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="monreq", prog_name="monreq")
def cli() -> None:
    """Monitor-mix requests: musicians ask on their phones, the desk sees them added up.

    monreq never moves the desk: a person does.
    """


def run() -> int:
    """Run the command line; what went wrong is told in one line. Returns the exit code."""
    try:
        code = cli.main(prog_name="monreq", standalone_mode=False)
    except click.exceptions.NoArgsIsHelpError as without_words:
        without_words.show()
        return without_words.exit_code
    except click.ClickException as wrong:
        click.echo(f"monreq: {_in_one_line(wrong)}", err=True)
        return wrong.exit_code
    except click.Abort:
        return _INTERRUPTED
    return code if isinstance(code, int) else 0


def _in_one_line(wrong: click.ClickException) -> str:
    line = " ".join(wrong.format_message().split())
    if isinstance(wrong, click.UsageError) and wrong.ctx is not None:
        return f"{line} See: {wrong.ctx.command_path} --help"
    return line


for command in (serve, demo, cards, sheets, token, passphrase, check, backup, restore, book):
    cli.add_command(command)
