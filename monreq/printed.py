"""What is printed, or shown to be scanned: the printing room joined with what the installation knows."""

from collections.abc import Callable

from monreq.domain.show import Show
from monreq.printing import qr
from monreq.printing.card import Card, Wifi
from monreq.printing.words import CardWords, Reading, SheetWords
from monreq.services.short_codes import short_code
from monreq.web import wording
from monreq.web.access import token_of
from monreq.web.codes import WIFI_NETWORK, WIFI_PASSWORD
from monreq.web.context import InstallationSettings
from monreq.web.sheet_view import show_sheets
from monreq.web.speech import _, language
from monreq.web.stage_drawing import stage_drawing
from monreq.web.tablet import tablet_path


class Printing:
    """Codes and cards, with what the installation knows of its Wi-Fi."""

    def __init__(self, settings: InstallationSettings, key: bytes, codes_url: Callable[[], str]) -> None:
        self._settings, self._key, self._codes_url = settings, key, codes_url

    def qr_svg(self, text: str, label: str) -> str:
        """Return a text's code as an SVG."""
        return qr.svg(text, label)

    def wifi_svg(self) -> str:
        """Return the code that joins the Wi-Fi; empty if none was entered."""
        wifi = self.wifi()
        return qr.svg(qr.wifi_join_text(wifi.network, wifi.password), _("Join the Wi-Fi")) if wifi else ""

    def wifi_misread(self) -> tuple[str, ...]:
        """Return the characters of the Wi-Fi's name and password that phones may misread."""
        wifi = self.wifi()
        return qr.misread_characters(wifi.network + wifi.password) if wifi else ()

    def wifi(self) -> Wifi | None:
        """Return the Wi-Fi that was entered."""
        network = self._settings.get(WIFI_NETWORK)
        return Wifi(network, self._settings.get(WIFI_PASSWORD) or "") if network else None

    def cards_pdf(self, show: Show) -> bytes:
        """Return the cards of a show: one a mix, and one each where musicians share it."""
        # What draws a page takes a third of monreq's memory and start, and most evenings print nothing.
        from monreq.printing.cards import cards_pdf  # noqa: PLC0415

        cards = [card for mix in show.mixes for card in self._cards(show, mix)]
        return cards_pdf([*cards, self._tablet_card(show)], self.wifi(), card_words(), reading())

    def sheets_pdf(self, show: Show) -> bytes:
        """Return the sheets of a show."""
        return show_sheets_pdf(show)

    def _tablet_card(self, show: Show) -> Card:
        url = f"{self._codes_url()}{tablet_path(self._key, show)}"
        return Card(show.name, _("Stage tablet"), _("for those without a phone"), (), url)

    def _cards(self, show: Show, mix: str) -> list[Card]:
        facts = show.mix(mix)
        url = f"{self._codes_url()}/j/{token_of(self._key, show, mix)}"
        names = [show.musician_name(one) for one in facts.musicians]
        holders = [(name,) for name in names] if len(names) > 1 else [tuple(names)]
        by_hand = short_code(self._key, show, mix)
        detail = wording.mix_kind(facts)
        return [Card(show.name, facts.name, detail, holder, url, by_hand) for holder in holders]


def show_sheets_pdf(show: Show) -> bytes:
    """Return the sheets of a show: its input list, its stage plan if anybody was placed, its mixes."""
    from monreq.printing.sheets import sheets_pdf  # noqa: PLC0415 - as for the cards

    drawing = stage_drawing(show)
    is_placed = bool(drawing.musicians or drawing.sources)
    return sheets_pdf(show_sheets(show), drawing if is_placed else None, sheet_words(), reading())


def reading() -> Reading:
    """Return how a page in the language at hand is read."""
    return Reading(language().code, from_right=language().direction == "rtl", comma=_(", "))


def card_words() -> CardWords:
    """Return what stands on every card; the caution is never left out."""
    return CardWords(
        title=_("Cards"),
        join=_("Join the Wi-Fi"),
        open=_("Open your mix"),
        network=_("Network"),
        password=_("Password"),
        no_password=_("not needed"),
        ask_for_wifi=_("Ask the desk for the Wi-Fi"),
        type_address=_("No camera? Type this address:"),
        type_code=_("No camera? Open the address, type the code:"),
        scan_both=_("Scan 1 with the camera and join. Then scan 2."),
        scan_second=_("Join the Wi-Fi. Then scan 2 with the camera."),
        phone_lines=(
            _("Phone says “no internet”? That is fine: tap “Use without internet” or “Keep trying”."),
            _("Page does not open? See that the phone is still on this Wi-Fi, then scan 2 again."),
        ),
        caution_title=_("Your hearing"),
        caution=_(
            "More level is more risk for your hearing. In-ears hurt: take BOTH out. "
            "Wedge hurts: step away. Then call the desk."
        ),
    )


def sheet_words() -> SheetWords:
    """Return what stands on the sheets of a show beside its own names."""
    return SheetWords(title=_("Sheets"), stage_plan=_("Stage plan"), audience=_("audience"))
