"""The catalogues of translations: finds every text of the program, and puts what is new into every language's file.

`python -m tests.support.catalogues update` (from `.venv`) after a text was added or changed; what it lists is then
to be translated in `monreq/translations/*/LC_MESSAGES/messages.po`, and the same command compiles it.
"""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

import monreq
from hatch_build import catalogue_files, compile_catalogues
from monreq import paths
from monreq.web.speech import ENGLISH, LANGUAGES

PACKAGE = Path(monreq.__file__).parent
ROOT = PACKAGE.parent
TRANSLATED = [code for code in LANGUAGES if code != ENGLISH]

_KEYWORDS = {"_": None, "N_": None, "gettext": None, "ngettext": (1, 2), "say": None}
_SKIPPED = ("node_modules", "static", "translations")

Text = str | tuple[str, str]
"""A text as the code has it, or its singular and plural."""


def texts() -> set[Text]:
    """Return every text that the program says to a person, in English."""
    return {text for text in {*_marked(), *_sentences()} if text}


def file_of(language: str) -> Path:
    """Return where a language's catalogue is kept."""
    return PACKAGE / "translations" / language / "LC_MESSAGES" / "messages.po"


def read(language: str) -> Catalog:
    """Return a language's catalogue; an empty one if there is none yet."""
    path = file_of(language)
    if not path.exists():
        return Catalog(language)
    with path.open("rb") as file:
        return read_po(file, locale=language)


def messages(catalogue: Catalog) -> Iterator[Message]:
    """Give the messages of a catalogue, without its head."""
    return (message for message in catalogue if message.id)


def is_translated(message: Message) -> bool:
    """Tell whether a message has words in each of its forms, and none that were only guessed."""
    forms = message.string if isinstance(message.string, (list, tuple)) else [message.string]
    return all(forms) and not message.fuzzy


def update() -> dict[str, int]:
    """Bring every catalogue to the texts of the program; returns how much each lacks."""
    template = Catalog()
    for text in sorted(texts(), key=str):
        template.add(text)
    lacking = {}
    for language in TRANSLATED:
        catalogue = read(language)
        catalogue.update(template, no_fuzzy_matching=True)
        write(language, catalogue)
        lacking[language] = sum(not is_translated(message) for message in messages(catalogue))
    compile_catalogues(ROOT)
    return lacking


def write(language: str, catalogue: Catalog) -> None:
    """Keep a catalogue: sorted, without dates or places, so that two people's texts rarely meet in one line."""
    path = file_of(language)
    path.parent.mkdir(parents=True, exist_ok=True)
    fresh = path.with_suffix(".new")
    with fresh.open("wb") as file:
        write_po(
            file,
            catalogue,
            no_location=True,
            omit_header=True,
            sort_output=True,
            ignore_obsolete=True,
            width=0,
        )
    fresh.replace(path)


def _marked() -> Iterator[Text]:
    methods = [("**.py", "python"), ("**.html", "jinja2"), ("**.js", "javascript")]
    for folder in (PACKAGE, paths.templates_dir()):
        found = extract_from_dir(
            folder,
            methods,
            {"**.html": {"newstyle_gettext": "true", "silent": "false"}},
            keywords=_KEYWORDS,
            directory_filter=lambda path: Path(path).name not in _SKIPPED,
        )
        for _, _, text, *_ in found:
            yield text if isinstance(text, str) else (text[0], text[1])


def _sentences() -> Iterator[str]:
    """Give the sentences of refusals: those in the classes' docstrings, and those given where one is raised."""
    modules = [ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.rglob("*.py"))]
    classes = [node for module in modules for node in ast.walk(module) if isinstance(node, ast.ClassDef)]
    names = {"Refusal"}
    while found := {one.name for one in classes if names & _bases(one)} - names:
        names |= found
    yield from (ast.get_docstring(one) or "" for one in classes if one.name in names)
    for module in modules:
        yield from _raised_with(module, names)


def _bases(kind: ast.ClassDef) -> set[str]:
    return {base.attr if isinstance(base, ast.Attribute) else getattr(base, "id", "") for base in kind.bases}


def _raised_with(module: ast.Module, names: set[str]) -> Iterator[str]:
    for node in ast.walk(module):
        match node:
            case ast.Raise(exc=ast.Call(func=ast.Name(id=name), args=[ast.Constant(value=str(text)), *_])):
                if name in names:
                    yield text
            case ast.Raise(exc=ast.Call(func=ast.Call(), args=[ast.Constant(value=str(text)), *_])):
                yield text


if __name__ == "__main__":
    if sys.argv[1:] != ["update"]:
        sys.exit(__doc__)
    for code, count in update().items():
        print(f"{code}: {count or 'nothing'} to translate in {file_of(code).relative_to(ROOT)}")  # noqa: T201
    print(f"compiled {len(catalogue_files(ROOT))} catalogues")  # noqa: T201
