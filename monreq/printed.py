"""What is printed, or shown to be scanned: the printing room joined with what the installation knows."""

from collections.abc import Callable

from monreq.domain.show import Show
from monreq.printing import qr
from monreq.printing.card import Card, Wifi
from monreq.services.short_codes import short_code
from monreq.web import wording
from monreq.web.access import token_of
from monreq.web.codes import WIFI_NETWORK, WIFI_PASSWORD
from monreq.web.context import InstallationSettings
from monreq.web.sheet_view import show_sheets
from monreq.web.speech import _
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
        return qr.svg(qr.wifi_join_text(wifi.network, wifi.password), "Join the Wi-Fi") if wifi else ""

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
        return cards_pdf([*cards, self._tablet_card(show)], self.wifi())

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
    return sheets_pdf(
        show_sheets(show), drawing if is_placed else None, _("Stage plan"), audience=_("audience")
    )
