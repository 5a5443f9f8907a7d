"""The headers that every answer carries: what a browser may load, keep and tell."""

from http import HTTPStatus

from flask import Flask, Response, request

_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "connect-src 'self' ws://{host} wss://{host}",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)


def add_headers(response: Response) -> Response:
    """Add the headers to an answer. HSTS is left to the proxy that speaks TLS: in a LAN there is none."""
    response.headers["Content-Security-Policy"] = _POLICY.format(host=request.host)
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["X-Frame-Options"] = "DENY"
    if request.is_secure:
        # Over plain http a browser ignores it, and complains about it on every page.
        response.headers["Cross-Origin-Opener-Policy"] = "same-origin"
    response.headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()"
    # Not `no-referrer`: with it a plain form would send `Origin: null` and be refused by the guard.
    response.headers["Referrer-Policy"] = "same-origin"
    if request.endpoint != "static" or response.status_code >= HTTPStatus.BAD_REQUEST:
        response.headers["Cache-Control"] = "no-store"
    return response


def init_app(app: Flask) -> None:
    """Make an app send the headers."""
    app.after_request(add_headers)
