"""The array type that every room shares."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

FloatArray: TypeAlias = npt.NDArray[np.float64]


def frozen(values: npt.ArrayLike) -> FloatArray:
    """Return a read-only float64 copy: a frozen dataclass does not reach inside numpy."""
    copy = np.array(values, dtype=np.float64)
    copy.setflags(write=False)
    return copy
