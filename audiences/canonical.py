"""One spelling for every value that is digested: canonical JSON (sorted keys, no spaces, no floats)."""

import hashlib
import json
from collections.abc import Mapping, Sequence

_WHAT = "canonical values are text, whole numbers, true, false, nothing, lists and mappings of these"


_ENCODER = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"))
_AS_THEY_ARE = frozenset({str, int, bool, type(None)})


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
    return _ENCODER.encode(_plain(value))


def digest(value: object) -> str:
    """Return the SHA-256 of the canonical JSON of *value*, as 64 hexadecimal signs (FIPS 180-4)."""
    return hashlib.sha256(dump(value).encode()).hexdigest()
