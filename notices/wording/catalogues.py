"""Look up what we ourselves say to owners, in the catalogue of a language (``locales/TAG/notices.po``)."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from gettext import c2py

from notices.wording import languages, placeholders, po

# GNU gettext manual, "Plural forms", over the categories of the Unicode CLDR. Written here because
# Babel's headers are wrong for Arabic (two forms swapped) and Hebrew (no dual).
PLURALS: Mapping[str, str] = {
    "ar": (
        "nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5);"
    ),
    "cs": "nplurals=3; plural=(n==1 ? 0 : n>=2 && n<=4 ? 1 : 2);",
    "de": "nplurals=2; plural=(n != 1);",
    "en": "nplurals=2; plural=(n != 1);",
    "es": "nplurals=2; plural=(n != 1);",
    "fr": "nplurals=2; plural=(n > 1);",
    "he": "nplurals=3; plural=(n==1 ? 0 : n==2 ? 1 : 2);",
    "it": "nplurals=2; plural=(n != 1);",
    "ja": "nplurals=1; plural=0;",
    "nl": "nplurals=2; plural=(n != 1);",
    "pl": "nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<12 || n%100>14) ? 1 : 2);",
    "pt": "nplurals=2; plural=(n > 1);",
    "pt-pt": "nplurals=2; plural=(n != 1);",
    "zh": "nplurals=1; plural=0;",
}

_Key = tuple[str, str]  # msgid and its plural, "" where it has none


class CatalogueError(ValueError):
    """Raised where a shipped catalogue cannot be used: not PO, or without the plural rule of its language."""


def msgid(text: str) -> str:
    """Mark *text* for the catalogues where it is written, to be looked up later; return it as it is."""
    return text


def plural_header(tag: str) -> str:
    """Return the ``Plural-Forms`` line of a language; raise CatalogueError where none is known."""
    for candidate in languages.fallbacks(languages.canonical(tag)):
        if candidate in PLURALS:
            return PLURALS[candidate]
    raise CatalogueError(f"no plural rule is known for {tag}")


def plural_count(tag: str) -> int:
    """Return how many forms a counted sentence has in a language."""
    return int(plural_header(tag).partition("=")[2].partition(";")[0])


def nearest(shipped: Mapping[str, str], tag: str, domain: str) -> str | None:
    """Return the text of *shipped* (``TAG/DOMAIN`` to PO text) that serves *tag*, by RFC 4647 lookup: de for de-AT."""
    by_tag = {
        languages.canonical(name.partition("/")[0]): name for name in shipped if name.endswith(f"/{domain}")
    }
    return next(
        (shipped[by_tag[one]] for one in languages.fallbacks(languages.canonical(tag)) if one in by_tag), None
    )


@cache
def _rule(header: str) -> Callable[[int], int]:
    return c2py(header.partition("plural=")[2].rstrip("; "))


def plural_index(tag: str, n: int) -> int:
    """Return which form a language takes for *n* pieces, counted from 0."""
    return _rule(plural_header(tag))(n)


@dataclass(frozen=True, kw_only=True, slots=True)
class Catalogue:
    """The sentences of one language; one that is not written here is said as its msgid.

    That no notice goes out half translated is held by *missing*, before anything is composed.
    """

    tag: str
    messages: Mapping[_Key, tuple[str, ...]]
    unread: bool = False
    """Whether nobody who grew up with the language has read it: its head says ``X-Read-By: nobody``."""

    @property
    def direction(self) -> languages.Direction:
        """Say which way its texts run."""
        return languages.direction(self.tag)

    def gettext(self, source: str, /, **values: str) -> str:
        """Return the sentence; with *values* fill every placeholder of it, without leave them standing."""
        text = self.messages.get((source, ""), (source,))[0]
        return placeholders.fill(text, values) if values else text

    def ngettext(self, one: str, many: str, n: int, /, **values: str) -> str:
        """Return the sentence for *n* pieces, its ``%(count)s`` filled in Latin digits."""
        forms = self.messages.get((one, many))
        text = forms[plural_index(self.tag, n)] if forms else (one if n == 1 else many)
        return placeholders.fill(text, {"count": str(n), **values})


@lru_cache(maxsize=64)  # every message asks for its language's, and a PO text takes some milliseconds
def read_catalogue(po_text: str, tag: str) -> Catalogue:
    """Read a PO text; fuzzy, obsolete and half-written entries are left out. Raise CatalogueError."""
    found = po.read(po_text)
    if found.faults:
        raise CatalogueError(f"{tag}: line {found.faults[0].line}: {found.faults[0].message}")
    header = found.headers.get("plural-forms", "")
    if header != plural_header(tag):
        raise CatalogueError(f"{tag}: Plural-Forms must be {plural_header(tag)!r}, not {header!r}")
    usable = [entry for entry in found.entries if entry.complete and not entry.obsolete]
    for entry in usable:
        wanted = plural_count(tag) if entry.plural else 1
        if len(entry.translations) != wanted:
            raise CatalogueError(f"{tag}: line {entry.line}: {wanted} forms are needed")
    return Catalogue(
        tag=tag,
        messages={(entry.msgid, entry.plural): entry.translations for entry in usable},
        unread=found.unread,
    )


def missing(catalogue: Catalogue, msgids: Iterable[str | tuple[str, str]]) -> tuple[str, ...]:
    """Return those *msgids* (a pair where counted) that the catalogue does not hold, in order, each once."""
    wanted = ((item, "") if isinstance(item, str) else item for item in msgids)
    return tuple(dict.fromkeys(key[0] for key in wanted if key not in catalogue.messages))
