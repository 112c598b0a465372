"""The owners' pages, served."""

import uvicorn

from notices.respond.app import application
from notices.work.ports import World


def serve(world: World, host: str, port: int) -> None:
    """Serve the owners' pages until the process is ended; what a link was fetched by is written nowhere."""
    uvicorn.run(
        application(world), host=host, port=port, access_log=False, log_level="warning", server_header=False
    )
