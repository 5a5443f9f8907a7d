"""One browser, two desks: a page of one stage is answered after the browser was admitted to the other."""

from monreq.domain import commands as c
from tests.evenings.company import Company
from tests.evenings.house import OTHER_STAGE
from tests.evenings.players import Desk


def answer_from_another_show(company: Company) -> None:
    """Press a row of a page that is older than the browser's admission, where both shows wait for the same ids."""
    house, here = company.house, company.desk.browser.show_id
    _meet(company, here, OTHER_STAGE)
    for show_id in (here, OTHER_STAGE):
        show = house.show(show_id)
        mix = next(one for one in show.mixes.values() if one.musicians)
        for tenths in (10, 20, 30):
            house.monreq.shows.submit(show_id, c.AskForLevel(mix.id, mix.musicians[0], None, tenths))
    company.bench.catch_up()
    torn = Desk(house, company.bench, OTHER_STAGE, "torn desk", next(company.languages))
    torn.come()
    old = torn.go("/desk")
    torn.browser.show_id = here
    torn.come()
    torn.browser.show_id, torn.page = OTHER_STAGE, old
    for row in torn.rows("done")[:4]:
        torn.browser.press(*row)


def _meet(company: Company, one: str, other: str) -> None:
    """Bring two shows to the same revision, as two evenings of one length come to it."""
    shows = company.house.monreq.shows
    lower = min((one, other), key=lambda show_id: company.house.show(show_id).revision)
    until = max(company.house.show(show_id).revision for show_id in (one, other))
    while company.house.show(lower).revision < until:
        shows.submit(lower, c.RenameShow(f"Evening {company.house.show(lower).revision}"))
    company.bench.catch_up()
