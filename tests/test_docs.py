"""The documents held against what there is: paths, commands, options, settings, links and sizes."""

import statistics
from pathlib import Path

import pytest

from tests.support import documents
from tests.support.serving import ROOT

DOCUMENTS = ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "deploy/README.md"]
LONGEST_MODULE = 300
LONGEST_FUNCTION = 60
MEDIAN_FUNCTION = 8
LONGEST_README = 200


def text_of(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


@pytest.fixture(params=DOCUMENTS)
def name(request: pytest.FixtureRequest) -> str:
    found: str = request.param
    return found


def test_links_lead_somewhere(name: str) -> None:
    here = (ROOT / name).parent
    inside = [link for link in documents.links_in(text_of(name)) if not link.startswith("https://")]

    missing = [link for link in inside if not leads_somewhere(here, link, name)]

    assert missing == []


def leads_somewhere(here: Path, link: str, name: str) -> bool:
    path, _, anchor = link.partition("#")
    target = here / path if path else ROOT / name
    if not target.exists():
        return False
    return not anchor or anchor in documents.anchors_in(target.read_text(encoding="utf-8"))


def test_paths_exist(name: str) -> None:
    places = [ROOT, ROOT / "monreq", (ROOT / name).parent]

    missing = [
        path
        for path in sorted(documents.paths_in(text_of(name)))
        if not any((place / path).exists() for place in places)
    ]

    assert missing == []


def test_commands_and_their_options_exist(name: str) -> None:
    known = {**documents.commands_in_code(), "test": set()}

    wrong = [
        (command, [option for option in options if option not in known.get(command, set())])
        for command, options in documents.commands_in(text_of(name))
        if command not in known or set(options) - known[command]
    ]

    assert wrong == []


def test_options_exist(name: str) -> None:
    known = set[str]().union(*documents.commands_in_code().values())

    assert documents.options_in(text_of(name)) - known == set()


def test_every_command_and_option_is_in_the_readme() -> None:
    code = documents.commands_in_code()
    readme = text_of("README.md")

    named = {command for command, _ in documents.commands_in(readme)}

    assert set(code) - named == set()
    assert set[str]().union(*code.values()) - documents.options_in(readme) == set()


def test_settings_table_has_every_setting_and_no_other() -> None:
    rows = [
        line.split("|")[1].strip(" `") for line in text_of("README.md").splitlines() if "| `MONREQ_" in line
    ]

    assert sorted(rows) == sorted(documents.settings_in_code())


def test_readme_is_short() -> None:
    assert len(text_of("README.md").splitlines()) < LONGEST_README


def test_pictures_are_small_and_all_told() -> None:
    pictures = {f"screens/{path.name}": path.stat().st_size for path in (ROOT / "docs/screens").glob("*")}

    told = documents.links_in(text_of("docs/screens.md"))

    assert sorted(pictures) == sorted(told)
    assert sum(pictures.values()) < 3_000_000
    assert [name for name, size in pictures.items() if size > 150_000] == []


def test_modules_are_short() -> None:
    found = [*documents.modules(), *documents.modules("tests")]

    modules = {str(path.relative_to(ROOT)): lines for path, _, lines in found}

    assert len(modules) > 200
    assert {name: lines for name, lines in modules.items() if lines > LONGEST_MODULE} == {}


def test_functions_are_short() -> None:
    functions = documents.functions()

    assert len(functions) > 500
    assert [one for one in functions if one.lines > LONGEST_FUNCTION] == []
    assert statistics.median(one.lines for one in functions) <= MEDIAN_FUNCTION


def test_every_module_says_what_belongs_in_it() -> None:
    modules = [*documents.modules(), *documents.modules("tests")]

    silent = [path.name for path, tree, _ in modules if not documents.docstring(tree)]

    assert silent == []


@pytest.mark.parametrize(
    ("words", "home"),
    [
        ("os.environ", "config.py"),
        ("time.time", "app.py"),
        ("secrets.choice", "app.py"),
        ("current_app.extensions", "web/context.py"),
        ("monkey.patch_all", "cli/__init__.py"),
    ],
)
def test_what_belongs_to_one_file_is_in_no_other(words: str, home: str) -> None:
    package = ROOT / "monreq"

    found = [path for path, _, _ in documents.modules() if words in path.read_text(encoding="utf-8")]

    assert found == [package / home]
