"""The reader measured far outside the tests' own ranges; written to docs/accuracy.md by `make accuracy`.

`draw` makes a pull with known truth, `oracle` reads it as well as one could who was told the moments,
`measure` reads one with the whole chain, `cells` counts by kind of hand, law, rate, mass and noise,
`page` writes it down, `causes` says why what fails does so.  `laws` adds what many pulls are made into.
"""

import os

# One thread a process: the processes share the cores already. The libraries read it when they are imported.
for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")
