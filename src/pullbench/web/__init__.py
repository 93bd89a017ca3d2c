"""The local page and its protocol: loopback by default, read-only without the teacher key."""

from pullbench.web.app import make_app
from pullbench.web.doors import Doors
from pullbench.web.gates import Bench
from pullbench.web.hub import Hub
from pullbench.web.join import Join, join_for, new_code, new_key, room_address
from pullbench.web.serving import Serving, bind

__all__ = [
    "Bench",
    "Doors",
    "Hub",
    "Join",
    "Serving",
    "bind",
    "join_for",
    "make_app",
    "new_code",
    "new_key",
    "room_address",
]
