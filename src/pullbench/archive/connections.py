"""One pen and many pairs of eyes: a connection that writes, and connections that only read.

In WAL mode readers never wait for the writer, nor the writer for them.  SQLite itself is safe here (it is
built for use by several threads); a lock keeps the pen to one thread at a time, and a reading connection is
lent to one thread at a time, hence check_same_thread is off.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from pullbench.archive import faults
from pullbench.archive.opening import connect


class Pen:
    """The writing connection; `lock` is held for as long as a change takes."""

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self._connection, self._path = connection, path
        self.lock = threading.RLock()

    @contextmanager
    def transaction(self) -> Iterator[sqlite3.Connection]:
        """Commit what is done inside all together, or nothing of it when anything fails.

        Raises LogbookError; the connection can be used on afterwards.
        """
        with self.lock, faults.plainly(self._path):
            connection = self._connection
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                if connection.in_transaction:  # a full disk may have rolled back by itself
                    connection.execute("ROLLBACK")
                raise

    def close(self) -> None:
        """Close for good; the last to close a file tidies its write-ahead log away."""
        with self.lock:
            self._connection.close()


class Readers:
    """Connections that only read, lent out one thread each and used again."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._lock = threading.Lock()
        self._idle: list[sqlite3.Connection] = []
        self._closed = False

    @contextmanager
    def one(self) -> Iterator[sqlite3.Connection]:
        """Lend a connection.  Raises LogbookError for what goes wrong inside."""
        with faults.plainly(self._path):
            connection = self._taken()
            try:
                yield connection
            finally:
                self._give_back(connection)

    def close(self) -> None:
        """Close those that are idle; the others close when they are given back."""
        with self._lock:
            self._closed = True
            idle, self._idle = self._idle, []
        for connection in idle:
            connection.close()

    def _taken(self) -> sqlite3.Connection:
        with self._lock:
            if self._closed:
                raise faults.closed(self._path)
            if self._idle:
                return self._idle.pop()
        return connect(self._path, reading=True)

    def _give_back(self, connection: sqlite3.Connection) -> None:
        with self._lock:
            if not self._closed:
                self._idle.append(connection)
                return
        connection.close()
