"""The cookies of admitted browsers: signed with the time at which they were made, which a clock set back does not spoil."""

from typing import Any

from flask import Flask
from flask.sessions import SecureCookieSessionInterface
from itsdangerous import SignatureExpired, TimestampSigner, URLSafeTimedSerializer


class _Patient(TimestampSigner):
    """Takes what was signed later than it is now as signed now: the clock was set back meanwhile."""

    def unsign(self, signed_value: Any, max_age: int | None = None, return_timestamp: bool = False) -> Any:  # noqa: FBT001, FBT002 - as the library has it
        value, signed_at = super().unsign(signed_value, return_timestamp=True)
        if max_age is not None and self.get_timestamp() - signed_at.timestamp() > max_age:
            raise SignatureExpired("It is too old.", payload=value, date_signed=signed_at)
        return (value, signed_at) if return_timestamp else value


class Cookies(SecureCookieSessionInterface):
    """Flask's own sessions in cookies, of whatever time."""

    def get_signing_serializer(self, app: Flask) -> URLSafeTimedSerializer | None:
        """Return what signs and reads them."""
        serializer = super().get_signing_serializer(app)
        if serializer is not None:
            serializer.signer = _Patient
        return serializer
