"""Contrast as WCAG 2.2 defines it, and the colours that our layouts put upon each other."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

Colour = tuple[int, int, int]


def luminance(colour: Colour) -> float:
    """Return the relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance, for sRGB)."""
    red, green, blue = (
        value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
        for value in (part / 255 for part in colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def ratio(one: Colour, other: Colour) -> float:
    """Return the contrast of two colours, 1 to 21, not rounded (WCAG 2.2, definition of contrast ratio)."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def hexadecimal(text: str) -> Colour:
    """Read ``#rgb`` or ``#rrggbb``; ValueError for anything else."""
    digits = text.strip().removeprefix("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    if not re.fullmatch(r"[0-9a-fA-F]{6}", digits):
        raise ValueError(f"{text!r} is no colour that this reads")
    red, green, blue = bytes.fromhex(digits)
    return red, green, blue


def computed(text: str) -> Colour | None:
    """Read a colour as a browser's computed style writes it; None where it is not opaque."""
    found = re.fullmatch(r"rgb\((\d+), (\d+), (\d+)\)", text)
    return (int(found[1]), int(found[2]), int(found[3])) if found else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Pair:
    """Text of one colour upon another, and the selector that puts it there."""

    selector: str
    ink: str
    ground: str

    @property
    def ratio(self) -> float:
        """Return the contrast of the two."""
        return ratio(hexadecimal(self.ink), hexadecimal(self.ground))


@dataclass(kw_only=True, slots=True)
class Sheet:
    """A style sheet: its colours by name, and what each selector says of colour and background."""

    names: dict[str, str] = field(default_factory=dict)
    rules: list[tuple[str, dict[str, str]]] = field(default_factory=list)

    def colour(self, value: str) -> str | None:
        """Return a value as ``#…``, its name looked up; None where it is no colour of its own."""
        named = re.fullmatch(r"var\((--[a-z-]+)\)", value)
        found = self.names.get(named[1], "") if named else value
        return found if found.startswith("#") else None


def read(css: str) -> Sheet:
    """Read a style sheet of ours; media queries count like the rest."""
    css = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
    sheet = Sheet()
    for selectors, body in re.findall(r"([^{}]+)\{([^{}]*)\}", css):
        said = {
            name.strip(): value.strip()
            for name, _, value in (line.partition(":") for line in body.split(";"))
            if value
        }
        sheet.names |= {name: value for name, value in said.items() if name.startswith("--")}
        sheet.rules += [(selector.strip(), said) for selector in selectors.split(",")]
    return sheet


def pairs(sheet: Sheet) -> Iterator[Pair]:
    """Yield each pair of ink and ground that may meet.

    A rule that names one of the two takes the other from what else is said of its element, else from the page: its
    text colour, or each of the grounds that pages and boxes have.
    """
    grounds = {sheet.names[name] for name in ("--paper", "--wash") if name in sheet.names}
    for selector, said in sheet.rules:
        own = _colours(sheet, said)
        if not own:
            continue
        whole = {**_elsewhere(sheet, selector), **own}
        ground = whole.get("ground", "none")
        for each in sorted(grounds) if ground == "none" else [ground]:
            yield Pair(selector=selector, ink=whole.get("ink", sheet.names["--ink"]), ground=each)


def _elsewhere(sheet: Sheet, selector: str) -> dict[str, str]:
    """Return the colours that all rules for the same element name, with and without class; the last word counts."""
    found: dict[str, str] = {}
    names = {selector, selector.partition(":")[0], re.split(r"[.:]", selector)[0]}
    for name, said in sheet.rules:
        if name in names and name not in {"", "body"}:
            found |= _colours(sheet, said)
    return found


def _colours(sheet: Sheet, said: Mapping[str, str]) -> dict[str, str]:
    """Return what a rule names of *ink* and *ground*; the ground ``none`` lets through what is behind."""
    found = {
        "ink": sheet.colour(said.get("color", "")),
        "ground": sheet.colour(said.get("background", said.get("background-color", ""))),
    }
    if said.get("background") in {"none", "transparent"}:
        found["ground"] = "none"
    return {name: value for name, value in found.items() if value}
