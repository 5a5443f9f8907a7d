"""After the show: what is kept, the band's book taken home and brought again, the next show, and the end."""

from typing import Final
from urllib.parse import urlsplit

from tests.evenings.company import Company
from tests.evenings.found import Found
from tests.evenings.players import Desk, weighted
from tests.evenings.preparing import PREPARE, prepare

_TRIES: Final = 4  # chosen: two things can be said to be one thing, which is asked again
_NOT_SAID: Final = "?"


def keep(company: Company) -> None:
    """Ask the musicians, keep what lasted, and what stands now."""
    desk = company.desk
    desk.go("/desk/afterwards")
    desk.press(desk.find("afterwards.ask_musicians"))
    for phone in company.phones:
        if phone.wake():
            phone.tap(weighted({"keep": 1}, 0))
    desk.go("/desk/afterwards")
    desk.press(desk.find("afterwards.keep_proposed"), name="what lasted")
    desk.go("/desk/kept")
    desk.press(desk.find("keeping.keep"), name="as it stands", song="")
    _bring_back(desk)
    company.settle()


def _bring_back(desk: Desk) -> None:
    """Look at each kept mix; bring one back, rename one, remove one."""
    desk.go("/desk/kept")
    kept = list(dict.fromkeys(link for link in desk.page.read.links if link.startswith("/desk/kept/")))
    for link in kept[:4]:
        desk.go(link)
        if desk.has("keeping.brought_back"):
            form, button = desk.rarest(one for one in desk.choices() if one[1].value in ("all", "ticked"))
            desk.press(
                (form, button), ticked=[one.values[0] for one in form.fields if one.name == "lines"][:1]
            )
    desk.go(kept[0])
    desk.press(desk.find("keeping.rename_kept"), name="renamed")
    desk.go(kept[-1])
    desk.press(desk.find("keeping.remove_kept"))


def another_band(company: Company) -> None:
    """Let the other stage keep a band of its own, so that there are two to merge."""
    desk = company.elsewhere
    desk.go("/desk/kept")
    desk.press(desk.find("keeping.keep"), band="The Other Lamps", name="theirs")


def next_show(company: Company, line_up: int) -> None:
    """Close the show, begin the next, prepare another line-up, and take the band over from its book."""
    desk, house = company.desk, company.house
    company.disconnect()
    before = set(house.shows())
    desk.go(PREPARE)
    desk.press(desk.find("prepare.begin_next_show"))
    (desk.browser.show_id,) = set(house.shows()) - before
    company.second.browser.show_id = desk.browser.show_id
    for one in (desk, company.second):
        one.come()
    prepare(company, desk, line_up)
    _bring_book(desk)
    company.bench.compare(desk.browser)
    company.phones = [*company.phones[:2], *company.phones_of(desk.browser.show_id)]


def _bring_book(desk: Desk) -> None:
    desk.go("/desk/books")
    books = [link for link in desk.page.read.links if link.endswith("/file")]
    text = desk.browser.fetch(books[0]).text
    desk.go("/desk/books")
    desk.press(desk.find("books.bring"), book=[text])
    desk.go("/desk/books")
    desk.press(desk.find("books.bring"), book=["{}"])
    desk.go("/desk/books")
    desk.press(desk.find("books.bring"), book=[text.replace("as it stands", "as it stood elsewhere")])
    _merge(desk)
    desk.go("/desk/books")
    desk.go(next(link for link in desk.page.read.links if link.endswith("/open")))
    _open_band(desk)


def _open_band(desk: Desk) -> None:
    """Go through the three steps, back and on again."""
    _match(desk)
    desk.press(desk.find("book_opening.ask_matches_again"))
    _match(desk)
    desk.press(desk.find("book_opening.show_report"))
    if desk.has("book_opening.take_over"):
        desk.press(desk.find("book_opening.ask_levels"))
        desk.press(desk.find("book_opening.show_report"))
        desk.press(desk.find("book_opening.take_over"))


def _match(desk: Desk) -> None:
    """Say what is what until the levels are asked for.

    Raises:
        Found: Leaving out everything that was asked about does not lead on either.
    """
    asked: dict[str, tuple[str, ...]] = {}
    for tried in range(_TRIES):
        form, button = desk.find("book_opening.ask_levels")
        asked |= {one.name: one.choices for one in form.fields if one.values == (_NOT_SAID,)}
        chosen = {name: _choice(desk, choices, tried) for name, choices in asked.items()}
        desk.press((form, button), **chosen)
        if desk.has("book_opening.show_report"):
            return
    alerts = [one.text for one in desk.page.read.root.every(role="alert")]
    raise Found("forms", f"a band does not open, whatever is said: {alerts}")


def _choice(desk: Desk, choices: tuple[str, ...], tried: int) -> str:
    """Say that it is anything here, then that it is new, then that it is left out."""
    said = [value for value in choices if value != _NOT_SAID]
    return desk.dice.choice(said) if tried == 0 else said[-2 if tried == 1 else -1]


def _merge(desk: Desk) -> None:
    """Merge two evenings of a band, where the page asks."""
    if desk.has("book_merging.merge_both"):
        form, button = desk.find("book_merging.merge_both")
        picks = {
            one.name: desk.dice.choice(("ours", "theirs", "both"))
            for one in form.fields
            if one.kind == "radio"
        }
        desk.press((form, button), **picks)


def bands(desk: Desk) -> None:
    """Merge two bands, rename what is left, let it play, and remove another."""
    desk.go("/desk/books")
    merges = [link for link in desk.page.read.links if "/merge/" in link]
    if merges:
        desk.go(desk.dice.choice(merges))
        _merge(desk)
    for link in _bands(desk):
        desk.go(link)
        if desk.has("bands.choose_band"):
            desk.press(desk.find("bands.choose_band"))
    first, *others = _bands(desk)
    desk.go(first)
    desk.press(desk.find("bands.rename_band"), name=f"Renamed {desk.house.trail.count}")
    desk.go((*others, first)[0])
    desk.press(desk.find("bands.remove_band"))


def _bands(desk: Desk) -> list[str]:
    desk.go("/desk/books")
    found = [link for link in desk.page.read.links if urlsplit(link).path.startswith("/desk/bands/")]
    return list(dict.fromkeys(found))


def close(desk: Desk) -> None:
    """Close the show for good; nothing is asked any more."""
    desk.go("/desk/afterwards")
    desk.press(desk.find("afterwards.close_show"))
    desk.go("/desk")
