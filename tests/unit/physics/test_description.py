"""A bench and a pull from a small text, and what is said when the text is wrong."""

from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import BenchError
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench import CONVERTER_80, Bench, Rider, Sensor, Shape, described

TEXT = """
[bench]
mass = "1350 g"
stiffness = "1,5 kN/m"
damping = "12 N s/m"
tilt = "2 deg"

[friction]
static = 0.35
kinetic = "27 %"

[hand]
name = "hesitant"
load = "1500 ms"

[sensor]
rate = "50 Hz"
noise = "5 mN"
range = "0.05 kN"
"""


def test_sizes_are_read_in_their_units():
    told = described(TEXT)
    assert told.bench == Bench(
        mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, tilt_deg=2.0, law=Coulomb(0.35, 0.27)
    )
    assert told.hand == "hesitant"
    assert told.sizes == {"load_s": 1.5}
    assert told.sensor == Sensor(rate_Hz=50.0, noise_N=0.005, range_N=50.0)


def test_only_bench_and_friction_are_needed():
    told = described(
        '[bench]\nmass = "1 kg"\nstiffness = "1 kN/m"\n[friction]\nstatic = 0.4\nkinetic = 0.3\n'
    )
    assert (told.hand, dict(told.sizes), told.sensor) == (None, {}, CONVERTER_80)


@pytest.mark.parametrize(
    ("text", "law"),
    [
        ('law = "coulomb"\nstatic = 0.4\nkinetic = 0.3', Coulomb(0.4, 0.3)),
        ('law = "Stribeck"\nstatic = 0.4\nkinetic = 0.3\nspeed = "5 mm/s"', Stribeck(0.4, 0.3, 0.005)),
        (
            'law = "ageing"\nstatic = 0.4\nkinetic = 0.3\nper_decade = 0.02\nonset = "2 s"',
            Ageing(0.4, 0.3, 0.02, 2.0),
        ),
        *(
            (
                f'law = "rate and state, {memory} law"\nmu0 = 0.3\na = 0.01\nb = 0.02\n'
                'slip_distance = "0.01 mm"\nreference_speed = "1 mm/s"\ncreep_speed = "0.1 mm/s"',
                RateState(0.3, 0.01, 0.02, Dc_m=1e-5, V0_m_s=1e-3, creep_m_s=1e-4, law=memory),
            )
            for memory in ("ageing", "slip")
        ),
    ],
)
def test_every_law_can_be_described(text, law):
    made = described(f'[bench]\nmass = "1 kg"\nstiffness = "1 kN/m"\n[friction]\n{text}\n').bench.law
    assert type(made) is type(law)
    for name in law.__slots__:
        expected = getattr(law, name)
        assert getattr(made, name) == (pytest.approx(expected) if isinstance(expected, float) else expected)


def test_a_rider_and_a_shape_can_be_described():
    more = '[rider]\nmass = "200 g"\nstatic = 0.2\nkinetic = 0.15\n'
    more += '[shape]\nstring_height = "3 cm"\ncentre_to_front = "8 cm"\n'
    bench = described(TEXT + more).bench
    assert bench.rider == Rider(mass_kg=0.2, mu_s=0.2, mu_k=0.15)
    assert bench.shape == Shape(string_m=0.03, front_m=0.08)


def test_friction_scatters_from_pull_to_pull_as_described():
    told = described(TEXT.replace('tilt = "2 deg"', 'between_pulls = "4 %"'))
    rng = np.random.default_rng(1)
    factors = [told.bench_for(rng).law.mu_s / 0.35 for _ in range(400)]
    assert np.std(factors) == pytest.approx(0.04, rel=0.15)
    assert described(TEXT).bench_for(rng) == described(TEXT).bench
    ratio = [bench.law.mu_k / bench.law.mu_s for bench in (told.bench_for(rng) for _ in range(5))]
    assert ratio == pytest.approx([0.27 / 0.35] * 5)


def test_the_bench_of_the_documentation_is_read_as_it_stands_there():
    page = (Path(__file__).parents[3] / "docs" / "rehearse.md").read_text(encoding="utf-8")
    told = described(page.partition("```toml")[2].partition("```")[0])
    assert told.bench.mass_kg == 1.35
    assert told.bench.rider.mass_kg == pytest.approx(0.2)
    assert told.bench.shape.front_m == pytest.approx(0.08)
    assert told.sensor.jitter_s == pytest.approx(1e-3)
    assert told.sizes["tremor"] == pytest.approx(0.003)
    assert told.between_pulls == pytest.approx(0.03)


MISTAKES = [
    ('mass = "1350 g"', 'mass = "-1 kg"', "mass-not-positive", "Line 3: Mass is -1 kg"),
    ('mass = "1350 g"', "mass = 1.35", "bench-text-size-unreadable", "Line 3: mass is 1.35"),
    ('mass = "1350 g"', 'mass = "1.35 stone"', "bench-text-size-unreadable", "kg, g, lb"),
    ('mass = "1350 g"\n', "", "bench-text-incomplete", "[bench] has no mass"),
    ('"1,5 kN/m"', '"0 N/m"', "bench-impossible", "Line 4: Stiffness is 0 N/m"),
    ("stiffness", "stifness", "bench-text-unknown", "Line 4: [bench] has no 'stifness'"),
    ('tilt = "2 deg"', 'tilt = "100 deg"', "tilt-out-of-range", "Line 6: Tilt"),
    ("static = 0.35", "static = 0.2", "coefficients-impossible", "Line 9: Static coefficient 0.2"),
    ("static = 0.35", "static = nan", "bench-text-size-unreadable", "Line 9: static is nan"),
    ("static = 0.35", "static = true", "bench-text-size-unreadable", "Line 9: static is True"),
    (
        "static = 0.35",
        'static = 0.35\nlaw = "Coloumb"',
        "bench-text-unknown",
        "Line 10: The law is 'Coloumb'",
    ),
    ("[friction]", "[frictoin]", "bench-text-unknown", "Line 8: 'frictoin' is unknown"),
    ('name = "hesitant"', 'name = "wild"', "bench-text-unknown", "Line 13: The hand is 'wild'"),
    ('load = "1500 ms"', 'load = "-2 s"', "hand-size-impossible", "Line 14: load_s is -2"),
    ('rate = "50 Hz"', 'rate = "0 Hz"', "sensor-impossible", "Line 17: rate_Hz of the sensor is 0"),
    ('rate = "50 Hz"', 'rate = "50 Hz', "bench-text-unreadable", "line 17"),
    ("[sensor]", "sensor]", "bench-text-unreadable", "line 16"),
    ('tilt = "2 deg"', 'between_pulls = "90 %"', "bench-text-impossible", "Line 6: between_pulls is 0.9"),
]


@pytest.mark.parametrize(("right", "wrong", "code", "said"), MISTAKES)
def test_a_mistake_is_one_error_with_its_value_and_line(right, wrong, code, said):
    assert right in TEXT
    with pytest.raises(BenchError) as refused:
        described(TEXT.replace(right, wrong))
    assert refused.value.code == code
    assert said in str(refused.value)
    assert refused.value.allowed


@pytest.mark.parametrize(("heading", "missing"), [("[bench]", "bench"), ("[friction]", "friction")])
def test_a_missing_table_is_named(heading, missing):
    before, _, after = TEXT.partition(heading)
    rest = after.partition("\n\n")[2]
    with pytest.raises(BenchError, match=rf"has no \[{missing}\]") as refused:
        described(before + rest)
    assert refused.value.code == "bench-text-incomplete"


@settings(max_examples=150, deadline=None)
@given(text=st.text(max_size=80), at=st.integers(0, len(TEXT)))
def test_any_damage_to_the_text_is_refused_or_read_but_never_a_crash(text, at):
    damaged = TEXT[:at] + text + TEXT[at:]
    with suppress(BenchError):
        assert described(damaged).bench.mass_kg > 0
