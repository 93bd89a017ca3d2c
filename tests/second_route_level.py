"""A second road to the answers of problems with one sled: linear systems, energy, impulse, pictures and decimals.

Nothing here uses the algebra of `pullbench.physics` or the solver behind the keys.
"""

import cmath
import math

import numpy as np

from second_route import balance


def read_trace(q, figure):
    """Read off the figure, as a pupil does: the first reading, the highest one, the mean of the last second."""
    reading = np.array(figure.y)
    rest, top = reading[0], reading.max()
    last = np.flatnonzero(reading - rest > (top - rest) / 3)[-1]
    a_second = round(1 / (figure.x[1] - figure.x[0]))
    level = reading[last - 4 - a_second : last - 4].mean()  # whole cycles of the ripple, before the let-go
    return {"a": top - rest, "b": level - rest}


def mu_from_pull(q):
    found = balance(
        ({"N": 1}, (q["m_sled"] + q["m_load"]) * q["g"]),
        ({"f_s": 1}, q["F_s"]), ({"f_k": 1}, q["F_k"]),
    )  # fmt: skip
    return {"a": found["N"], "b": found["f_s"] / found["N"], "c": found["f_k"] / found["N"]}


def level_pull(q):
    def found(mu):
        return balance(
            ({"N": 1}, (q["m_sled"] + q["m_load"]) * q["g"]), ({"f": 1, "N": -mu}, 0), ({"F": 1, "f": -1}, 0)
        )

    return {"a": found(q["mu_s"])["F"], "b": found(q["mu_k"])["F"]}


def heaviest_load(q):
    def found(mu):
        return balance(
            ({"N": 1, "m": -q["g"]}, q["m_sled"] * q["g"]), ({"f": 1, "N": -mu}, 0), ({"f": 1}, q["F"])
        )

    return {"a": found(q["mu_s"])["m"], "b": found(q["mu_k"])["m"]}


def held_still(q):
    limit = balance(({"N": 1}, q["m"] * q["g"]), ({"f": 1, "N": -q["mu_s"]}, 0))["f"]
    held = balance(({"f": 1, "a": q["m"]}, q["F"]), ({"a": 1}, 0))["f"]
    assert held < limit < q["mu_1"] * q["m"] * q["g"]  # it can be held, on both
    return {"a": limit, "b": held, "c": held}


def _on_board(q):
    """Return weight along the board and normal force of one body as real and imaginary part of one turned arrow."""
    turned = cmath.rect(q.get("m", 1.0) * q["g"], math.radians(90 - q["theta"]))
    return turned.real, turned.imag


def tilt_stays(q):
    along, across = _on_board(q)
    return {
        "a": along,
        "b": q["mu_s"] * across,
        "c": 0 if math.tan(math.radians(q["theta"])) <= q["mu_s"] else 1,
    }


def slip_height(q):
    angles = [math.atan2(q[h], math.sqrt((q["L"] - q[h]) * (q["L"] + q[h]))) for h in ("h_1", "h_2")]
    bases = [q["L"] * math.cos(angle) for angle in angles]
    twice = math.atan2(2 * q["h_1"], 2 * bases[0])  # both shares of the weight doubled
    return {
        "a": math.degrees(angles[0]), "b": q["h_1"] / bases[0], "c": q["h_2"] / bases[1],
        "d": 1 + round(math.degrees(twice - angles[0])),
    }  # fmt: skip


def push_off(q):
    def way(mass):  # energy of motion = work of friction
        return mass * q["v"] ** 2 / 2 / (q["mu_k"] * mass * q["g"])

    time = q["m"] * q["v"] / (q["mu_k"] * q["m"] * q["g"])  # impulse of friction = momentum lost
    return {"a": way(q["m"]), "b": time, "c": 1 + round(way(2 * q["m"]) / way(q["m"]) - 1)}


def speed_up(q):
    mass = q["m_sled"] + q["m_load"]
    found = balance(
        ({"N": 1}, mass * q["g"]), ({"f": 1, "N": -q["mu_k"]}, 0), ({"f": 1, "a": mass}, q["F"]),
        ({"p": 1, "f": q["t"]}, q["F"] * q["t"]),
    )  # fmt: skip
    return {"a": found["f"], "b": found["a"], "c": found["p"] / mass}


def angled_pull(q):
    alpha = math.radians(q["alpha"])

    def found(mu):
        return balance(
            ({"N": 1, "F": math.sin(alpha)}, q["m"] * q["g"]),
            ({"f": 1, "N": -mu}, 0), ({"F": math.cos(alpha), "f": -1}, 0),
        )  # fmt: skip

    start = found(q["mu_s"])
    return {"a": start["F"], "b": start["N"], "c": found(q["mu_k"])["F"]}


def tilt_slide(q):
    along, across = _on_board(q)
    down = balance(({"N": 1}, across), ({"f": 1, "N": -q["mu_k"]}, 0), ({"f": 1, "a": 1}, along))["a"]
    return {"a": down, "b": max(np.roots([down / 2, 0, -q["L"]]).real)}


def level_to_tilt(q):
    """The floor's whole force leans back by the angle at which a board slips."""
    pressing = (q["m_sled"] + q["m_load"]) * q["g"]
    return {"a": q["F_s"] / pressing, "b": math.degrees(cmath.phase(complex(pressing, q["F_s"])))}


def load_line(q):
    slope, intercept = np.linalg.lstsq(
        np.array([[q[f"W_{k}"], 1.0] for k in range(1, 6)]), [q[f"F_{k}"] for k in range(1, 6)], rcond=None
    )[0]
    return {"a": slope, "b": intercept / slope}


def up_the_board(q):
    along, across = _on_board(q)
    slowing = balance(({"N": 1}, across), ({"f": 1, "N": -q["mu_k"]}, 0), ({"a": 1, "f": -1}, along))["a"]
    way = q["v"] ** 2 / 2 / (along + q["mu_k"] * across)  # energy of one kilogram
    return {"a": slowing, "b": way, "c": 0 if along <= q["mu_s"] * across else 1}


def best_angle(q):
    """The least pull stands square on the floor's force, which leans back by the angle of friction."""
    weight = q["m"] * q["g"]
    floor = complex(weight, q["F_k"])
    unit = floor / abs(floor)
    return {"a": q["F_k"] / weight, "b": math.degrees(cmath.phase(unit)), "c": (weight * unit).imag}


def limits_of_mu(q):
    """The law of propagation with the slopes of F / N in each, found by a step along the imaginary axis."""
    step = 1e-30
    by_F = (complex(q["F_k"], step) / q["N"]).imag / step
    by_N = (q["F_k"] / complex(q["N"], step)).imag / step
    spread = np.diag([q["U_F"] ** 2, q["U_N"] ** 2])
    slopes = np.array([by_F, by_N])
    return {"a": q["F_k"] / q["N"], "b": math.sqrt(slopes @ spread @ slopes), "c": 0}


SECOND_LEVEL = {
    "mu-from-pull": mu_from_pull, "level-pull": level_pull, "heaviest-load": heaviest_load, "held-still": held_still,
    "tilt-stays": tilt_stays, "slip-height": slip_height, "push-off": push_off, "speed-up": speed_up,
    "angled-pull": angled_pull, "tilt-slide": tilt_slide, "level-to-tilt": level_to_tilt, "load-line": load_line,
    "up-the-board": up_the_board, "best-angle": best_angle, "limits-of-mu": limits_of_mu,
}  # fmt: skip
