"""What a mail server's reply means for a posting (RFC 5321 section 4.2, RFC 3463)."""

import re

from notices.cases.outgoing import Outcome

_ENHANCED = re.compile(r"([245])\.(\d{1,3})\.(\d{1,3})(?=\s|$)")
_UNPRINTABLE = re.compile(r"[\x00-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]+")
_LONGEST = 500

# RFC 4954 section 6: 530 authentication required, 534 mechanism too weak, 535 credentials invalid; 538 from memory.
_CREDENTIALS = frozenset({530, 534, 535, 538})
_WRONG_PASSWORD = "5.7.8"  # noqa: S105 - RFC 4954 section 6: authentication credentials invalid
# Said of this one message, even where it comes in answer to MAIL FROM (RFC 1870 section 6.1, RFC 3463 X.2.3, X.3.4).
_TOO_BIG = frozenset({"5.2.3", "5.3.4"})
_TOO_BIG_CODE = 552
_PERMANENT = 5


def readable(reply: bytes | str) -> str:
    """Return a reply as one line of at most 500 signs, without control characters."""
    text = reply.decode("utf-8", "replace") if isinstance(reply, bytes) else reply
    return _UNPRINTABLE.sub(" ", text).strip()[:_LONGEST]


def enhanced(code: int, reply: str) -> str | None:
    """Return the RFC 3463 status at the head of a reply, None where it has none or contradicts the code.

    RFC 2034 section 4: the class and the first digit of the code agree; where they do not, the code holds.
    """
    status = _ENHANCED.match(reply)
    return status[0] if status and status[1] == str(code)[0] else None


def refused_sender(code: int, reply: bytes | str) -> Outcome:
    """Judge a refusal of MAIL FROM.

    No recipient has been named yet, so that a lasting refusal is meant for every message of the run, but for
    one that is too big.
    """
    outcome = refused(code, reply)
    too_big = outcome.enhanced in _TOO_BIG or code == _TOO_BIG_CODE
    if outcome.result == "refused" and not too_big:
        return Outcome(result="stop", code=code, enhanced=outcome.enhanced, reply=outcome.reply)
    return outcome


def refused(code: int, reply: bytes | str) -> Outcome:
    """Judge a reply to RCPT, DATA or the final dot that takes no responsibility for the message.

    4yz is later, 5yz refused, want of credentials stop; what is no reply code at all counts as later.
    """
    text = readable(reply)
    status = enhanced(code, text)
    if code in _CREDENTIALS or status == _WRONG_PASSWORD:
        result = "stop"
    elif code // 100 == _PERMANENT:
        result = "refused"
    else:
        result = "later"
    return Outcome(result=result, code=code, enhanced=status, reply=text)


def accepted(code: int, reply: bytes | str) -> Outcome:
    """Word the reply by which the server takes responsibility for a message."""
    text = readable(reply)
    return Outcome(result="handed_over", code=code, enhanced=enhanced(code, text), reply=text)


def is_reply_code(code: int) -> bool:
    """Say whether *code* is one that RFC 5321 section 4.2.1 knows: 2yz to 5yz."""
    return 200 <= code < 600  # noqa: PLR2004 - the reply classes themselves
