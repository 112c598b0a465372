"""The campaign.yaml of a new folder."""

import json
from importlib.resources import files


def text(*, issuer: str, product: str) -> str:
    """Return the file for a firm and a product; their names are quoted as JSON, which YAML reads as it is."""
    shipped = (files("notices.cli") / "starter.yaml").read_text("utf-8")
    before, named, after = shipped.partition("[[issuer]]")
    return _named(before, product) + (_quoted(issuer) if named else "") + _named(after, product)


def _named(part: str, product: str) -> str:
    return part.replace("[[product]]", _quoted(product))


def _quoted(name: str) -> str:
    return json.dumps(name, ensure_ascii=not name.isprintable())
