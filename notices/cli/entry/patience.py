"""A connection's patience: who does not send a whole request head in time is let go, so that others find room."""

import asyncio

from uvicorn.protocols.http.h11_impl import H11Protocol


class PatientProtocol(H11Protocol):
    """HTTP/1.1 that waits so many seconds for a request's first line and headers, at the first as at each later one."""

    within = 20.0
    _deadline: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]  # as uvicorn has it
        """Begin to wait for the first request."""
        super().connection_made(transport)
        self._wait()

    def on_response_complete(self) -> None:
        """Begin to wait for the next request."""
        super().on_response_complete()
        self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no longer."""
        self._forget()
        super().connection_lost(exc)

    def _wait(self) -> None:
        self._forget()
        self._deadline = self.loop.call_later(self.within, self._end)

    def _forget(self) -> None:
        if self._deadline is not None:
            self._deadline.cancel()
            self._deadline = None

    def _end(self) -> None:
        under_way = getattr(self.cycle, "response_complete", True) is False
        if not under_way:
            self.transport.close()
