"""The listener of all tests here hears what it is there for."""

from playwright.sync_api import Browser, Route

from tests.support.chromium import Watch

PAGE = """<!doctype html><title>bad</title><img src="http://elsewhere.test/pixel"><script>
console.warn("a warning");
alert("a dialog");
new WebSocket("ws://elsewhere.test/live").onerror = () => { throw new Error("a throw"); };
</script>"""


def test_watch_hears_what_no_page_should_do(browser: Browser) -> None:
    watch = Watch(["good.test"])
    context = browser.new_context()
    watch.follow(context)
    page = context.new_page()
    page.route("http://good.test/", lambda route: _answer(route, PAGE))
    page.route("http://elsewhere.test/pixel", lambda route: route.abort())

    with page.expect_event("pageerror"):
        page.goto("http://good.test/")

    heard = watch.complaints()
    context.close()
    assert "console warning: a warning" in heard
    assert "dialog: a dialog" in heard
    assert "request to elsewhere: http://elsewhere.test/pixel" in heard
    assert "request to elsewhere: ws://elsewhere.test/live" in heard
    assert any(one.startswith("uncaught: ") and "a throw" in one for one in heard)


def test_watch_hears_what_the_policy_forbids(browser: Browser) -> None:
    watch = Watch(["good.test"])
    context = browser.new_context()
    watch.follow(context)
    page = context.new_page()
    page.route("http://good.test/", lambda route: _answer(route, "<script>alert(1)</script>"))

    with page.expect_console_message():
        page.goto("http://good.test/")

    heard = watch.complaints()
    context.close()
    assert "console error: policy: script-src-elem inline" in heard
    assert not any(one.startswith("dialog") for one in heard)


def test_watch_hears_of_a_page_that_dies(browser: Browser) -> None:
    watch = Watch(["good.test"])
    context = browser.new_context()
    watch.follow(context)
    page = context.new_page()
    page.route("http://good.test/", lambda route: route.fulfill(status=500, body="it died"))
    page.route("http://elsewhere.test/", lambda route: route.fulfill(status=502, body="not ours"))

    for address in ("http://good.test/", "http://elsewhere.test/"):
        page.goto(address)

    context.close()
    heard = [one for one in watch.complaints() if one.startswith("answered")]
    assert heard == ["answered 500: GET http://good.test/"]


def test_watch_misses_what_was_expected_and_did_not_come() -> None:
    watch = Watch([])

    watch.expect("status of 409")

    assert watch.complaints() == ["did not come: status of 409"]


def _answer(route: Route, body: str) -> None:
    policy = "default-src 'none'; script-src 'self'"
    headers = {"Content-Security-Policy": policy} if body.startswith("<script>") else {}
    route.fulfill(content_type="text/html", body=body, headers=headers)
