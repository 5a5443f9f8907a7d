"""Commands for the terminal."""
