"""A listening socket on loopback."""

import socket

_WAITING = 64


def listening() -> socket.socket:
    """Return a socket that listens on a free port of 127.0.0.1; who calls before it is served waits in its queue.

    The protocol is named because asyncio sends small pieces at once (TCP_NODELAY) only on sockets that name it.
    """
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    made.bind(("127.0.0.1", 0))
    made.listen(_WAITING)
    return made
