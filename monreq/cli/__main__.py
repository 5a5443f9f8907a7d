"""Lets python -m monreq.cli do what the command monreq does."""

from monreq.cli import main

main()
