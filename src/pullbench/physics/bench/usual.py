"""The bench of a rehearsal when no other is described."""

USUAL_BENCH = """\
# The bench of the rehearsal when no other is given. Everything in it is invented.
[bench]
mass = "1.35 kg"          # sled and tins
stiffness = "1 kN/m"      # string, sensor and arm together
damping = "12 N s/m"
patchiness = "2 %"
between_pulls = "3 %"

[friction]
law = "Coulomb"
static = 0.38
kinetic = 0.29

[sensor]
rate = "80 /s"
averaging = "0.05 s"
noise = "5 mN"
resolution = "1 mN"
range = "50 N"
drift = "0.2 mN/s"
"""
"""A description in TOML, as `described` takes it."""
