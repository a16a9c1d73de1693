"""The kernel of a page that was closed or left is ended soon; that of a page whose tablet sleeps waits for it."""

from typing import Any

from jupyter_server.base.handlers import APIHandler
from tornado.web import authenticated

__all__ = ["ClosedPage"]


class ClosedPage(APIHandler):
    """What a page says when it is left. Its kernel gets a shorter time of its own by which the server's look for idle ones ends it.

    Not at once, as the page server would: what was typed last is put down first, and a kernel that can't put it down keeps at work, so it stays.
    """

    def initialize(self, after_s: float) -> None:
        """`after_s`: how long a kernel must have rested [s]."""
        self.after_s = after_s

    def check_xsrf_cookie(self) -> None:
        """No mark of its own is asked for, a page that goes has none; that the page is ours, and its token, is seen to at the door."""

    @authenticated
    def post(self, kernel: str) -> Any:
        """A kernel that is not there, or no more, is passed over."""
        spec = self.kernel_manager.get_kernel(kernel).kernel_spec if kernel in self.kernel_manager else None
        if spec is not None:
            spec.metadata["cull_idle_timeout"] = self.after_s
        self.set_status(204)
        self.finish()
