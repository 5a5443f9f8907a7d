"""The judges of an evening on one bench: they see every press, every page, and now and then the whole."""

from collections import defaultdict

from tests.evenings.browser import Browser, Done, Page
from tests.evenings.found import Found
from tests.evenings.house import House
from tests.evenings.judges import calls, meant, privacy, sums
from tests.evenings.judges.account import Account
from tests.evenings.judges.safety import Safety

_AS_SUGGESTED = ("done", "same_loudness", "rest_down", "take_back")


class Bench:
    """All judges, with what each keeps of each show."""

    def __init__(self, house: House) -> None:
        self._house = house
        self.accounts: dict[str, Account] = defaultdict(Account)
        self.safeties: dict[str, Safety] = defaultdict(Safety)
        self.gaps: dict[str, int] = defaultdict(int)

    def done(self, done: Done) -> None:
        """Judge what a press or a call came to."""
        for show_id, log in done.news.items():
            self.accounts[show_id].take(log)
            self.safeties[show_id].take(log, is_suggested=_is_suggested(done))
            if self.safeties[show_id].breaches:
                raise Found("safety", str(self.safeties[show_id].breaches[0]))
        meant.check(done)

    def catch_up(self) -> None:
        """Enter what was recorded without anybody pressing anything."""
        for show_id, log in self._house.news().items():
            self.accounts[show_id].take(log)
            self.safeties[show_id].take(log, is_suggested=False)

    def page(self, whose: Browser, page: Page) -> None:
        """Judge a page: a desk's for open calls, a phone's for what is not its own."""
        if page.is_out or not page.text:
            return
        show = self._house.show(whose.show_id)
        endpoint = self._house.endpoint("GET", page.path)
        if whose.mix is not None and whose.mix in show.mixes and endpoint.startswith("phone."):
            privacy.check(show, whose.mix, page.text)
        if endpoint in (*calls.SHOWN_ON, *calls.GAPS) and whose.mix is None:
            self._look_for_calls(endpoint, page, self.accounts[show.id].unseen_calls())

    def _look_for_calls(self, endpoint: str, page: Page, unseen: list[str]) -> None:
        if unseen:
            calls.check(endpoint, page.read, unseen)
            self.gaps[endpoint] += bool(calls.not_shown(page.read, unseen))

    def compare(self, desk: Browser) -> None:
        """Compare the whole of a show, as its desk is told it, with the account."""
        account = self.accounts[desk.show_id]
        status, queue = desk.call("GET", "/queue")
        if status != 200:
            raise Found("sums", f"the desk's queue answered {status}")
        sums.check_queue(account, queue)
        for mix in self._house.show(desk.show_id).mixes:
            sums.check_mix(account, desk.call("GET", f"/mixes/{mix}")[1])


def _is_suggested(done: Done) -> bool:
    if done.endpoint == "api.post_decision":
        figures = ("done_db", "done_pan", "level_db")
        return done.sent.get("outcome") == ['"done"'] and not any(one in done.sent for one in figures)
    return done.verb in _AS_SUGGESTED
