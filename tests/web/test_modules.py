"""The page's pure modules, by node's own test runner."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

HERE = Path(__file__).parent


def test_the_pure_modules_of_the_page_pass_their_own_tests():
    node = shutil.which("node")
    if node is None:
        if os.environ.get("CI"):
            pytest.fail("no node on this machine")
        pytest.skip("no node on this machine: the page's pure modules are tested where there is one")
    tests = sorted(str(path) for path in HERE.glob("*.test.mjs"))
    assert tests
    done = subprocess.run([node, "--test", *tests], capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stdout[-3000:]
