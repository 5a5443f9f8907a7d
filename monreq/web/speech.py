"""Speech: every text for a person, said in the language at hand; the English sentence is its key."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from babel.numbers import get_decimal_symbol
from babel.support import NullTranslations
from flask import g, has_app_context
from flask_babel import get_locale, get_translations
from jinja2 import pass_eval_context
from jinja2.nodes import EvalContext
from markupsafe import Markup

from monreq.domain.refusals import Refusal

ENGLISH: Final = "en"

MINUS: Final = "\N{MINUS SIGN}"
"""The sign in every language: as wide as the plus, and never broken from its figure as a hyphen is."""

_FROM_RIGHT: Final = "\N{RIGHT-TO-LEFT MARK}"
_ISOLATE, _END = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"


@dataclass(frozen=True, slots=True)
class Language:
    """A language of the pages.

    Attributes:
        name: What its speakers call it.
        direction: Where its lines begin, as HTML says it.
    """

    code: str
    name: str
    direction: str = "ltr"


LANGUAGES: Final[Mapping[str, Language]] = {
    one.code: one
    for one in (
        Language(ENGLISH, "English"),
        Language("de", "Deutsch"),
        Language("es", "Español"),
        Language("fr", "Français"),
        Language("pt", "Português"),
        Language("ja", "日本語"),
        Language("ar", "العربية", "rtl"),
    )
}


@dataclass(frozen=True, slots=True)
class _Voice:
    """What a language is spoken with."""

    language: Language
    texts: NullTranslations
    decimal_mark: str


def language() -> Language:
    """Return the language at hand: the request's, or one that was forced; English where there is neither."""
    return _voice().language


def _(text: str, **values: object) -> str:
    """Say a text; `%(name)s` in it is replaced by the value of that name, and `%%` stands for a percent sign."""
    return said_as(text, values)


def ngettext(one: str, several: str, number: int, **values: object) -> str:
    """Say a text in the form that its language has for a number, which is `%(num)s` in it."""
    said = _voice().texts.ungettext(one, several, number)
    return str(said % isolated({"num": number, **values}))


def N_(text: str) -> str:  # noqa: N802 - the mark's usual name, common practice
    """Mark a text that is said later, by `_` where it is shown."""
    return text


def listed(parts: Iterable[str]) -> str:
    """Say one thing after another; from right to left each keeps its own direction."""
    return _joined(_(", "), parts)


def one_by_one(parts: Iterable[str]) -> str:
    """Say things that have commas in them one after another."""
    return _joined(_("; "), parts)


def all_of(parts: Iterable[str]) -> str:
    """Say things that go together: Bass and Drums."""
    return _joined(_(" and "), parts)


def said_as(text: str, values: Mapping[str, object]) -> str:
    """Say a text with values of any names."""
    return str(_voice().texts.ugettext(text) % isolated(values))


def unfilled(text: str) -> str:
    """Say a text with the names of its values still in it, for the page's script to fill."""
    return str(_voice().texts.ugettext(text))


def refusal_said(refusal: Refusal) -> str:
    """Say what a refusal tells a person."""
    return said_as(refusal.text, refusal.values)


def decimal(figure: str) -> str:
    """Write a figure that has a point with the decimal mark of the language at hand.

    Digits stay Latin in every language (chosen: they are what stands on the desk).
    """
    return figure.replace(".", _voice().decimal_mark)


def isolated(values: Mapping[str, object]) -> dict[str, object]:
    """Return values so that names and signed figures keep their own direction inside a line from right to left."""
    if language().direction == "ltr":
        return dict(values)
    return {name: _isolated(value) for name, value in values.items()}


def _voice() -> _Voice:
    """Look it up once in each app context: a desk's page says thousands of texts, and each asks for it."""
    if not has_app_context():
        return _voice_at_hand()
    kept: _Voice | None = g.get("voice")
    if kept is None:
        kept = g.voice = _voice_at_hand()
    return kept


def _voice_at_hand() -> _Voice:
    locale = get_locale()
    code = locale.language if locale else ENGLISH
    mark = get_decimal_symbol(code, numbering_system="latn")
    return _Voice(LANGUAGES[code], get_translations(), mark)


def _joined(between: str, parts: Iterable[str]) -> str:
    if language().direction == "ltr":
        return between.join(parts)
    each = [f"{_ISOLATE}{part}{_END}" for part in parts]
    return _FROM_RIGHT * bool(each) + between.join(each)


def _isolated(value: object) -> object:
    if isinstance(value, Markup):
        return _ISOLATE + value + _END
    return f"{_ISOLATE}{value}{_END}" if isinstance(value, str) else value


@pass_eval_context
def gettext_in_page(page: EvalContext, text: str, /, **values: Any) -> str:
    """Say a text in a template; its values are escaped, its own markup stands."""
    return _formatted(page, _voice().texts.ugettext(text), values)


@pass_eval_context
def ngettext_in_page(page: EvalContext, one: str, several: str, number: int, /, **values: Any) -> str:
    """Say a text in a template in the form that its language has for a number."""
    return _formatted(page, _voice().texts.ungettext(one, several, number), {"num": number, **values})


def _formatted(page: EvalContext, said: str, values: Mapping[str, object]) -> str:
    return (Markup(said) if page.autoescape else said) % isolated(values)  # noqa: S704 - catalogues are ours
