"""Who comes otherwise than by a scanned code, what is printed, and codes that are replaced."""

from monreq.services.short_codes import short_code
from tests.evenings.company import Company
from tests.evenings.players import Desk, Phone, Player

_DESK_PAGES = (
    "/desk",
    "/desk/prepare",
    "/desk/codes",
    "/desk/songs",
    "/desk/kept",
    "/desk/afterwards",
    "/desk/books",
    "/desk/sheets",
    "/reckoning",
    "/language?back=/desk",
)
_PASSPHRASE = "correct horse on stage"


class Visitor(Player):
    """Somebody at the front door."""

    def home(self) -> str:
        return "/"


def visit(company: Company) -> None:
    """Type a short code and the passphrase, choose a language and colours, and knock where one may not."""
    house, desk = company.house, company.desk
    visitor = Visitor(house, company.bench, "visitor", next(company.languages))
    visitor.browser.show_id = desk.browser.show_id
    visitor.go("/")
    visitor.press(visitor.find("entry.read_short_code"), code="aaaa bbbb")
    show = house.show(desk.browser.show_id)
    code = short_code(house.monreq.key, show, next(iter(show.mixes)))
    visitor.press(visitor.find("entry.read_short_code"), code=code)
    visitor.press(visitor.choices()[0])
    for path in ("/healthz", "/static/monreq.css", "/desk", "/no-such-page"):
        visitor.browser.fetch(path)
    _speak(visitor)
    _enter_by_passphrase(company, visitor)


def _speak(visitor: Player) -> None:
    visitor.go("/language?back=/desk")
    for endpoint in ("languages.choose_language", "colours.choose_colours"):
        visitor.go("/language?back=/desk")
        visitor.press(
            visitor.rarest([one for one in visitor.choices() if visitor.find(endpoint)[0] is one[0]])
        )


def _enter_by_passphrase(company: Company, visitor: Player) -> None:
    desk = company.desk
    desk.go("/desk/codes")
    desk.press(desk.find("passphrase.set_passphrase"), passphrase="short")
    desk.go("/desk/codes")
    desk.press(desk.find("passphrase.set_passphrase"), passphrase=_PASSPHRASE)
    visitor.go("/desk/enter")
    visitor.press(visitor.find("passphrase.enter"), passphrase="not this one")
    visitor.go("/desk/enter")
    visitor.press(visitor.find("passphrase.enter"), passphrase=_PASSPHRASE)
    desk.go("/desk/codes")
    desk.press(desk.find("passphrase.remove_passphrase"))
    for one in (company.desk, company.second, company.elsewhere):
        one.come()


def look_at_all(company: Company) -> None:
    """Open every page that a desk, a phone and a program may see, and some moments of each mix."""
    desk, house = company.desk, company.house
    for path in _DESK_PAGES:
        desk.go(path)
    show = house.show(desk.browser.show_id)
    for mix in show.mixes:
        desk.go(f"/desk/mix/{mix}")
        moments = [link for link in desk.page.read.links if "/at/" in link]
        for link in desk.dice.sample(moments, min(2, len(moments))):
            desk.go(link)
        then, now = sorted(desk.dice.sample(range(1, show.revision + 1), 2))
        desk.browser.get(f"/desk/mix/{mix}?then={then}&now={now}")
        for path in (f"/mixes/{mix}", f"/mixes/{mix}/history"):
            desk.browser.call("GET", path)
    for phone in company.phones:
        phone.wake()


def print_all(desk: Desk) -> None:
    """Fetch every kind of paper once."""
    for path in ("/desk/codes/cards.pdf", "/desk/sheets/sheets.pdf"):
        desk.browser.fetch(path)
    desk.go("/desk/sheets")
    for mix in desk.house.show(desk.browser.show_id).mixes:
        desk.go(f"/desk/sheets?mix={mix}")


def replace_codes(company: Company, phone: Phone) -> None:
    """Replace a mix's code and the desk's; whoever was out scans again."""
    desk = company.desk
    desk.go("/desk/codes")
    desk.press(desk.find("codes.replace", "", f"/{phone.mix}"))
    if not phone.go(phone.home()).is_out:
        raise AssertionError("a replaced card still opens its mix")
    phone.scan()
    desk.go("/desk/codes")
    desk.press(desk.find("codes.replace_desk"))
    for one in (desk, company.second):
        one.come()
    company.tablet.set_up(desk.go("/desk/codes"))


def be_another(company: Company) -> None:
    """Let those who share a mix say that they are the other one."""
    for phone in company.phones:
        shared = company.house.show(phone.browser.show_id).mixes.get(phone.mix)
        if shared and len(shared.musicians) > 1 and phone.wake():
            phone.go(f"/mix/{phone.mix}/who")
            other = phone.dice.choice(shared.musicians)
            phone.press(phone.find("phone.say_who", "", other))
            phone.browser.musician = other
