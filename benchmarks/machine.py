"""The machine the numbers belong to."""

import platform
import shutil
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path


def machine() -> str:
    """Return one line: processor, cores, system, Python and the libraries that matter."""
    import os

    packages = ("numpy", "scipy", "ruptures", "pandas", "pyarrow")
    versions = " ".join(f"{name} {_version(name)}" for name in packages)
    return (
        f"{_processor()}, {os.cpu_count()} cores, {platform.system()} {platform.release()}, "
        f"Python {platform.python_version()}, {versions}"
    )


def chromium() -> str | None:
    """Return the path of the system's Chromium, None without one."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "absent"


def _processor() -> str:
    listing = Path("/proc/cpuinfo")
    if listing.exists():
        for line in listing.read_text().splitlines():
            if line.startswith("model name"):
                return line.split(":", 1)[1].strip()
    return platform.processor() or platform.machine()
