"""Keeps shows, bands and settings in a database; the only room that speaks SQL."""
