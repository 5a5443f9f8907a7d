"""Lets python -m monreq do what the command monreq does."""

from monreq.cli import main

main()
