import subprocess
import sys

import pullbench.physics
import pullbench.physics.bench


def test_public_names_are_sorted_and_exist():
    for room in (pullbench.physics, pullbench.physics.bench):
        assert sorted(room.__all__, key=_as_ruff) == room.__all__
        assert all(hasattr(room, name) for name in room.__all__)


def _as_ruff(name):
    """Constants, then classes, then functions, each in order."""
    kind = 0 if name.isupper() else 1 if name[0].isupper() else 2
    return (kind, name.lower())


def test_importing_the_laws_does_not_bring_in_the_bench():
    code = "import sys, pullbench.physics; sys.exit(any('physics.bench' in name for name in sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
