"""Shows, the log of each, what was submitted once, and settings of the installation."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "shows",
        sa.Column("id", sa.Text, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("is_open", sa.Boolean, nullable=False),
        sa.Column("is_demo", sa.Boolean, nullable=False),
        sa.Column("head", sa.Integer, nullable=False),
        sa.Column("opened_at_ms", sa.BigInteger, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_shows"),
    )
    op.create_table(
        "events",
        sa.Column("show_id", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, autoincrement=False, nullable=False),
        sa.Column("at_ms", sa.BigInteger, nullable=False),
        sa.Column("by", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("show_id", "revision", name="pk_events"),
        sa.ForeignKeyConstraint(["show_id"], ["shows.id"], name="fk_events_show_id"),
    )
    op.create_table(
        "event_subjects",
        sa.Column("show_id", sa.Text, nullable=False),
        sa.Column("subject", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("show_id", "subject", "revision", name="pk_event_subjects"),
        sa.ForeignKeyConstraint(
            ["show_id", "revision"], ["events.show_id", "events.revision"], name="fk_event_subjects_show_id"
        ),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "submissions",
        sa.Column("show_id", sa.Text, nullable=False),
        sa.Column("scope", sa.Text, nullable=False),
        sa.Column("client_id", sa.Text, nullable=False),
        sa.Column("fingerprint", sa.Text, nullable=False),
        sa.Column("first_revision", sa.Integer, nullable=False),
        sa.Column("last_revision", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("show_id", "scope", "client_id", name="pk_submissions"),
        sa.ForeignKeyConstraint(["show_id"], ["shows.id"], name="fk_submissions_show_id"),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "settings",
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("value", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_settings"),
    )
