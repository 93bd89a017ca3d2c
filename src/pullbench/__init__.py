"""Friction, live: catch every pull of a sled and say static and kinetic with a plus or minus that is true."""

__version__ = "0.1.0"
