"""Several server processes behind the same sockets."""

from __future__ import annotations

from uvicorn.supervisors import Multiprocess


class Workers(Multiprocess):
    """uvicorn's own, but for how they end."""

    def join_all(self) -> None:
        """Close the sockets here too before waiting: a caller meanwhile would be neither answered nor refused."""
        for one in self.sockets:
            one.close()
        super().join_all()
