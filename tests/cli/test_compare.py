"""`pullbench pair`, `tilt` and `pool`, as a person and as a script use them. Numbers are invented or simulated."""

import json

import numpy as np
import pytest

from pullbench.cli import run
from pullbench.physics import Coulomb
from pullbench.physics.bench import Bench, Sensor, hand, in_a_row, record, simulate

TABLE = """surface,static,kinetic,set_aside
birch,0.40,0.30,
birch,0.42,0.31,
birch,0.41,0.295,
birch,0.55,0.32,jerked
felt,0.31,0.24,
felt,0.33,0.25,
felt,0.30,,
"""


@pytest.fixture(scope="module")
def recordings(tmp_path_factory):
    """Four pulls on each of two invented soles under 1 kg: μs 0.40 and 0.28, μk 0.30 and 0.20."""
    folder = tmp_path_factory.mktemp("pair")
    for name, (mu_s, mu_k), seed in (("birch", (0.40, 0.30), 5), ("felt", (0.28, 0.20), 6)):
        rng = np.random.default_rng(seed)
        bench = Bench(mass_kg=1.0, stiffness_N_m=600.0, law=Coulomb(mu_s, mu_k), damping_N_s_m=5.0)
        pulls = [simulate(bench, hand("smooth", rng, stretch_m=bench.stretch_m), rng=rng) for _ in range(4)]
        trace = record(in_a_row(pulls), Sensor(rate_Hz=100.0, noise_N=0.01), rng)
        rows = "\n".join(f"{t:.4f},{f:.4f}" for t, f in zip(trace.time_s, trace.force_N, strict=True))
        (folder / f"{name}.csv").write_text(f"time (s),force (N)\n{rows}\n")
    return folder


@pytest.fixture
def table(tmp_path):
    path = tmp_path / "day.csv"
    path.write_text(TABLE)
    return path


def test_pair_of_recordings_finds_the_planted_difference(recordings, capsys):
    words = [f"birch={recordings}/birch.csv", f"felt={recordings}/felt.csv"]
    assert run(["pair", *words, "--load", "1kg", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    by_quantity = {one["quantity"]: one for one in told["differences"]}
    for quantity, truth in (("static", -0.12), ("kinetic", -0.10)):
        assert by_quantity[quantity]["verdict"] == "smaller"
        assert by_quantity[quantity]["difference"]["value"] == pytest.approx(truth, abs=0.01)
    assert told["static_against_kinetic"][0]["ratio"]["value"] == pytest.approx(4 / 3, abs=0.05)


def test_pair_reads_a_table_as_it_reads_recordings(table, capsys):
    assert run(["pair", str(table)]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "felt needs less than birch" in printed
    assert "1 pull set aside: line 5 of birch: jerked." in printed


def test_pair_in_newtons_without_a_load_and_as_coefficients_with_one(tmp_path, capsys):
    path = tmp_path / "forces.csv"
    path.write_text("surface;kinetic_N\nbirch;3,0\nbirch;3,1\nfelt;2,0\nfelt;2,1\n")
    assert run(["pair", str(path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["unit"] == "N"
    assert run(["pair", str(path), "--load", "10N", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["unit"] == "1"
    assert told["surfaces"][0]["mean"]["value"] == pytest.approx(0.305)


def test_pair_says_that_one_pull_each_is_too_few(tmp_path, capsys):
    path = tmp_path / "towel.csv"
    path.write_text("surface,kinetic_N\nbare wood,3.9\npaper towel,4.2\n")
    assert run(["pair", str(path)]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "cannot tell bare wood and paper towel apart" in printed
    assert "About 5 more of each would, if repeats scatter by the usual 4 %" in printed


def test_pair_says_how_static_grows_with_waiting_when_the_pulls_show_it(tmp_path, capsys):
    """Invented: 0.02 of μs for every tenfold wait on birch, the same wait throughout on felt."""
    rows = [f"birch,{0.36 + 0.02 * np.log10(wait) + wobble:.4f},0.30,{wait}"
            for wait, wobble in ((1, 0.001), (3, -0.001), (10, 0.0), (30, 0.001), (100, -0.001))]  # fmt: skip
    rows += [f"felt,{0.30 + 0.002 * i},0.25,5" for i in range(5)]
    path = tmp_path / "waits.csv"
    path.write_text("surface,static,kinetic,rest_s\n" + "\n".join(rows) + "\n")
    assert run(["pair", str(path)]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "birch: standing longer raises the static peak by 0.02" in printed
    assert "felt: standing longer" not in printed


def test_pair_draws_its_picture(table, tmp_path, capsys):
    assert run(["pair", str(table), "--picture", str(tmp_path / "p.svg"), "--label", "simulated"]) == 0
    assert "Surface pairs" in (tmp_path / "p.svg").read_text("utf-8")


def test_tilt_gives_the_tangent_with_limits(capsys):
    assert run(["tilt", "--slides", "17.2,16.8,17.5", "--holds", "16,16.5", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    low, high = told["static"]["limits"]
    assert low < 0.309 < high
    assert told["kinetic"] is None


def test_tilt_is_held_against_the_pull(recordings, capsys):
    """21.8° is the slip tilt of the planted μs 0.40."""
    words = ["tilt", "--slides", "21.6,21.9,21.8,22.0", "--pulls", f"{recordings}/birch.csv", "--load", "1kg"]
    assert run([*words, "--json"]) == 0
    (one,) = json.loads(capsys.readouterr().out)["agreements"]
    assert one["answer"] == "agree"


def test_pool_of_a_table_gives_the_pooled_mean(tmp_path, capsys):
    """Made-up coefficients; mean recomputed apart from this project (Paule–Mandel)."""
    path = tmp_path / "groups.csv"
    path.write_text("group,value,u\na,0.30,0.01\nb,0.34,0.01\nc,0.27,0.012\nd,0.36,0.015\ne,0.31,0.01\n")
    assert run(["pool", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["mean"]["value"] == pytest.approx(0.315467282, rel=1e-8)
    assert told["between_sd"] ** 2 == pytest.approx(0.00106342056, rel=1e-7)


@pytest.mark.parametrize(("odd", "said"), [("0.30", False), ("0.39", True)])
def test_a_group_that_stands_apart_is_named_in_plain_words(odd, said, tmp_path, capsys):
    path = tmp_path / "groups.csv"
    path.write_text(f"group,value,u\na,0.30,0.01\nb,0.31,0.01\nodd one,{odd},0.01\nd,0.29,0.01\n")
    assert run(["pool", str(path)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert ("The groups differ far more than their own pulls do, odd one most." in out) is said


def test_pool_of_recordings_gives_static_and_kinetic(recordings, capsys):
    assert run(["pool", f"{recordings}/birch.csv", f"{recordings}/felt.csv", "--load", "1kg", "--json"]) == 0
    static, kinetic = (json.loads(line) for line in capsys.readouterr().out.splitlines())
    assert (static["quantity"], kinetic["quantity"]) == ("static coefficient", "kinetic coefficient")
    assert [group["pulls"] for group in kinetic["groups"]] == [4, 4]


BAD_TABLES = {
    "no surface column": ("name,static\na,0.3\n", "has no column 'surface'"),
    "no value column": ("surface,force\na,0.3\n", "has no column 'static'"),
    "not a number": ("surface,static\na,0.3\nb,NaN\n", "line 3: static is 'NaN'"),
    "a word": ("surface,static\na,0.3\nb,slippery\n", "line 3: static is 'slippery'"),
    "a unit": ("surface,static\na,0.3\nb,3N\n", "line 3: static is '3N'"),
    "one surface": ("surface,static\na,0.3\na,0.31\n", "only 'a' to compare"),
    "absurd": ("surface,static\na,30\na,31\nb,30\nb,32\n", "lie between 0.01 and 3"),
    "negative": ("surface,static\na,-0.3\nb,0.3\n", "must be a finite number above nought"),
    "one line": ("surface,static\n", "at least one row"),
    "headings twice": ("surface,static,static\na,1,1\nb,1,1\n", "two columns of one heading"),
    "row too long": ("surface,static\na,0,3\nb,0,4\n", "separate the cells by semicolons"),
    "nameless": ("surface,static\na,0.3\n,0.4\n", "needs a name of its own"),
}


@pytest.mark.parametrize(("text", "sentence"), BAD_TABLES.values(), ids=BAD_TABLES)
def test_a_bad_table_gives_one_line_and_status_2(text, sentence, tmp_path, capsys):
    path = tmp_path / "bad.csv"
    path.write_text(text)
    assert run(["pair", str(path)]) == 2
    told = capsys.readouterr().err
    assert sentence in told
    assert told.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["pair", "TABLE", "--margin", "-0.02"], "The margin is -0.02"),
        (["pair", "birch=TABLE", "felt"], "names no surface"),
        (["pair", "a=nowhere.csv", "b=nowhere.csv"], "does not exist"),
        (["pair", "TABLE", "--picture", "x.gif"], "svg or a .png"),
        (["pair", "TABLE", "--g", "-9.8"], "must lie from 0.1 to 100"),
        (["tilt"], "There is no angle"),
        (["tilt", "--slides", "17,steep"], "--slides is 'steep'"),
        (["tilt", "--slides", "17,nan"], "--slides is 'nan'"),
        (["tilt", "--slides", "17,16", "--acceleration", "0.5g"], "in m/s²"),
        (["tilt", "--slides", "17,16", "--pulls", "TABLE"], "Add --load"),
        (["pool", "nowhere.csv"], "does not exist"),
        (["pool", "TABLE", "TABLE"], "Two have the name"),
    ],
)
def test_bad_words_give_one_line_and_status_2(words, sentence, table, capsys):
    assert run([word.replace("TABLE", str(table)) for word in words]) == 2
    told = capsys.readouterr().err
    assert sentence in told
    assert told.count("\n") == 1


def test_equal_names_on_the_command_line_are_refused(recordings, capsys):
    assert run(["pair", f"a={recordings}/birch.csv", f"a={recordings}/felt.csv", "--load", "1kg"]) == 2
    assert "Two have the name 'a'" in capsys.readouterr().err


def test_an_odd_coefficient_that_is_meant_is_taken(tmp_path, capsys):
    path = tmp_path / "glue.csv"
    path.write_text("surface,static\na,3.3\na,3.4\nb,3.6\nb,3.7\n")
    assert run(["pair", str(path), "--sure"]) == 0
    assert "±" in capsys.readouterr().out


def test_a_folder_stands_for_its_recordings_in_the_order_of_their_names(recordings, tmp_path, capsys):
    folder = tmp_path / "birch"
    folder.mkdir()
    for name in ("a.csv", "b.TXT"):
        (folder / name).write_bytes((recordings / "birch.csv").read_bytes())
    (folder / "notes.md").write_text("not a recording")
    twice = f"birch={recordings}/birch.csv,{recordings}/birch.csv"
    words = ["--load", "1kg", "--json"]
    assert run(["pair", twice, f"felt={recordings}/felt.csv", *words]) == 0
    expected = json.loads(capsys.readouterr().out)["surfaces"]
    assert run(["pair", f"birch={folder}", f"felt={recordings}/felt.csv", *words]) == 0
    assert json.loads(capsys.readouterr().out)["surfaces"] == expected
    assert run(["pool", str(folder), "--load", "1kg"]) == 0
    assert "All 2 groups together" in capsys.readouterr().out
    assert run(["line", "--sled", "0.35kg", f"0.5kg={folder}", f"1kg={recordings}/felt.csv", "--json"]) in (
        0,
        2,
    )
    capsys.readouterr()


def test_a_folder_without_recordings_is_one_clear_sentence(tmp_path, capsys):
    assert run(["pool", str(tmp_path)]) == 2
    err = capsys.readouterr().err
    assert "holds no recording" in err
    assert len(err.splitlines()) == 1
