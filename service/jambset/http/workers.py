"""Several server processes behind the same sockets."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from multiprocessing.process import BaseProcess

from uvicorn.supervisors import Multiprocess


class Workers(Multiprocess):
    """uvicorn's own, but for how they end."""

    def join_all(self) -> None:
        """Close the sockets here too before waiting: a caller meanwhile would be neither answered nor refused."""
        for one in self.sockets:
            one.close()
        super().join_all()


def stop_with_parent() -> None:
    """Have a worker stop, as if told to, once the process is gone that started it; in any other this does nothing.

    A supervisor that is killed tells nobody: its workers would keep the port, and the next one couldn't listen.
    """
    if (parent := multiprocessing.parent_process()) is not None:
        threading.Thread(target=_stop_after, args=(parent,), daemon=True).start()


def _stop_after(parent: BaseProcess) -> None:
    parent.join()
    os.kill(os.getpid(), signal.SIGTERM)
