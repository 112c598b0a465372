"""The templates: layout filled with phrases once a variant, into a second template that is filled once an owner."""

from collections.abc import Callable, Mapping
from functools import lru_cache

import mjml
from jinja2 import DictLoader, Environment, StrictUndefined, Template
from markupsafe import Markup

from notices.compose.lint import lint
from notices.compose.phrases import Phrase
from notices.compose.speaking import Speaker
from notices.wording.formats import colon

MAIL_STYLES: Mapping[str, Markup] = {
    name: Markup(css)  # noqa: S704 - our own constants
    for name, css in {
        "sans": "Helvetica, Arial, sans-serif",
        "h1": "margin:0;font-family:Georgia, serif;font-size:30px;line-height:36px;font-weight:700",
        "h2": "margin:0;font-family:Georgia, serif;font-size:21px;line-height:27px;font-weight:700",
        "lead": "margin:0;font-size:20px;line-height:27px;font-weight:700",
        "p": "margin:0 0 8px",
        "list": "margin:0 0 8px",
        "item": "margin:0 0 8px",
        "row": "margin:0 0 4px",
    }.items()
}


class LayoutError(ValueError):
    """Raised where a template of ours is at fault: an unknown tag, or a bare text where a phrase must stand."""


def _shown(as_html: Callable[[Phrase], str], value: object) -> str:
    """Write a phrase; a bare text is refused, so that nothing unescaped can slip into a notice."""
    if isinstance(value, Phrase):
        return as_html(value)
    if isinstance(value, Markup):
        return value
    raise LayoutError(f"a template writes a {type(value).__name__} where a phrase must stand")


def _raw(value: object) -> Markup:
    """Pass a value that the layout itself made, never an author's."""
    return Markup(str(value))  # noqa: S704 - only layout constants and rendered macros are piped here


@lru_cache(maxsize=8)
def _html_layouts(templates: tuple[tuple[str, str], ...]) -> Environment:
    environment = Environment(
        loader=DictLoader(dict(templates)),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=lambda value: _shown(Phrase.html, value),
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(raw=_raw, attr=Phrase.attribute)
    return environment


@lru_cache(maxsize=16)
def _text_layouts(templates: tuple[tuple[str, str], ...], rtl: bool) -> Environment:  # noqa: FBT001 - a cache key
    environment = Environment(
        loader=DictLoader(dict(templates)),
        autoescape=False,  # noqa: S701 - plain text has nothing to escape
        undefined=StrictUndefined,
        finalize=lambda value: _shown(lambda phrase: phrase.text(rtl=rtl), value),
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(raw=_raw)
    return environment


def _frozen(templates: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted(templates.items()))


def html(templates: Mapping[str, str], name: str, speaker: Speaker, **values: object) -> str:
    """Fill a layout with phrases; ``_`` in it is our sentence in the notice's language."""
    template = _html_layouts(_frozen(templates)).get_template(name)
    return template.render(_=speaker.gettext, ngettext=speaker.ngettext, **_sides(speaker), **values)


def text(templates: Mapping[str, str], name: str, speaker: Speaker, **values: object) -> str:
    """Fill a plain text layout with phrases."""
    rtl = speaker.catalogue.direction == "rtl"
    template = _text_layouts(_frozen(templates), rtl).get_template(name)
    return template.render(_=speaker.gettext, ngettext=speaker.ngettext, **_sides(speaker), **values)


def _sides(speaker: Speaker) -> dict[str, Markup]:
    rtl = speaker.catalogue.direction == "rtl"
    return {
        "language": _raw(speaker.catalogue.tag),
        "direction": _raw(speaker.catalogue.direction),
        "start": _raw("right" if rtl else "left"),
        "colon": _raw(colon(speaker.catalogue.tag)),
    }


def mail_styles(speaker: Speaker) -> dict[str, Markup]:
    """Return the styles of a mail, each written on its element: mail programs drop style sheets."""
    start = "right" if speaker.catalogue.direction == "rtl" else "left"
    spacing = f"padding:0;padding-{start}:24px;"
    return {
        **MAIL_STYLES,
        "list": _raw(MAIL_STYLES["list"] + ";" + spacing),
        "box": _raw(f"border-{start}:4px solid #17191c;padding:2px 14px"),
    }


def compiled(source: str) -> str:
    """Compile MJML to the HTML of a mail, once a variant; no font, image or style comes from elsewhere."""
    faults = lint(source)
    if faults:
        raise LayoutError("; ".join(faults))
    return str(mjml.mjml2html(source, disable_comments=True, fonts={}))


@lru_cache(maxsize=512)
def _second_stage(source: str, as_html: bool) -> Template:  # noqa: FBT001 - a cache key
    """Return a second template, parsed once; its delimiters meet no brace of a style sheet."""
    environment = Environment(
        block_start_string="[%",
        block_end_string="%]",
        variable_start_string="[[",
        variable_end_string="]]",
        comment_start_string="[#",
        comment_end_string="#]",
        autoescape=as_html,  # noqa: S701 - off for plain text alone
        undefined=StrictUndefined,
        keep_trailing_newline=True,
        trim_blocks=True,
    )
    return environment.from_string(source)


def fill_html(source: str, values: Mapping[str, object]) -> str:
    """Fill a second template of HTML with values, escaping what is not markup."""
    return _second_stage(source, True).render(values)  # noqa: FBT003 - a cache key


def fill_text(source: str, values: Mapping[str, object]) -> str:
    """Fill a second template of plain text with values."""
    return _second_stage(source, False).render(values)  # noqa: FBT003 - a cache key
