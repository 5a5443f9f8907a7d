"""Whether a phone shows anything of a mix that is not its own."""

from monreq.domain.show import Show
from tests.evenings.found import Found


def check(show: Show, mix: str, text: str) -> None:
    """Find fault with a page, a push or an answer of a phone that names another mix or its address.

    A mix that is called as a musician, or as a source, is named for other reasons too.
    """
    usual = {one.name for one in show.sources.values()} | {one.name for one in show.groups.values()}
    usual |= {name for one in show.musicians.values() for name in (one.name, one.deputy)}
    usual |= {show.mix(mix).name, show.name}
    for other in show.mixes.values():
        if other.id == mix:
            continue
        told = [f'/mix/{other.id}"', f"/mix/{other.id}?", f"row-{other.id}-"]
        if not any(other.name in one for one in usual):
            told.append(f">{other.name}<")
        named = next((one for one in told if one in text), None)
        if named:
            raise Found("privacy", f"a phone of {mix} shows {named!r} of {other.id}")
