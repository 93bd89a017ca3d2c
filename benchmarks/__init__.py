"""Numbers with the machine named: accuracy beside what people do, speed, the bench's compiled loop, memory, start-up.

`python -m benchmarks` prints them all; the pulls are the tests' own generator, so that both speak of the
same ones.
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
if str(ROOT / "tests") not in sys.path:  # the generator of simulated pulls lives with the tests
    sys.path.insert(0, str(ROOT / "tests"))
