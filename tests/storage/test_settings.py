"""Values of the whole installation."""

from monreq.storage.open import Storage


def test_get_a_value_that_was_never_put_is_none(storage: Storage) -> None:
    assert storage.settings.get("wifi_name") is None


def test_put_keeps_the_latest_value_of_each_name(storage: Storage) -> None:
    storage.settings.put("wifi_name", "Stage")
    storage.settings.put("wifi_password", "")
    storage.settings.put("wifi_name", "Bühne")

    assert storage.settings.get("wifi_name") == "Bühne"
    assert storage.settings.get("wifi_password") == ""


def test_put_is_seen_by_another_process(storage: Storage, other: Storage) -> None:
    storage.settings.put("wifi_name", "Stage")

    assert other.settings.get("wifi_name") == "Stage"
