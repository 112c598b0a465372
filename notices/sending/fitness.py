"""Whether a message may go into an SMTP dialogue at all: nothing in it may ever become a command."""

import re

from notices.cases.outgoing import Outcome, Parcel
from notices.sending.connecting import Connection

_LONGEST_LINE = 998  # RFC 5322 section 2.1.1, without CRLF
_ADDRESS = re.compile(r"[^\s<>@\x00-\x1f\x7f]{1,64}@[^\s<>@\x00-\x1f\x7f]{1,255}", re.ASCII)
_LONGEST_ADDRESS = 254  # RFC 5321 section 4.5.3.1.3 and erratum 1690


def unfit(parcel: Parcel) -> Outcome | None:
    """Return why no server may be given this message, None where one may."""
    for address in (parcel.sender, parcel.recipient):
        if not address.isascii():
            return _not_sent(553, "5.6.7", "an address is not ASCII")  # RFC 6531 section 3.5
        if not _ADDRESS.fullmatch(address) or len(address) > _LONGEST_ADDRESS:
            return _not_sent(553, "5.1.3", "an address cannot stand in an SMTP command")
    data = parcel.data
    if not (data.endswith(b"\r\n") and data.count(b"\r\n") == data.count(b"\n") == data.count(b"\r")):
        return _not_sent(554, "5.6.0", "the message has line ends other than CRLF")
    if max(map(len, data.split(b"\r\n"))) > _LONGEST_LINE:
        return _not_sent(554, "5.6.0", "the message has a line of more than 998 octets")
    return None


def unfit_for(server: Connection, parcel: Parcel) -> Outcome | None:
    """Return why this server cannot take the message: too big (RFC 1870) or eight-bit (RFC 6152)."""
    limit = server.esmtp_features.get("size", "")
    if limit.isdecimal() and 0 < int(limit) < len(parcel.data):
        return _not_sent(552, "5.3.4", f"bigger than the {limit} octets that the mail server takes")
    if not parcel.data.isascii() and not server.has_extn("8bitmime"):
        return _not_sent(554, "5.6.3", "eight-bit text, which this mail server does not take")
    return None


def _not_sent(code: int, status: str, why: str) -> Outcome:
    return Outcome(result="refused", code=code, enhanced=status, reply=f"not sent: {why}")
