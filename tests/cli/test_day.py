"""Laws of a day out of the logbook, and orders typed on watch, as a person types them."""

import json
import os
import pty
import re
import subprocess
import sys
import time
import xml.etree.ElementTree as ET

import pytest

from live.benches import DAY, FakeClock, Script, session_on
from live.law_days import KINETIC_OVER_STATIC, MU, heights_N, one_by_one, pulls_of
from pullbench.archive import Logbook
from pullbench.cli import run
from pullbench.cli.typed import do, mass_kg
from pullbench.errors import PullbenchError
from pullbench.live import SettingChange
from pullbench.model import TiltReading

ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
LOADS_KG = [0.5, 0.5, 1.0, 1.0, 1.5, 1.5]
GRIP = {"felt": MU, "birch": 1.2 * MU}


def kept(path, *, surfaces=("felt", "birch"), sled_kg=0.35, label=None, tilts=(), days_later=0):
    """Keep a day with pulls at three loads on each surface, made by the law."""
    clock = FakeClock()
    clock.sleep(86400.0 * days_later)
    plan = [(surface, kg) for surface in surfaces for kg in LOADS_KG]
    heights = [
        heights_N([kg], mu=GRIP.get(surface, MU))[0] * (1 + 0.004 * (k % 5 - 2))
        for k, (surface, kg) in enumerate(plan)
    ]
    holder = {}

    def between(k):
        surface, kg = plan[k]
        holder["board"].set(SettingChange(load_kg=kg, sled_kg=sled_kg, surface=surface))

    with Logbook.open(path, now=clock.unix) as logbook:
        session = session_on(Script(*one_by_one(heights, between), label=label), logbook, clock=clock)
        holder["board"] = session.board
        for angle_deg in tilts:
            session.board.add_tilt(TiltReading(kind="slid", angle_deg=angle_deg, surface="felt"))
        session.run()
        session.pulls.set_aside(1, "slack string")
        session.close()
    return path


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    # tan 5.71 deg = 0.1
    return str(kept(tmp_path_factory.mktemp("day") / "book.sqlite", tilts=(5.6, 5.8, 5.7, 5.8, 5.7)))


@pytest.fixture(scope="module")
def simulated(tmp_path_factory):
    path = tmp_path_factory.mktemp("day") / "simulated.sqlite"
    return str(kept(path, surfaces=("",), sled_kg=None, label="simulated"))


def told(capsys, *arguments):
    status = run(list(arguments))
    out, err = capsys.readouterr()
    assert (status, err) == (0, "")
    return out


def refused(capsys, *arguments):
    status = run(list(arguments))
    out, err = capsys.readouterr()
    assert (status, out) == (2, "")
    assert err.count("\n") == 1
    return err


def test_the_line_of_a_day_is_the_law_that_the_pulls_were_made_by(book, capsys):
    record = json.loads(
        told(capsys, "line", "--logbook", book, "--day", "latest", "--surface", "felt", "--json")
    )
    for series, mu in (("static", MU), ("kinetic", MU * KINETIC_OVER_STATIC)):
        low, high = record[series]["slope"]["limits"]
        assert low < mu < high
        assert (record[series]["pulls"], record[series]["loads"]) == (5, 3)
    assert (record["set_aside"], record["diagnoses"]) == (1, [])
    assert "label" not in record


def test_the_text_names_what_was_set_aside_and_a_date_is_a_day_too(book, capsys):
    out = told(capsys, "line", "--logbook", book, "--day", DAY, "--surface", "FELT")
    assert "Set aside, 1 of 6 pulls: pull 1 (slack string)." in " ".join(out.split())


def test_an_unweighed_sled_is_said_and_simulated_pulls_say_so(simulated, capsys, tmp_path):
    out = told(
        capsys, "line", "--logbook", simulated, "--day", "latest", "--picture", str(tmp_path / "line.svg")
    )
    assert out.startswith("All pulls are simulated.")
    assert "without the sled" in out
    assert "mass left out" in (tmp_path / "line.svg").read_text("utf-8") or "missing from the load" in out
    assert ">simulated<" in (tmp_path / "line.svg").read_text("utf-8")
    record = json.loads(told(capsys, "line", "--logbook", simulated, "--day", "latest", "--json"))
    assert record["label"] == "simulated"


def test_a_mystery_load_is_read_back_from_the_line_of_a_day(book, capsys, tmp_path):
    hidden_kg = 0.8
    force_N = MU * KINETIC_OVER_STATIC * (hidden_kg + 0.35) * 9.80665
    (tmp_path / "hidden.csv").write_text(f"kinetic_N\n{force_N:.4f}\n", "utf-8")
    record = json.loads(told(
        capsys, "line", "--logbook", book, "--day", "latest", "--surface", "felt", "--json",
        "--mystery", str(tmp_path / "hidden.csv"),
    ))  # fmt: skip
    low, high = record["mystery"]["kinetic"]["load_kg"]["limits"]
    assert low < hidden_kg < high


def test_surfaces_of_a_day_are_compared_as_coefficients(book, capsys, tmp_path):
    picture = tmp_path / "pair.png"
    record = json.loads(told(capsys, "pair", "--logbook", book, "--day", "latest", "--json"))
    assert record["unit"] == "1"
    (static, *_) = [one for one in record["differences"] if one["quantity"] == "static"]
    assert (static["first"], static["second"], static["verdict"]) == ("felt", "birch", "larger")
    low, high = static["difference"]["limits"]
    assert low < 0.2 * MU < high
    try:
        import resvg_py  # noqa: F401
    except ImportError:
        return
    told(capsys, "pair", "--logbook", book, "--day", "latest", "--picture", str(picture))
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_tilt_and_pulls_of_a_day_agree(book, capsys, tmp_path):
    picture = tmp_path / "tilt.svg"
    record = json.loads(
        told(capsys, "tilt", "--logbook", book, "--day", "latest", "--json", "--picture", str(picture))
    )
    assert record["slides_deg"] == [5.6, 5.8, 5.7, 5.8, 5.7]
    assert [one["quantity"] for one in record["agreements"]] == ["static"]
    low, high = record["agreements"][0]["pull"]["limits"]
    assert low < MU < high
    assert record["agreements"][0]["answer"] in ("agree", "cannot tell")
    root = ET.fromstring(picture.read_text("utf-8"))
    assert "static, by pull" in "".join(root.itertext())


def test_a_day_is_pooled_by_surface_or_by_pull(book, capsys, tmp_path):
    picture = tmp_path / "pool.svg"
    static, kinetic = (
        json.loads(line)
        for line in told(capsys, "pool", "--logbook", book, "--day", "latest", "--json").splitlines()
    )
    assert [one["group"] for one in static["groups"]] == ["felt", "birch"]
    assert kinetic["quantity"] == "kinetic coefficient"
    out = told(
        capsys,
        "pool",
        "--logbook",
        book,
        "--day",
        "latest",
        "--surface",
        "felt",
        "--json",
        "--picture",
        str(picture),
    )
    pulls = json.loads(out.splitlines()[0])
    assert (len(pulls["groups"]), pulls["set_aside"], pulls["next_is"]) == (5, 1, "pull")
    low, high = pulls["mean"]["limits"]
    assert low < MU < high
    words = "".join(ET.fromstring(picture.read_text("utf-8")).itertext())
    assert "all: static coefficient" in words
    assert "the next pull" in words


def test_several_days_are_pooled_day_by_day_on_one_surface(capsys, tmp_path):
    path = tmp_path / "book.sqlite"
    for days_later in (0, 1, 2):
        kept(path, days_later=days_later)
    days = [DAY, "2026-11-26", "2026-11-27"]
    asked = ("pool", "--logbook", str(path), "--surface", "felt", "--json")
    static = json.loads(told(capsys, *asked, "--day", "all").splitlines()[0])
    assert [one["group"] for one in static["groups"]] == days
    assert (static["groups"][0]["pulls"], static["set_aside"], static["next_is"]) == (5, 3, "pull")
    assert static["mean"]["value"] == pytest.approx(MU, rel=0.02)  # the days were made alike
    two = json.loads(told(capsys, *asked, "--day", f"{days[2]}, {days[0]}").splitlines()[0])
    assert [one["group"] for one in two["groups"]] == [days[0], days[2]]
    assert "Several days are pooled for one surface" in refused(
        capsys, "pool", "--logbook", str(path), "--day", "all"
    )
    assert "nothing of 2026-12-24" in refused(capsys, *asked, "--day", f"{DAY},2026-12-24")


def test_tables_are_pooled_and_tilts_drawn_without_a_day(capsys, tmp_path):
    (tmp_path / "groups.csv").write_text(
        "group,value,u\nteam 1,0.30,0.01\nteam 2,0.34,0.01\nteam 3,0.27,0.012\n", "utf-8"
    )
    for command, picture in (
        (["pool", str(tmp_path / "groups.csv")], tmp_path / "pool.svg"),
        (
            ["tilt", "--slides", "17.2,16.8,17.5", "--holds", "16,16.5", "--label", "simulated"],
            tmp_path / "tilt.svg",
        ),
    ):
        told(capsys, *command, "--picture", str(picture))
        first = picture.read_bytes()
        told(capsys, *command, "--picture", str(picture))
        assert picture.read_bytes() == first
        ET.fromstring(first)
    assert ">simulated<" in (tmp_path / "tilt.svg").read_text("utf-8")
    assert "team 2" in (tmp_path / "pool.svg").read_text("utf-8")


@pytest.mark.parametrize(("arguments", "says"), [
    (["line", "--day", "latest"], "There is no logbook pullbench-logbook.sqlite."),
    (["line", "--logbook", "{book}", "--day", "1999-01-01"], f"nothing of 1999-01-01. Its latest days: {DAY}."),
    (["line", "--logbook", "{book}", "--day", "yesterday"], "It is today, latest or a date"),
    (["line", "--logbook", "{book}", "--day", "latest"], "are on felt, birch. A line is of one surface."),
    (["line", "--logbook", "{book}", "--day", "latest", "--surface", "ice"], "No pull of the day is on 'ice'."),
    (["line", "--logbook", "{book}", "--day", "latest", "table.csv"], "is given with a table or recordings"),
    (["line", "--logbook", "{book}", "--day", "latest", "--sled", "0.35kg"], "is given with --sled"),
    (["line", "--logbook", "{book}", "table.csv"], "--logbook is given without --day"),
    (["line", "--surface", "felt", "table.csv"], "--surface is given without --day"),
    (["line"], "There is nothing to draw a line through."),
    (["pair"], "There is nothing to compare."),
    (["pool"], "There is nothing to pool."),
    (["pair", "--logbook", "{simulated}", "--day", "latest"], "There is no surface to compare."),
    (["pair", "--logbook", "{book}", "--day", "latest", "--margin", "-1"], "The margin is -1."),
    (["tilt", "--logbook", "{simulated}", "--day", "latest"], "There is no angle yet."),
    (["tilt", "--logbook", "{book}", "--day", "latest", "--slides", "17"], "is given with --slides"),
    (["pool", "--logbook", "{simulated}", "--day", "latest"], "at different loads, and the sled's mass is not known"),
    (["pool", "--logbook", "{book}", "--day", "latest", "--picture", "pool.gif"], "It can be an .svg or a .png file."),
])  # fmt: skip
def test_what_cannot_be_is_one_clear_sentence(
    arguments, says, book, simulated, capsys, tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "table.csv").write_text("load_kg,kinetic_N\n1,2\n2,4\n3,6\n", "utf-8")
    filled = [word.format(book=book, simulated=simulated) for word in arguments]
    assert says in refused(capsys, *filled)


def test_a_day_without_a_pull_or_with_one_load_says_so(capsys, tmp_path):
    path = tmp_path / "book.sqlite"
    with Logbook.open(path, now=FakeClock().unix) as logbook:
        logbook.begin_recording(source="a sensor", label=None, day="2026-11-20")
        session = session_on(Script(*pulls_of(heights_N([0.5, 0.5]))), logbook)
        session.board.set(SettingChange(load_kg=0.5, sled_kg=0.35))
        session.run()
        session.close()
    assert "holds no pull of 2026-11-20" in refused(
        capsys, "line", "--logbook", str(path), "--day", "2026-11-20"
    )
    assert "2 pulls count, at one load." in refused(capsys, "line", "--logbook", str(path), "--day", "latest")


def test_today_is_the_day_by_the_clock(capsys, tmp_path):
    path = tmp_path / "book.sqlite"
    with Logbook.open(path, now=time.time) as logbook:
        logbook.begin_recording(source="a sensor", label=None)
    today = time.strftime("%Y-%m-%d", time.localtime())
    assert f"holds no pull of {today}" in refused(capsys, "line", "--logbook", str(path), "--day", "today")


@pytest.mark.parametrize(("options", "says"), [
    (["--load", "-1kg"], "--load"), (["--load", "600kg"], "up to 500 kg"), (["--sled", "0kg"], "above nought"),
    (["--sled", "heavy"], "one number and its unit"), (["--load", "1stone"], "Its unit must be one of kg, g, lb"),
    (["--step", "0.5kg"], "--step is given without --load"), (["--pulls-per-step", "2"], "without --step"),
    (["--surface", "x" * 61], "up to 60 letters"), (["--pulls-per-step", "0"], "not in the range"),
])  # fmt: skip
def test_an_impossible_setting_is_refused_before_the_watch_begins(options, says, capsys):
    assert says in refused(capsys, "watch", "--virtual", "--plain", *options)


@pytest.mark.parametrize(
    ("text", "kg"), [("1.5", 1.5), ("1,5 kg", 1.5), ("350 g", 0.35), ("0", 0.0), ("0kg", 0.0)]
)
def test_masses_are_typed_as_the_page_takes_them(text, kg):
    assert mass_kg(text, "The load") == pytest.approx(kg)


def test_typed_orders_do_what_they_say():
    session = session_on(Script(*pulls_of(heights_N([0.5, 1.0]))))
    assert do("load 0.5", session) == "Now: load 0.50 kg, sled not weighed."
    assert do("  Sled   350 g ", session) == "Now: load 0.50 kg, sled 0.35 kg."
    assert do("surface felt", session).endswith("on felt.")
    session.run()
    assert "step" not in do("step 0.25", session)
    assert session.board.setting.step_kg == 0.25
    assert do("next load", session).startswith("Now: load 0.75 kg")
    assert do("set aside 2 slack string", session) == "Pull 2 is set aside: slack string."
    assert session.pulls.card(2).aside == "slack string"
    assert do("bring back 2", session) == "Pull 2 counts again."
    assert session.pulls.card(2).aside is None
    assert "1 load" in do("draw the line", session) or "one load" in do("draw the line", session)
    assert "only felt" in do("compare", session)
    assert "one slide only" in do("tilt 17.5 slid", session)
    assert session.board.tilts()[0].angle_deg == 17.5
    assert "rest reading" in do("null", session)
    assert do("", session) == ""
    session.close()


@pytest.mark.parametrize(("text", "says"), [
    ("dance", "'dance' is no order. Known are: next load"), ("load heavy", "one number and its unit"),
    ("load -1", "above nought"), ("load 600", "up to 500 kg"), ("set aside 9 x", "There is no pull 9 today."),
    ("set aside 9", "without a reason"), ("tilt 91 slid", "91°"), ("tilt 20 slide", "no acceleration is given"),
    ("tilt steep slid", "one number"), ("go on watch", "On watch again."),
])  # fmt: skip
def test_a_typed_line_that_is_no_order_says_what_would_be(text, says):
    session = session_on(Script())
    try:
        answer = do(text, session)
    except PullbenchError as mistake:
        answer = str(mistake)
    session.close()
    assert says in answer


def test_a_line_typed_on_the_terminal_is_an_order(tmp_path):
    """Type on a real terminal while a simulated watch runs; then leave it by itself."""
    teacher, terminal = pty.openpty()
    watch = subprocess.Popen(
        [sys.executable, "-m", "pullbench", "watch", "--virtual", "--speed", "5", "--for", "6s", "--plain",
         "--load", "0.5kg"],
        stdin=terminal, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=tmp_path, env=ENVIRONMENT,
    )  # fmt: skip
    os.close(terminal)
    try:
        time.sleep(2.5)
        os.write(teacher, b"next load\nload heavy\n")
        out, err = watch.communicate(timeout=40)
    finally:
        watch.kill()
        os.close(teacher)
    assert (watch.returncode, err.decode()) == (0, "")
    assert re.search(r"^Now: load 1\.00 kg, sled not weighed\.", out.decode(), re.M)
    assert "The load is 'heavy'." in " ".join(out.decode().split())
