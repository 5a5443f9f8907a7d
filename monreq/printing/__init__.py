"""Draws what goes on paper: QR codes, cards and mix sheets."""
