"""Bands, the mixes kept of them, and what was submitted once about them."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "bands",
        sa.Column("id", sa.Text, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("changed_at_ms", sa.BigInteger, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_bands"),
    )
    op.create_table(
        "kept_mixes",
        sa.Column("band_id", sa.Text, nullable=False),
        sa.Column("id", sa.Text, nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("mix", sa.Text, nullable=False),
        sa.Column("song", sa.Text, nullable=True),
        sa.Column("kept_at_ms", sa.BigInteger, nullable=False),
        sa.Column("show_name", sa.Text, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("band_id", "id", name="pk_kept_mixes"),
        sa.ForeignKeyConstraint(["band_id"], ["bands.id"], name="fk_kept_mixes_band_id"),
    )
    op.create_table(
        "band_submissions",
        sa.Column("scope", sa.Text, nullable=False),
        sa.Column("client_id", sa.Text, nullable=False),
        sa.Column("fingerprint", sa.Text, nullable=False),
        sa.Column("band_id", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("scope", "client_id", name="pk_band_submissions"),
        sqlite_with_rowid=False,
    )
