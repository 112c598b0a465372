"""One spelling for every value that is digested: canonical JSON (sorted keys, no spaces, no floats)."""

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence

_WHAT = "canonical values are text, whole numbers, true, false, nothing, lists and mappings of these"


_ENCODER = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"))
_AS_THEY_ARE = frozenset({str, int, bool, type(None)})
_TEXT = frozenset({str})


def _is_plain(value: object) -> bool:
    """Tell whether the encoder may take *value* as it is: exactly the types of JSON, no floats, keys of text."""
    kind = type(value)
    if kind in _AS_THEY_ARE:
        return True
    if kind is dict:
        items: Mapping[object, object] = value  # type: ignore[assignment]  # its type was looked at on the line above
        return _TEXT.issuperset(map(type, items)) and _are_plain(items.values())
    return kind is list and _are_plain(value)  # type: ignore[arg-type]  # the same


def _are_plain(values: Iterable[object]) -> bool:
    return all(type(item) in _AS_THEY_ARE or _is_plain(item) for item in values)


def _plain(value: object) -> object:
    if type(value) in _AS_THEY_ARE:
        return value
    if isinstance(value, str | int):
        return str(value) if isinstance(value, str) else value
    if isinstance(value, dict | Mapping):
        return {str(key): item if type(item) in _AS_THEY_ARE else _plain(item) for key, item in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, bytes | bytearray):
        return [_plain(item) for item in value]
    raise TypeError(f"{_WHAT}, not {type(value).__name__}")


def dump(value: object) -> str:
    """Write *value* as canonical JSON text; raise TypeError for a float or anything else that has two spellings."""
    return _ENCODER.encode(value if _is_plain(value) else _plain(value))


def digest(value: object) -> str:
    """Return the SHA-256 of the canonical JSON of *value*, as 64 hexadecimal signs (FIPS 180-4)."""
    return hashlib.sha256(dump(value).encode()).hexdigest()
