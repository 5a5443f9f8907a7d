"""Starts a real Chromium, and listens for whatever a page should never do."""

import os
import re
import shutil
from collections.abc import Collection
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Dialog, Page, Playwright, Response

_PROGRAMS = ("chromium", "chromium-browser", "google-chrome")
# Of these the last flag counts, so it names what Playwright switches off for steady pages, and then what a whole
# Chromium prepares beside every new window for its own address bar: most of the time that a new page takes.
_OFF = (
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsUpgrades",
    "HttpsFirstBalancedModeAutoEnable",
    "LensOverlay",
    "MediaRouter",
    "PaintHolding",
    "ThirdPartyStoragePartitioning",
    "AvoidCorsURLLoaderRestartOnRedirect",
    "OptimizationHints",
    "NetworkTimeServiceQuerying",
    "AimEnabled",
    "PreconnectToSearch",
    "PreloadTopChromeWebUI",
    "WebUIOmniboxPopup",
    "WebUIOmniboxAimPopup",
)
_FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    f"--disable-features={','.join(_OFF)}",
    "--host-resolver-rules=MAP *.test 127.0.0.1",
)
# A page closes its socket when it is left; where that had not opened yet, Chromium remarks on it.
_LEFT_EARLY = "WebSocket is closed before the connection is established"
_NO_CONTACT = re.compile(r"net::ERR_|WebSocket connection to .* failed")
FAULT = 500
"""From this status on it is the server that failed (RFC 9110, 15.6)."""
_TELL_VIOLATIONS = """
addEventListener("securitypolicyviolation",
  (event) => console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`));
"""


def launch(playwright: Playwright) -> Browser:
    """Start the browser named by MONREQ_TEST_CHROMIUM, or else one that is installed."""
    return playwright.chromium.launch(executable_path=_program(), args=_FLAGS)


def _program() -> str:
    given = os.environ.get("MONREQ_TEST_CHROMIUM")
    found = given or next(filter(None, map(shutil.which, _PROGRAMS)), None)
    if found is None:
        pytest.skip(f"no browser here: neither {', '.join(_PROGRAMS)} on the PATH nor MONREQ_TEST_CHROMIUM")
    return found


class Watch:
    """Notes what no page should do, on every page of the contexts that it follows.

    Errors, dialogs, requests to elsewhere, answers that say that the server is at fault, and pages that crash.
    """

    def __init__(self, origins: Collection[str]) -> None:
        self._origins = origins
        self._complaints: list[str] = []
        self._expected: list[str] = []
        self._contact_may_fail = False

    def follow(self, context: BrowserContext) -> None:
        """Listen to all pages of a context."""
        context.add_init_script(_TELL_VIOLATIONS)
        context.on("console", self._hear)
        context.on("dialog", self._dismiss)
        context.on("weberror", lambda error: self._complaints.append(f"uncaught: {error.error}"))
        context.on("request", lambda request: self._check(request.url))
        context.on("response", self._check_answer)
        context.on("page", self._follow_page)

    def expect(self, words: str) -> None:
        """Take one error for right: it must come."""
        self._expected.append(words)

    def let_contact_fail(self) -> None:
        """Take it for right that the browser finds nobody: the test takes the server or the network away."""
        self._contact_may_fail = True

    def complaints(self) -> list[str]:
        """Return what was not expected, and what was and did not come."""
        left = list(self._complaints)
        for words in self._expected:
            found = [one for one in left if words in one]
            if found:
                left.remove(found[0])
            else:
                left.append(f"did not come: {words}")
        return left

    def _follow_page(self, page: Page) -> None:
        page.on("websocket", lambda opened: self._check(opened.url))
        page.on("crash", lambda died: self._complaints.append(f"crashed: {died.url}"))

    def _hear(self, message: ConsoleMessage) -> None:
        is_borne = _LEFT_EARLY in message.text or (
            self._contact_may_fail and _NO_CONTACT.search(message.text)
        )
        if message.type in ("error", "warning") and not is_borne:
            self._complaints.append(f"console {message.type}: {message.text}")

    def _dismiss(self, dialog: Dialog) -> None:
        self._complaints.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def _check_answer(self, response: Response) -> None:
        if response.status >= FAULT and urlsplit(response.url).netloc in self._origins:
            self._complaints.append(f"answered {response.status}: {response.request.method} {response.url}")

    def _check(self, url: str) -> None:
        parts = urlsplit(url)
        if parts.scheme not in ("data", "blob") and parts.netloc not in self._origins:
            self._complaints.append(f"request to elsewhere: {url}")
