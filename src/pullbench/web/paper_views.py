"""Pages made for a frame: each is kept for a little while under a name that cannot be guessed, and forgotten."""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict

PATH = "/paper/view/"
MOST_KEPT = 8
MOST_BYTES = 24_000_000


class PaperViews:
    """The pages that were last made for the teacher's frame; the frame itself can carry no key."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, bytes] = OrderedDict()
        self._change = threading.Lock()

    def keep(self, page: str) -> str:
        """Keep a page and return the address it has, with 128 random bits; the oldest are forgotten."""
        name, data = secrets.token_urlsafe(16), page.encode("utf-8")
        with self._change:
            self._kept[name] = data
            while len(self._kept) > 1 and (len(self._kept) > MOST_KEPT or self._size() > MOST_BYTES):
                self._kept.popitem(last=False)
        return f"{PATH}{name}"

    def page(self, name: str) -> bytes | None:
        """Return a page, None when there is none of this name (any more)."""
        with self._change:
            return self._kept.get(name)

    def _size(self) -> int:
        return sum(map(len, self._kept.values()))
