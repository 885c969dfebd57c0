"""Several server processes behind the same sockets."""

from __future__ import annotations

from uvicorn.supervisors import Multiprocess


class Workers(Multiprocess):
    """As uvicorn runs them, but for their end."""

    def join_all(self) -> None:
        """Close the sockets here as well before waiting: else who calls meanwhile is neither answered nor refused."""
        for one in self.sockets:
            one.close()
        super().join_all()
