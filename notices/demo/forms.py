"""A page as somebody reads it: its words, its links, its forms with what is filled in already."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser

_TYPED = frozenset({"text", "tel", "email", "hidden", ""})
_UNSEEN = frozenset({"style", "script", "title", "head"})


@dataclass(kw_only=True, slots=True)
class Button:
    """One button: the field it sends, if it has a name, and its words."""

    name: str = ""
    value: str = ""
    words: str = ""


@dataclass(kw_only=True, slots=True)
class Form:
    """One form: where it goes, its fields as they stand, what can be chosen, its buttons."""

    action: str = ""
    fields: dict[str, str] = field(default_factory=dict)
    choices: dict[str, list[str]] = field(default_factory=dict)
    buttons: list[Button] = field(default_factory=list)

    def has(self, name: str) -> bool:
        """Say whether a person can fill in, choose or press something of this name."""
        pressed = any(button.name == name for button in self.buttons)
        return name in self.fields or name in self.choices or pressed


class Page(HTMLParser):
    """One page that was answered with, at *address*."""

    def __init__(self, address: str, status: int, body: str) -> None:
        super().__init__(convert_charrefs=True)
        self.address = address
        self.status = status
        self.body = body
        self.forms: list[Form] = []
        self.links: list[str] = []
        self.words = ""
        self._form: Form | None = None
        self._button: Button | None = None
        self._area = ""
        self._select = ""
        self._unseen = 0
        self.feed(body)
        self.close()

    def form(self, *, has: str = "", **fields: str) -> Form | None:
        """Return the first form with these hidden fields in which a person finds *has*; None where there is none."""
        return next(
            (
                form
                for form in self.forms
                if (not has or form.has(has))
                and all(form.fields.get(name) == value for name, value in fields.items())
            ),
            None,
        )

    def link(self, ending: str) -> str | None:
        """Return the first link whose path ends so."""
        return next((link for link in self.links if link.partition("?")[0].endswith(ending)), None)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what opens."""
        given = {name: value or "" for name, value in attrs}
        if tag in _UNSEEN:
            self._unseen += 1
        elif tag == "a" and "href" in given:
            self.links.append(given["href"])
        elif tag == "form":
            self._form = Form(action=given.get("action", ""))
            self.forms.append(self._form)
        elif self._form is not None:
            self._field(self._form, tag, given)

    def handle_endtag(self, tag: str) -> None:
        """Note what closes."""
        if tag in _UNSEEN:
            self._unseen -= 1
        elif tag == "form":
            self._form = None
        elif tag == "button":
            self._button = None
        elif tag == "textarea":
            self._area = ""
        elif tag == "select":
            self._select = ""

    def handle_data(self, data: str) -> None:
        """Gather what can be read."""
        if self._area and self._form is not None:
            self._form.fields[self._area] += data
        elif not self._unseen:
            self.words += data
        if self._button is not None:
            self._button.words += data

    def _field(self, form: Form, tag: str, given: Mapping[str, str]) -> None:
        name, value = given.get("name", ""), given.get("value", "")
        if tag == "button":
            self._button = Button(name=name, value=value)
            form.buttons.append(self._button)
        elif tag == "input" and given.get("type", "") in _TYPED:
            form.fields[name] = value
        elif tag == "input" and given.get("type") == "radio":
            form.choices.setdefault(name, []).append(value)
        elif tag == "textarea":
            self._area = name
            form.fields[name] = ""
        elif tag == "select":
            self._select = name
            form.choices[name] = []
        elif tag == "option" and self._select:
            form.choices[self._select].append(value)
