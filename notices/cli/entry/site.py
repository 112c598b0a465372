"""The owners' pages, served."""

import uvicorn
from starlette.applications import Starlette

from notices.respond.app import application
from notices.work import publishing, serving
from notices.work.ports import World
from notices.work.revisions import Signed


def pages(world: World) -> Starlette:
    """Return the owners' pages of the signed revision, and its public page beside them."""

    def bulletin(held: Signed, tag: str) -> str:
        return publishing.served_page(world, held, tag)

    return application(world, key=serving.proof_key(world), bulletin=bulletin)


def serve(world: World, host: str, port: int) -> None:
    """Serve the owners' pages until the process is ended; what a link was fetched by is written nowhere."""
    uvicorn.run(
        pages(world), host=host, port=port, access_log=False, log_level="warning", server_header=False
    )
