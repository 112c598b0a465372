"""Name in a reader's words what campaign and register hold as keys; each is looked up in a catalogue."""

from collections.abc import Mapping

from notices.wording.catalogues import msgid

# ANSI Z535.6: the four signal words; ISO 3864-2 gives the same three grades of hazard.
SIGNALS: Mapping[str, str] = {
    "DANGER": msgid("DANGER"),
    "WARNING": msgid("WARNING"),
    "CAUTION": msgid("CAUTION"),
    "NOTICE": msgid("NOTICE"),
}

STANDINGS: Mapping[str, str] = {
    "known": msgid("Known"),
    "not_yet_known": msgid("Not yet known"),
    "being_checked": msgid("Being checked"),
    "withdrawn": msgid("Withdrawn"),
}

ROLES: Mapping[str, str] = {
    "maker": msgid("maker"),
    "importer": msgid("importer"),
    "dealer": msgid("dealer"),
}
