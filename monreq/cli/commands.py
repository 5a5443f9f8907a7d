"""The command `monreq`, with one subcommand a file."""

import click

from monreq.cli.cards import cards
from monreq.cli.check import check
from monreq.cli.demo import demo
from monreq.cli.serve import serve
from monreq.cli.token import token


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="monreq", prog_name="monreq")
def cli() -> None:
    """Monitor-mix requests: musicians ask on their phones, the desk sees them added up.

    monreq never moves the desk: a person does.
    """


for command in (serve, demo, cards, token, check):
    cli.add_command(command)
