"""The watch: a stream of samples in, pull windows with the rest before and after out."""

from pullbench.detect.watch import Watch, windows

__all__ = ["Watch", "windows"]
