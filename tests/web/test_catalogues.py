"""The catalogues: every text of the program in every language, whole, with the same values in it."""

import re
from gettext import c2py

import pytest
from babel.messages.catalog import Message

from monreq.web.script_texts import SCRIPT_TEXTS
from tests.support import catalogues

PLACEHOLDER = re.compile(r"%\(\w+\)[sd]|%%")
SCRIPTS = catalogues.PACKAGE / "web" / "scripts" / "src"
SAID = re.compile(r"""\bsay\(\s*(?:"((?:[^"\\]|\\.)*)"|'([^']*)')""")


@pytest.fixture(scope="module")
def said() -> set[str]:
    """Every text of the program, in English; a look through all sources."""
    return {text if isinstance(text, str) else text[0] for text in catalogues.texts()}


@pytest.mark.parametrize("language", catalogues.TRANSLATED)
def test_every_text_of_the_program_is_in_the_catalogue_and_no_other(language: str, said: set[str]) -> None:
    kept = {message.id if isinstance(message.id, str) else message.id[0] for message in _messages(language)}

    assert (said - kept, kept - said) == (set(), set()), "run python -m tests.support.catalogues update"


@pytest.mark.parametrize("language", catalogues.TRANSLATED)
def test_every_text_is_translated(language: str) -> None:
    lacking = [message.id for message in _messages(language) if not catalogues.is_translated(message)]

    assert lacking == []


@pytest.mark.parametrize("language", catalogues.TRANSLATED)
def test_every_translation_carries_the_values_of_its_text(language: str) -> None:
    wrong = [message.id for message in _messages(language) if not _has_its_values(message)]

    assert wrong == []


def test_arabic_counts_a_hundred_in_another_form_than_eleven() -> None:
    """From 11 to 99 the noun stands in the accusative, at round hundreds it does not (a rule of grammar, from memory)."""
    catalogue = catalogues.read("ar")
    rows = catalogue.get("%(num)d row waits")
    assert rows is not None
    forms = list(rows.string or ())

    said = {number: forms[c2py(catalogue.plural_expr)(number)] for number in (11, 99, 100, 102)}

    assert [number for number, words in said.items() if "صفًا" in words] == [11, 99]


def test_the_page_brings_along_exactly_what_its_script_says() -> None:
    sources = "".join(path.read_text(encoding="utf-8") for path in sorted(SCRIPTS.rglob("*.js")))

    said = {first or second for first, second in SAID.findall(sources)}

    assert said == set(SCRIPT_TEXTS)


def _messages(language: str) -> list[Message]:
    return list(catalogues.messages(catalogues.read(language)))


def _has_its_values(message: Message) -> bool:
    """A form for one may leave its number out; no form may bring a value that its text does not have."""
    ids = [str(message.id)] if isinstance(message.id, str) else [*message.id]
    forms = [message.string] if isinstance(message.string, str) else [*(message.string or ())]
    known = set(PLACEHOLDER.findall(" ".join(ids)))
    needed = known - ({"%(num)d"} if len(ids) > 1 else set())
    return all(not form or needed <= set(PLACEHOLDER.findall(form)) <= known for form in forms)
