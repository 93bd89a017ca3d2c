"""Normal gravity at a place on Earth: what a kilogram weighs where the lesson is."""

from __future__ import annotations

import math

from pullbench.errors import ConditionsError

STANDARD_GRAVITY_M_S2 = 9.80665
"""Conventional value of the 3rd CGPM (1901), exact; for when the place is not known."""

# WGS 84 (NGA.STND.0036): equatorial gravity, Somigliana's constant, first eccentricity squared,
# semi-major axis, flattening, and m = (angular speed)² a² b / GM.
_EQUATOR_M_S2 = 9.7803253359
_SOMIGLIANA = 0.00193185265241
_ECCENTRICITY_SQUARED = 0.00669437999014
_SEMI_MAJOR_AXIS_M = 6378137.0
_FLATTENING = 1 / 298.257223563
_CENTRIFUGAL_RATIO = 0.00344978650684

_LOWEST_M, _HIGHEST_M = -500.0, 9000.0  # from the shore of the Dead Sea to the top of Everest


def normal_gravity_m_s2(latitude_deg: float, height_m: float = 0.0) -> float:
    """Return the normal gravity on the WGS 84 ellipsoid, in m/s².

    latitude_deg: geodetic, north positive, -90 to 90.  height_m: above the ellipsoid, -500 to 9000.

    Somigliana's closed formula with the second-order free-air correction (NGA.STND.0036, ch. 4).
    Local anomalies, typically below 1e-3 m/s², are left out.  Raises ConditionsError.
    """
    if not abs(latitude_deg) <= 90:
        raise ConditionsError(
            "latitude-out-of-range",
            f"Latitude is {latitude_deg:g}°.",
            "It must lie between -90° and 90°.",
            "Give the latitude in decimal degrees, south negative.",
        )
    if not _LOWEST_M <= height_m <= _HIGHEST_M:
        raise ConditionsError(
            "height-out-of-range",
            f"Height is {height_m:g} m.",
            f"It must lie between {_LOWEST_M:g} m and {_HIGHEST_M:g} m.",
            "Give the height above the sea in metres.",
        )
    sin2 = math.sin(math.radians(latitude_deg)) ** 2
    at_sea_level = _EQUATOR_M_S2 * (1 + _SOMIGLIANA * sin2) / math.sqrt(1 - _ECCENTRICITY_SQUARED * sin2)
    rise = height_m / _SEMI_MAJOR_AXIS_M
    falloff = 1 + _FLATTENING + _CENTRIFUGAL_RATIO - 2 * _FLATTENING * sin2
    return at_sea_level * (1 - 2 * falloff * rise + 3 * rise**2)
