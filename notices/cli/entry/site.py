"""The owners' pages, served."""

import socket
from contextlib import suppress

import uvicorn
from starlette.applications import Starlette

from notices.cli.entry.patience import PatientProtocol
from notices.cli.saying import stop
from notices.respond.app import application
from notices.respond.limits import Limits, limits_of
from notices.work import publishing, serving
from notices.work.ports import World
from notices.work.revisions import Signed

_MOST_CONNECTIONS = 1000
_LARGEST_HEAD = 24 * 1024  # bytes of a request's first line and headers
_GRACE = 10  # seconds for the answers that are under way when the process is ended


def pages(world: World, *, limits: Limits | None = None, behind_proxy: bool = False) -> Starlette:
    """Return the owners' pages of the signed revision, and its public page beside them."""

    def bulletin(held: Signed, tag: str) -> str:
        return publishing.served_page(world, held, tag)

    return application(
        world,
        key=serving.proof_key(world),
        bulletin=bulletin,
        limits=limits,
        behind_proxy=behind_proxy,
    )


def listening(host: str, port: int) -> socket.socket:
    """Return a socket that listens, 0 for a free port; end with a sentence where this machine has none to give."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        return socket.create_server((host, port), family=family, backlog=512)
    except OSError as fault:
        stop(f"cannot listen on {host} port {port} ({fault.strerror}); give another with --host or --port")


def serve(world: World, at: socket.socket, *, behind_proxy: bool) -> None:
    """Serve the owners' pages until the process is ended; what a link was fetched by is written nowhere.

    X-Forwarded-For is read by our own limits alone, and only *behind_proxy*.
    """
    server = uvicorn.Server(
        uvicorn.Config(
            pages(world, limits=limits_of(world), behind_proxy=behind_proxy),
            http=PatientProtocol,
            ws="none",
            lifespan="off",
            access_log=False,
            log_config=None,
            log_level="critical",
            proxy_headers=False,
            server_header=False,
            limit_concurrency=_MOST_CONNECTIONS,
            h11_max_incomplete_event_size=_LARGEST_HEAD,
            timeout_graceful_shutdown=_GRACE,
        )
    )
    with suppress(KeyboardInterrupt):
        server.run(sockets=[at])
