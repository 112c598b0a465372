"""The owners' pages on loopback: the application that ``notices serve`` runs, in a thread of this process."""

from threading import Thread
from types import TracebackType
from typing import Self

import uvicorn
from starlette.types import ASGIApp

from notices.demo.sockets import listening


class Site:
    """Serves *application* on a port of its own while the ``with`` block lasts."""

    def __init__(self, application: ASGIApp) -> None:
        self._socket = listening()
        self.port: int = self._socket.getsockname()[1]
        self._server = uvicorn.Server(
            uvicorn.Config(
                application,
                access_log=False,
                http="h11",
                lifespan="off",
                log_config=None,
                loop="asyncio",
                server_header=False,
                ws="none",
            )
        )
        self._thread = Thread(
            target=self._server.run, kwargs={"sockets": [self._socket]}, name="pages", daemon=True
        )

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _fault: BaseException | None, _trace: TracebackType | None
    ) -> None:
        self._server.should_exit = True
        self._thread.join()
        self._socket.close()
