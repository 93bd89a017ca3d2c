"""Class sets made by hand for the pages: two seats, one problem with a number and a choice, awkward letters in it."""

from pullbench.model.problem import Given, PairFriction, Part, Problem, Step, WrongAnswer
from pullbench.model.scene import Body, ForceArrow, Scene
from pullbench.render.sheets import ClassSet
from pullbench.teach.lesson import Lesson

AWKWARD = 'felt #let "x" <b> \\ $ & _more_ *bold* [note] @home'
SCENE = Scene(bodies=(Body(name="sled"),), described="A sled on a level floor.")
SOLVED = Scene(
    bodies=(
        Body(
            name="sled",
            forces=(
                ForceArrow(
                    kind="weight", symbol="W", words="weight", length_N=9.8, direction_deg=-90, value_N=9.81
                ),
            ),
        ),
    ),
    described="A sled on a level floor, with its weight.",
)
PAIR = PairFriction(
    sole=AWKWARD, floor="stage floor", mu_s=0.42, mu_k=0.30, u_mu_s=0.01, u_mu_k=0.01, source="today",
    told="7 pulls of 2026-11-25",
)  # fmt: skip


def problem(seat, *, text="A sled with {sole} of mass `m = {m}`.", figure=SCENE):
    m = 1.5 * seat
    pull = 0.42 * m * 9.81
    number = Part(
        key="a", ask="What pull starts it?", form="number", answer=pull, unit="N", tolerance=0.02 * pull,
        wrong=(WrongAnswer(idea="mass for weight", value=0.42 * m),),
        hints=("What presses on the floor?",),
        solution=(Step("On the level the normal force is the weight.", f'F = mu_s m g = "{pull:.3f} N"'),),
    )  # fmt: skip
    choice = Part(
        key="b", ask="And to keep it going?", form="choice", answer=1, options=("more", "less: `mu_k < mu_s`"),
        wrong=(WrongAnswer(idea="it needs more to keep going", option=0),),
        solution=(Step("Kinetic friction is the smaller one."),),
    )  # fmt: skip
    return Problem(
        kind="by-hand", level=2, seed=seat, title="Start it", parts=(number, choice), pair=PAIR,
        text=text.format(sole=AWKWARD, m=f'"{m:.1f} kg"'), given=(Given("m", m, "kg", 2), Given("g", 9.81, "N/kg")),
        figure=figure, key_figure=SOLVED if figure else None,
    )  # fmt: skip


def class_set(seats=2, *, label=None, **more):
    pair = PAIR if label is None else PairFriction(
        sole="felt", floor="stage floor", mu_s=0.42, mu_k=0.30, u_mu_s=0.01, u_mu_k=0.01, source="today",
        told="7 pulls of 2026-11-25", label=label,
    )  # fmt: skip
    versions = tuple((problem(seat, **more),) for seat in range(1, seats + 1))
    return ClassSet(seed=12, lesson=Lesson(pair=pair), versions=versions)
