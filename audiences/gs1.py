"""GS1 element strings and GS1 Digital Link addresses, taken apart into their elements.

Elements known here: (01) GTIN, (10) batch or lot, (11) day of production, (13), (15) and (17) other days, (21) serial
number; lengths and the separator after a variable length by the GS1 General Specifications (from memory), addresses by
GS1 Digital Link: URI Syntax (from memory). Signs are compared folded, so that the difference of a and A is lost.
"""

from collections.abc import Mapping
from urllib.parse import unquote

from audiences.check_characters import ALPHANUMERIC, check_signs
from audiences.folding import fold

LENGTHS: Mapping[str, int] = {"01": 14, "10": 20, "11": 6, "13": 6, "15": 6, "17": 6, "21": 20}
"""The length of each element; for batch and serial the most."""

ELEMENT_SIGNS = fold("!\"%&'()*+,-./:;<=>?_" + ALPHANUMERIC)
"""The signs of batch and serial: GS1 AI encodable character set 82 (from memory), folded."""

_VARIABLE = frozenset({"10", "21"})
_GTIN_LENGTHS = (8, 12, 13, 14)
_SEPARATOR = "\x1d"  # stands for FNC1 behind an element of variable length
_SYMBOLOGIES = ("]D2", "]Q3", "]C1", "]E0", "]J1")  # what a scanner writes before the code, folded
_AI = len("01")


def elements(code: str) -> Mapping[str, str] | None:
    """Return the elements of a code by their application identifier, folded; None where it is none or a GTIN is wrong.

    Three forms are read: with brackets, as a scanner gives them, and as an address.
    """
    text = _SEPARATOR.join(map(fold, code.split(_SEPARATOR)))
    if text.startswith("("):
        found = _bracketed(text)
    elif "/01/" in text:
        found = _address(text)
    else:
        found = _scanned(text)
    if found is None or not all(map(_fits, found, found.values())):
        return None
    if "01" in found:
        found["01"] = found["01"].rjust(LENGTHS["01"], "0")
        if check_signs("gs1_mod_10", found["01"][:-1]) != found["01"][-1]:
            return None
    return dict(sorted(found.items()))


def bracketed(found: Mapping[str, str]) -> str:
    """Return elements as they are printed for people: each identifier in brackets before its value."""
    return "".join(f"({identifier}){value}" for identifier, value in found.items())


def _fits(identifier: str, value: str) -> bool:
    if identifier == "01":
        return value.isdecimal() and value.isascii() and len(value) in _GTIN_LENGTHS
    if identifier in _VARIABLE:
        return 0 < len(value) <= LENGTHS[identifier]
    return value.isdecimal() and value.isascii() and len(value) == LENGTHS[identifier]


def _bracketed(text: str) -> dict[str, str] | None:
    starts = [at for at in range(len(text)) if _opens(text, at)]
    if not starts or starts[0] != 0:
        return None
    found: dict[str, str] = {}
    for begin, end in zip(starts, [*starts[1:], len(text)], strict=True):
        value = begin + len("(01)")
        found.setdefault(text[begin + 1 : value - 1], text[value:end].rstrip(_SEPARATOR))
    return found if len(found) == len(starts) else None


def _opens(text: str, at: int) -> bool:
    """Tell whether a known identifier stands here in brackets; brackets may also stand in a value."""
    return text[at] == "(" and text[at + 3 : at + 4] == ")" and text[at + 1 : at + 3] in LENGTHS


def _scanned(text: str) -> dict[str, str] | None:
    for symbology in _SYMBOLOGIES:
        text = text.removeprefix(symbology)
    text = text.removeprefix(_SEPARATOR)
    found: dict[str, str] = {}
    at = 0
    while at < len(text):
        identifier, at = text[at : at + _AI], at + _AI
        if identifier not in LENGTHS or identifier in found:
            return None
        end = at + LENGTHS[identifier]
        if identifier in _VARIABLE:
            end = text.find(_SEPARATOR, at) if _SEPARATOR in text[at:] else len(text)
        found[identifier] = text[at:end]
        at = end + 1 if text[end : end + 1] == _SEPARATOR else end
    return found or None


def _address(text: str) -> dict[str, str] | None:
    path, _, query = text.partition("#")[0].partition("?")
    steps = path[path.index("/01/") + 1 :].split("/")
    pairs = [*zip(steps[::2], steps[1::2], strict=False)]
    pairs += [(name, value) for name, _, value in (each.partition("=") for each in query.split("&"))]
    known = [(name, fold(unquote(value))) for name, value in pairs if name in LENGTHS]
    found = dict(known)
    return found if len(found) == len(known) else None
