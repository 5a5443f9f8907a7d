"""The outermost WSGI wrapper: refuses unknown hosts and foreign origins before anything reads them."""

import json
import logging
from collections.abc import Callable, Iterable
from html import escape
from typing import TYPE_CHECKING, Final

from werkzeug.middleware.proxy_fix import ProxyFix

from monreq.web.authority import parse_authority

if TYPE_CHECKING:
    from _typeshed import OptExcInfo
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

LOG = logging.getLogger(__name__)

_SAFE_METHODS: Final = frozenset({"GET", "HEAD", "OPTIONS"})
_FORWARDED: Final = ("HTTP_X_FORWARDED_", "HTTP_FORWARDED")
_LONGEST_QUOTE: Final = 80
_HEADERS: Final = (
    ("Cache-Control", "no-store"),
    ("Content-Security-Policy", "default-src 'none'; base-uri 'none'; frame-ancestors 'none'"),
    ("Referrer-Policy", "same-origin"),
    ("X-Content-Type-Options", "nosniff"),
    ("X-Frame-Options", "DENY"),
)
_PAGE: Final = (
    "<!doctype html><html lang=en><meta charset=utf-8>"
    '<meta name=viewport content="width=device-width"><title>{title}</title>'
    "<h1>{title}</h1><p>{message}</p></html>"
)


class SitePolicy:
    """Tells what belongs to this site: by the host that was asked and the page that asks."""

    def __init__(self, hosts: Callable[[], frozenset[str]]) -> None:
        self._hosts = hosts

    def host_allowed(self, host: str) -> bool:
        """Whether a Host header names this machine; the port does not matter."""
        authority = parse_authority(host)
        return authority is not None and authority.host in self._hosts()

    def origin_allowed(self, origin: str | None, environ: "WSGIEnvironment") -> bool:
        """Whether a request comes from the very site that it asks; also for Socket.IO.

        An absent origin is let through: forms carry a CSRF token, other programs a bearer token,
        and those are checked where they are read.
        """
        if origin is None:
            return True
        scheme, _, rest = origin.partition("://")
        theirs, ours = parse_authority(rest), parse_authority(environ.get("HTTP_HOST", ""))
        if theirs is None or ours is None or scheme != environ["wsgi.url_scheme"]:
            return False
        same_port = theirs.port_or_default(scheme) == ours.port_or_default(scheme)
        return same_port and theirs.host == ours.host and theirs.host in self._hosts()


class HostGuard:
    """Lets through what was asked of this machine, by name, from its own pages."""

    def __init__(self, wsgi_app: "WSGIApplication", policy: SitePolicy) -> None:
        self._wsgi_app, self._policy = wsgi_app, policy

    def __call__(self, environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        """Answer a request, or refuse it with 421 or 403."""
        for name in [name for name in environ if name.startswith(_FORWARDED)]:
            del environ[name]
        host, origin = environ.get("HTTP_HOST", ""), environ.get("HTTP_ORIGIN")
        if not self._policy.host_allowed(host):
            LOG.warning("refused the unknown host %s", _quote(host))
            return _refuse(environ, start_response, "421 Misdirected Request", _unknown_host(host))
        if _is_guarded(environ) and not self._policy.origin_allowed(origin, environ):
            LOG.warning("refused %s, asked by a page of %s", _quote(host), _quote(origin or ""))
            return _refuse(environ, start_response, "403 Forbidden", _FOREIGN_ORIGIN)
        return self._wsgi_app(environ, _without_cors(start_response))


def behind_one_proxy(wsgi_app: "WSGIApplication") -> "WSGIApplication":
    """Believe one proxy's word on client address and scheme; stands in front of the guard.

    The proxy must pass the Host header on: a forwarded host is not believed.
    """
    return ProxyFix(wsgi_app, x_for=1, x_proto=1, x_host=0, x_port=0, x_prefix=0)


def _is_guarded(environ: "WSGIEnvironment") -> bool:
    is_live = environ.get("PATH_INFO", "").lstrip("/").startswith("socket.io")
    return is_live or environ["REQUEST_METHOD"] not in _SAFE_METHODS


# Engine.IO names the origin it accepts; it is always our own, which needs no such word.
def _without_cors(start_response: "StartResponse") -> "StartResponse":
    def start(
        status: str, headers: list[tuple[str, str]], *exc_info: "OptExcInfo | None"
    ) -> Callable[[bytes], object]:
        kept = [pair for pair in headers if not pair[0].lower().startswith("access-control-")]
        return start_response(status, kept, *exc_info)

    return start


def _quote(text: str) -> str:
    return ascii(text[:_LONGEST_QUOTE])


def _unknown_host(host: str) -> tuple[str, str, str]:
    return (
        "unknown_host",
        "Wrong address",
        f"This machine does not answer to {_quote(host)}. Scan your code again, or ask the "
        "engineer, who can add a name with MONREQ_TRUSTED_HOSTS.",
    )


_FOREIGN_ORIGIN: Final = (
    "foreign_origin",
    "Not from here",
    "This was sent by a page of another site, so nothing was done. Scan your code again.",
)


def _refuse(
    environ: "WSGIEnvironment",
    start_response: "StartResponse",
    status: str,
    reason: tuple[str, str, str],
) -> Iterable[bytes]:
    code, title, message = reason
    if environ.get("PATH_INFO", "").startswith(("/api/", "/socket.io")):
        kind, text = "application/json", json.dumps({"error": code, "message": message})
    else:
        kind = "text/html; charset=utf-8"
        text = _PAGE.format(title=escape(title), message=escape(message))
    body = text.encode()
    start_response(status, [("Content-Type", kind), ("Content-Length", str(len(body))), *_HEADERS])
    return [] if environ["REQUEST_METHOD"] == "HEAD" else [body]
