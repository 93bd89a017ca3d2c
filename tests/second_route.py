"""A second road to the answers of problems: each force an unknown, each body two of Newton's laws, one linear system.

Nothing here uses the solver behind the keys.  Where the kind goes by forces, the second road goes by energy where it
can, and the other way about.
"""

import math

import numpy as np


def balance(*equations):
    """Return the unknowns that satisfy every equation: a dict of coefficients by unknown, and the right-hand side."""
    names = sorted({name for terms, _ in equations for name in terms})
    matrix = [[terms.get(name, 0.0) for name in names] for terms, _ in equations]
    return dict(zip(names, np.linalg.solve(matrix, [right for _, right in equations]), strict=True))


def first_false(*residuals):
    """Return which line of a worked solution is the first that the true values do not satisfy."""
    return next(at for at, residual in enumerate(residuals) if abs(residual) > 1e-9)


def string_between(q):
    m1, m2, mu, g = q["m_1"], q["m_2"], q["mu_k"], q["g"]
    found = balance(
        ({"N1": 1}, m1 * g), ({"N2": 1}, m2 * g),
        ({"f1": 1, "N1": -mu}, 0), ({"f2": 1, "N2": -mu}, 0),
        ({"T": 1, "f1": -1, "a": -m1}, 0), ({"T": -1, "f2": -1, "a": -m2}, -q["F"]),
    )  # fmt: skip
    return {"a": found["a"], "b": found["T"]}


def stacked_blocks(q):
    m1, m2, mu, g = q["m_1"], q["m_2"], q["mu_k"], q["g"]
    found = balance(
        ({"N1": 1}, m1 * g), ({"N2": 1, "N1": -1}, m2 * g),
        ({"f1": 1, "N1": -mu}, 0), ({"f2": 1, "N2": -mu}, 0),
        ({"T": 1, "f1": -1}, 0), ({"F": 1, "T": -1, "f1": -1, "f2": -1}, 0),
    )  # fmt: skip
    return {"a": found["T"], "b": found["F"]}


def rider(q):
    m1, m2, g = q["m_1"], q["m_2"], q["g"]
    found = balance(
        ({"N1": 1}, m1 * g), ({"N2": 1, "N1": -1}, m2 * g),
        ({"fr": 1, "N1": -q["mu_r"]}, 0), ({"ff": 1, "N2": -q["mu_k"]}, 0),
        ({"fr": 1, "a": -m1}, 0), ({"F": 1, "fr": -1, "ff": -1, "a": -m2}, 0),
    )  # fmt: skip
    return {"a": 0 if found["fr"] > 0 else 1, "b": found["a"], "c": found["F"]}


def flatbed(q):
    limit = balance(({"N": 1}, q["m"] * q["g"]), ({"f": 1, "N": -q["mu_s"]}, 0))["f"]
    return {"a": limit, "b": q["m"] * (q["v"] * 1000 / 3600) ** 2 / 2 / limit}  # energy of motion = work


def hanging_load(q):
    m1, m2, g = q["m_1"], q["m_2"], q["g"]
    found = balance(
        ({"N": 1}, m1 * g), ({"f": 1, "N": -q["mu_k"]}, 0),
        ({"T": 1, "f": -1, "a": -m1}, 0), ({"T": -1, "a": -m2}, -m2 * g),
    )  # fmt: skip
    return {"a": found["a"], "b": found["T"]}


def tilt_pulley(q):
    m1, m2, g, angle = q["m_1"], q["m_2"], q["g"], math.radians(q["theta"])
    across, along = m1 * g * math.cos(angle), m1 * g * math.sin(angle)
    still = balance(
        ({"N": 1}, across), ({"f": 1, "N": -q["mu_s"]}, 0), ({"T": 1, "f": -1}, along), ({"T": 1, "m": -g}, 0)
    )
    moving = balance(
        ({"N": 1}, across), ({"f": 1, "N": -q["mu_k"]}, 0),
        ({"T": 1, "f": -1, "a": -m1}, along), ({"T": -1, "a": -m2}, -m2 * g),
    )  # fmt: skip
    return {"a": still["m"], "b": moving["a"]}


def scenery_push(q):
    m, g, sine, cosine = (
        q["m"],
        q["g"],
        math.sin(math.radians(q["alpha"])),
        math.cos(math.radians(q["alpha"])),
    )
    start = balance(
        ({"N": 1, "F": -sine}, m * g), ({"f": 1, "N": -q["mu_s"]}, 0), ({"F": cosine, "f": -1}, 0)
    )
    kept = balance(
        ({"N": 1}, m * g + q["F"] * sine), ({"f": 1, "N": -q["mu_k"]}, 0), ({"f": 1, "a": m}, q["F"] * cosine)
    )
    return {"a": start["F"], "b": start["N"], "c": kept["a"]}


def shoes_and_box(q):
    shoes = balance(({"N": 1}, q["m_1"] * q["g"]), ({"f": 1, "N": -q["mu_1"]}, 0), ({"T": 1, "f": -1}, 0))[
        "T"
    ]
    box = balance(({"N": 1}, q["m_2"] * q["g"]), ({"f": 1, "N": -q["mu_s"]}, 0), ({"T": 1, "f": -1}, 0))["T"]
    return {"a": shoes, "b": box, "c": int(np.argmin([box, shoes]))}


def work_and_heat(q):
    pull = balance(({"N": 1}, q["m"] * q["g"]), ({"f": 1, "N": -q["mu_k"]}, 0), ({"F": 1, "f": -1}, 0))
    work, heat = pull["F"] * q["d"], pull["f"] * q["d"]
    kept = work - heat  # by the sled: no faster, no higher
    return {"a": pull["F"], "b": work, "c": 0 if kept == 0 else 2, "d": work / (q["d"] / q["v"])}


def slide_out(q):
    angle, g, mu, length = math.radians(q["theta"]), q["g"], q["mu_k"], q["L"]
    down = balance(
        ({"N": 1}, g * math.cos(angle)), ({"f": 1, "N": -mu}, 0), ({"f": 1, "a": 1}, g * math.sin(angle))
    )
    left_J = g * length * math.sin(angle) - mu * g * math.cos(angle) * length  # of one kilogram, at the foot
    return {"a": down["a"], "b": math.sqrt(2 * left_J), "c": left_J / (mu * g)}


def braking_track(q):
    speed = q["v"] * 1000 / 3600
    distances = [(times * speed) ** 2 / 2 / (q["mu_k"] * q["g"]) for times in (1, 2)]
    options = (1, 2, 4, 8)
    return {"a": speed, "b": distances[0], "c": options.index(round(distances[1] / distances[0]))}


def conveyor(q):
    push = balance(({"N": 1}, q["m"] * q["g"]), ({"f": 1, "N": -q["mu_k"]}, 0))["f"]
    time = q["m"] * q["v"] / push  # impulse = change of momentum
    box = push / q["m"] * time**2 / 2
    given_J, kept_J = (
        push * q["v"] * time,
        q["m"] * q["v"] ** 2 / 2,
    )  # the belt's work, and what the box has of it
    return {"a": time, "b": q["v"] * time - box, "c": given_J - kept_J}


def mistake_on_tilt(q):
    m, g, angle = q["m"], q["g"], math.radians(q["theta"])
    true = balance(
        ({"N": 1}, m * g * math.cos(angle)), ({"f": 1, "N": -q["mu_k"]}, 0), ({"P": 1}, m * g * math.sin(angle)),
        ({"P": 1, "f": -1, "a": -m}, 0),
    )  # fmt: skip
    lines = (true["N"] - m * g, true["f"] - q["mu_k"] * true["N"], true["P"] - m * g * math.sin(angle),
             true["a"] - (m * g * math.sin(angle) - true["f"]) / m)  # fmt: skip
    return {"a": first_false(*lines), "b": true["a"]}


def mistake_at_rest(q):
    true = balance(({"N": 1}, q["m"] * q["g"]), ({"f": 1, "a": q["m"]}, q["F"]), ({"a": 1}, 0))
    lines = (true["N"] - q["m"] * q["g"], true["f"] - q["mu_s"] * true["N"], q["m"] * true["a"] - q["F"] + true["f"],
             true["a"] - (q["F"] - true["f"]) / q["m"])  # fmt: skip
    return {"a": first_false(*lines), "b": true["f"]}


def mistake_in_units(q):
    slowing, speed = q["mu_k"] * q["g"], q["v"] * 1000 / 3600
    time = speed / slowing
    distance = speed * time - slowing * time**2 / 2
    lines = (0.0, slowing - q["mu_k"] * q["g"], speed - q["v"], distance - speed**2 / 2 / slowing)
    return {"a": first_false(*lines), "b": distance}


def compare_pairs(q):
    step = np.array([1.0, -1.0])
    limits = float(np.sqrt(step @ np.diag([q["U_1"] ** 2, q["U_2"] ** 2]) @ step))
    low, high = sorted((abs(q["mu_1"] - q["mu_2"]) - limits, abs(q["mu_1"] - q["mu_2"]) + limits))
    return {"a": limits, "b": 0 if low > 0 else 1 if high <= q["D"] else 2}


SECOND = {
    "string-between": string_between, "stacked-blocks": stacked_blocks, "rider": rider, "flatbed": flatbed,
    "hanging-load": hanging_load, "tilt-pulley": tilt_pulley, "scenery-push": scenery_push,
    "shoes-and-box": shoes_and_box, "work-and-heat": work_and_heat, "slide-out": slide_out,
    "braking-track": braking_track, "conveyor": conveyor, "mistake-on-tilt": mistake_on_tilt,
    "mistake-at-rest": mistake_at_rest, "mistake-in-units": mistake_in_units, "compare-pairs": compare_pairs,
}  # fmt: skip
