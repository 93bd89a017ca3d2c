"""Settings, laws and predictions of a live day."""

import json
import sqlite3
import threading
from contextlib import closing

import pytest

from live.benches import DAY, FakeClock, Held, Script, pulling, session_on
from live.law_days import KINETIC_OVER_STATIC, MU, heights_N, one_by_one, pulls_of
from pullbench.archive import Logbook
from pullbench.errors import ConditionsError, PageError
from pullbench.live import PredictionNow, PullTold, SettingChange, SettingNow, StripColumns, pulls_of_day
from pullbench.model import Prediction, Setting, Slip, TiltReading

LOADS_KG = [0.5, 0.5, 0.5, 1.0, 1.0, 1.0, 1.5, 1.5, 1.5]
NUMBER = Prediction(kind="number", question="How hard to keep it sliding?")


@pytest.fixture
def logbook(tmp_path):
    with Logbook.open(tmp_path / "book.sqlite", now=FakeClock().unix) as book:
        yield book


def said(load_kg=None, sled_kg=None, surface=None, **more):
    return SettingChange(load_kg=load_kg, sled_kg=sled_kg, surface=surface, **more)


def day_of(heights, between=lambda session, k: None, *, logbook=None, before=lambda board: None, reader=None):
    """Run a day in which between(session, k) happens in the rest before pull k; return the session and what it told."""
    holder = {}
    deliveries = one_by_one(heights, lambda k: between(holder["session"], k))
    session = session_on(Script(*deliveries), logbook, reader=reader)
    holder["session"] = session
    before(session.board)
    listener = session.listen(1_000_000)
    session.run()
    return session, [message for _, message in listener.take_all()]


def loads_of(session):
    return [pull.setting.load_kg if pull.setting else None for pull in session._pulls.pulls()]


def test_each_pull_has_the_setting_that_was_in_force_when_it_began():
    def between(session, k):
        session.board.set(said([0.5, 1.0, 1.5][k], surface=["felt", "felt", "birch"][k]))

    session, _ = day_of(heights_N([0.5, 1.0, 1.5]), between)
    assert loads_of(session) == [0.5, 1.0, 1.5]
    cards = session.snapshot().pulls
    assert [card.setting.surface for card in cards] == ["felt", "felt", "birch"]
    assert [card.setting.load for card in cards] == ["0.50 kg", "1.00 kg", "1.50 kg"]
    session.close()


def test_a_setting_said_before_the_first_sample_holds_from_the_start():
    session, _ = day_of(heights_N([0.5]), before=lambda board: board.set(said(0.5)))
    assert loads_of(session) == [0.5]
    session.close()


def test_after_so_many_usable_pulls_the_load_grows_by_itself_and_it_is_told():
    start = said(0.5, 0.35, step_kg=0.5, pulls_per_step=3)
    session, told = day_of(heights_N(LOADS_KG), before=lambda board: board.set(start))
    assert loads_of(session) == LOADS_KG
    assert session.board.setting.load_kg == 2.0
    assert [m.setting.load_kg for m in told if isinstance(m, SettingNow)] == [1.0, 1.5, 2.0]
    news = [one.sentence for one in session.snapshot().news if one.kind == "setting"]
    assert news[0] == "3 pulls at 0.50 kg. Next load: 1.00 kg from now on."
    session.close()


def test_a_step_holds_from_the_end_of_its_pull_even_when_readings_come_late():
    reader, start = Held(), said(0.5, 0.35, step_kg=0.5, pulls_per_step=1)
    deliveries = [*pulls_of(heights_N([0.5, 1.0, 1.5])), reader.let]
    session = session_on(Script(*deliveries), reader=reader)
    session.board.set(start)
    session._readings.wait = lambda: (reader.let(), session._clerk.wait())
    session.run()
    assert loads_of(session) == [0.5, 1.0, 1.5]
    session.close()


def test_a_pull_to_be_pulled_again_does_not_count_towards_the_step():
    start = said(0.5, step_kg=0.5, pulls_per_step=2)
    session, _ = day_of([*heights_N([0.5]), 6.0], before=lambda board: board.set(start))
    kept = [pull.left_out for pull in session._pulls.pulls()]
    assert kept == [None, "held but never slid"]  # so steep a polygon is no pull that slid
    assert session.board.setting.load_kg == 0.5
    session.close()


def test_a_load_said_by_hand_begins_the_count_anew():
    def between(session, k):
        if k == 1:
            session.board.set(said(0.7))

    start = said(0.5, step_kg=0.5, pulls_per_step=2)
    session, _ = day_of(heights_N([0.5, 0.7, 0.7]), between, before=lambda board: board.set(start))
    assert loads_of(session) == [0.5, 0.7, 0.7]
    assert session.board.setting.load_kg == 1.2
    session.close()


def test_a_sled_that_is_weighed_later_weighed_the_same_before():
    session, _ = day_of(heights_N([0.5, 0.5]), before=lambda board: board.set(said(0.5)))
    assert session.snapshot().pulls[0].setting.sled_kg is None
    session.board.set(said(sled_kg=0.35))
    assert [card.setting.sled_kg for card in session.snapshot().pulls] == [0.35, 0.35]
    session.close()


def test_one_pull_is_corrected_and_the_others_stay(logbook):
    session, _ = day_of(
        heights_N([0.5, 1.0]), logbook=logbook, before=lambda board: board.set(said(0.5, 0.35))
    )
    card = session.board.correct(2, said(1.0, surface="felt"))
    assert (card.setting.load_kg, card.setting.surface, card.setting.sled_kg) == (1.0, "felt", 0.35)
    assert loads_of(session) == [0.5, 1.0]
    session.close()
    assert [pull.setting.load_kg for pull in pulls_of_day(logbook, DAY)] == [0.5, 1.0]
    with pytest.raises(PageError, match="no pull 9"):
        session.board.correct(9, said(1.0))


def test_a_restart_finds_settings_corrections_tilts_and_predictions_again(logbook):
    def before(board):
        board.set(said(0.5, 0.35, "felt", step_kg=0.5, pulls_per_step=2))

    session, _ = day_of(heights_N([0.5, 0.5, 1.0]), logbook=logbook, before=before)
    board, slips = session.board, session.slips
    board.correct(1, said(0.6))
    board.add_tilt(TiltReading(kind="slid", angle_deg=17.5))
    board.set_tilt_aside(0, "a nudge")
    slips.open(NUMBER)
    slips.hand_in("a-random-token", Slip(value_N=2.5, plus_minus_N=0.5))
    slips.commit()
    shown, setting, loads = slips.card, board.setting, loads_of(session)
    session.close()
    again = session_on(Script(), logbook)
    assert (
        again.board.setting
        == setting
        == Setting(load_kg=1.0, sled_kg=0.35, surface="felt", step_kg=0.5, pulls_per_step=2)
    )
    assert loads_of(again) == loads == [0.6, 0.5, 1.0]
    assert again.slips.card == shown
    assert [(one.angle_deg, one.surface, one.aside) for one in again.board.tilts()] == [
        (17.5, "felt", "a nudge")
    ]
    again.close()


def test_the_days_pulls_give_the_same_numbers_live_and_from_the_logbook(logbook):
    session, _ = day_of(
        heights_N([0.5, 1.0]),
        lambda session, k: session.board.set(said([0.5, 1.0][k], 0.35)),
        logbook=logbook,
    )
    live, kept = session._pulls.pulls(), pulls_of_day(logbook, DAY)
    session.close()
    for here, there in zip(live, kept, strict=True):
        assert (here.static.value, here.kinetic.value) == (there.static.value, there.kinetic.value)
        assert (here.start_s, here.end_s, here.setting) == (there.start_s, there.end_s, there.setting)
        assert here.own_u_N(here.kinetic) == there.own_u_N(there.kinetic)


def ladder_day(**more):
    def between(session, k):
        session.board.set(said(LOADS_KG[k], 0.35, "felt"))

    return day_of(heights_N(LOADS_KG, mu=MU), between, **more)


def test_the_ladder_of_the_day_finds_the_law_it_was_drawn_from():
    session, _ = ladder_day()
    card = session.board.ladder(None, "light")
    session.close()
    assert card.cannot is None
    assert card.pulls == tuple(range(1, 10))
    assert (card.surface, card.surfaces, card.greyed) == ("felt", ("felt",), ())
    record = json.loads(bytes(card.record))
    low, high = record["static"]["slope"]["limits"]
    assert low < MU < high
    low, high = record["kinetic"]["slope"]["limits"]
    assert low < MU * KINETIC_OVER_STATIC < high
    assert 'href="#pull/7"' in card.svg
    assert "Pull 7: kinetic" in card.svg


def test_an_unweighed_sled_shows_itself_as_a_mass_that_is_left_out_and_weighing_it_mends_the_ladder():
    def between(session, k):
        session.board.set(said(LOADS_KG[k]))

    session, _ = day_of(heights_N(LOADS_KG, mu=MU), between)
    card = session.board.ladder(None, "light")
    assert card.diagnoses[0].name == "sled mass left out"
    assert "without the sled" in card.room_sentence
    session.board.set(said(sled_kg=0.35))
    mended = session.board.ladder(None, "light")
    session.close()
    assert mended.diagnoses == ()
    assert "without the sled" not in mended.room_sentence


def test_pulls_left_out_stay_in_sight_counted_with_their_reason():
    session, _ = ladder_day()
    session.pulls.set_aside(4, "slack string")
    card = session.board.ladder(None, "light")
    assert (4 in card.pulls, [(one.n, one.why) for one in card.greyed]) == (False, [(4, "slack string")])
    assert "Pull 4, left out: slack string" in card.svg
    assert "Set aside, 1 of 9 pulls" in card.colleague_sentence
    session.pulls.bring_back(4)
    assert session.board.ladder(None, "light").greyed == ()
    session.close()


def test_a_ladder_is_of_one_surface_and_another_is_asked_for_by_name():
    def between(session, k):
        session.board.set(said(LOADS_KG[k % 4 * 2], 0.35, "felt" if k < 4 else "birch"))

    session, _ = day_of(heights_N([LOADS_KG[k % 4 * 2] for k in range(8)]), between)
    newest, felt = session.board.ladder(None, "light"), session.board.ladder(" FELT ", "light")
    with pytest.raises(ConditionsError, match="No pull of the day is on 'ice'"):
        session.board.ladder("ice", "light")
    session.close()
    assert (newest.surface, newest.pulls) == ("birch", (5, 6, 7, 8))
    assert (felt.surface, felt.pulls) == ("felt", (1, 2, 3, 4))
    assert newest.surfaces == ("felt", "birch")


@pytest.mark.parametrize(("loads", "says"), [
    ([], "There is no pull yet."),
    ([None], "1 pull has no load."),
    ([0.5, 0.5], "2 pulls count, at one load. A line needs pulls at two different loads at least."),
])  # fmt: skip
def test_while_there_is_no_line_it_says_what_is_missing(loads, says):
    def between(session, k):
        if loads[k] is not None:
            session.board.set(said(loads[k], 0.35))

    session, _ = day_of(heights_N([0.5 for _ in loads]), between)
    card = session.board.ladder(None, "light")
    session.close()
    assert card.cannot.startswith(says)
    assert card.svg is None


def two_soles(grips=(0.1, 0.12)):
    def between(session, k):
        session.board.set(said(1.0, 0.35, "felt" if k < 4 else "birch"))

    heights = heights_N([1.0] * 4, mu=grips[0]) + heights_N([1.0] * 4, mu=grips[1])
    return day_of(heights, between)


def test_surfaces_are_set_side_by_side_as_coefficients():
    session, _ = two_soles()
    card = session.board.surfaces("static", None, "light")
    session.close()
    record = json.loads(bytes(card.record))
    means = {level["surface"]: level["mean"] for level in record["surfaces"]}
    assert means["felt"]["limits"][0] < 0.1 < means["felt"]["limits"][1]
    assert means["birch"]["limits"][0] < 0.12 < means["birch"]["limits"][1]
    assert {level["quantity"] for level in record["surfaces"]} == {"static"}
    assert "birch needs more than felt" in card.sentence
    assert [(one.name, one.pulls) for one in card.surfaces] == [
        ("felt", (1, 2, 3, 4)),
        ("birch", (5, 6, 7, 8)),
    ]
    assert 'href="#pull/5"' in card.svg


def test_surfaces_at_different_loads_need_the_sled_and_one_surface_needs_another():
    def between(session, k):
        session.board.set(said([0.5, 1.0][k], surface=["felt", "birch"][k]))

    session, _ = day_of(heights_N([0.5, 1.0]), between)
    assert "the sled's mass is not known" in session.board.surfaces(None, None, "light").cannot
    session.close()
    session, _ = day_of(heights_N([0.5]), lambda session, k: session.board.set(said(0.5, 0.35, "felt")))
    assert "only felt to compare" in session.board.surfaces(None, None, "light").cannot
    session.close()


def test_tilt_and_pull_are_two_roads_to_one_number():
    session, _ = two_soles((0.1, 0.1))
    board = session.board
    assert "There is no angle yet." in board.tilt(None, "light").cannot
    for angle_deg in (5.6, 5.8, 5.7, 5.8, 5.7):  # tan 5.71 deg = 0.100
        board.add_tilt(TiltReading(kind="slid", angle_deg=angle_deg))
    board.add_tilt(TiltReading(kind="slid", angle_deg=40.0))
    board.set_tilt_aside(5, "a jolt")
    card = board.tilt(None, "light")
    record = json.loads(bytes(card.record))
    assert record["slides_deg"] == [5.6, 5.8, 5.7, 5.8, 5.7]
    assert [one["answer"] for one in record["agreements"]] == ["agree"]
    assert (card.surface, card.pulls) == ("birch", (5, 6, 7, 8))
    assert [one.aside for one in card.readings] == [None] * 5 + ["a jolt"]
    with pytest.raises(PageError, match="no angle 9"):
        board.set_tilt_aside(9, "x")
    session.close()


def test_an_answer_is_drawn_once_until_something_changes():
    session, _ = ladder_day()
    board = session.board
    first = board.ladder(None, "light")
    assert board.ladder(None, "light") is first
    assert board.ladder(None, "dark") is not first
    session.pulls.set_aside(1, "a nudge")
    second = board.ladder(None, "light")
    assert second is not first
    board.correct(2, said(0.7))
    assert board.ladder(None, "light") is not second
    session.close()


def test_predictions_show_their_number_alone_until_they_are_revealed():
    asked = {}

    def between(session, k):
        if k == 1:
            session.slips.open(NUMBER)
            session.slips.hand_in("token-one", Slip(value_N=9.0, plus_minus_N=0.1))
            session.slips.hand_in("token-two", Slip(value_N=3.0, plus_minus_N=0.5))
            session.slips.hand_in("token-one", Slip(value_N=1.3, plus_minus_N=0.5))  # its own slip, changed
            session.slips.call_out([2.5])
            asked["open"] = session.slips.card
            asked["committed"] = session.slips.commit()
            with pytest.raises(PageError, match="committed"):
                session.slips.hand_in("token-one", Slip(value_N=9.0))

    session, told = day_of(heights_N([1.0, 1.0, 1.0]), between)
    slips = session.slips
    for state in ("open", "committed"):
        card = asked[state]
        assert (card.state, card.slips, card.outcome) == (state, None, None)
    assert asked["committed"].committed_before_pull == 2
    assert asked["committed"].decided is False
    assert slips.card.decided is True
    card = slips.reveal()
    assert [(one.value_N, one.plus_minus_N) for one in card.slips] == [(1.3, 0.5), (2.5, None), (3.0, 0.5)]
    assert card.outcome.pull == 2
    pull = session._pulls.pull(2)
    assert card.outcome.value_N == pull.kinetic.value
    assert (card.outcome.low_N, card.outcome.high_N) == pull.kinetic.limits
    assert "1 of 2 slips" in card.sentence  # the law says 0.75 x 0.1 x 1.35 kg x g = 0.99 N: 1.3 N reaches it
    assert any(isinstance(one, PredictionNow) and one.prediction.decided for one in told)
    session.close()


def test_a_pull_that_had_begun_before_the_commit_does_not_settle_it():
    holder, heights = {}, heights_N([1.0, 1.0])

    def in_mid_pull():
        slips = holder["session"].slips
        slips.open(NUMBER)
        slips.call_out([3.0])
        holder["committed"] = slips.commit()

    deliveries = pulls_of(heights)
    # The first pull lasts from 3 s to 6.35 s.
    place = next(k for k, one in enumerate(deliveries) if one.time_s[-1] > 5.0)
    deliveries.insert(place, in_mid_pull)
    session = session_on(Script(*deliveries))
    holder["session"] = session
    session.run()
    card = session.slips.reveal()
    session.close()
    assert card.outcome.pull == 2
    assert holder["committed"].committed_before_pull == 2


def test_which_surface_it_was_is_told_by_the_pulls_or_by_the_teacher():
    session, _ = two_soles()
    slips = session.slips
    slips.open(Prediction(kind="which", question="Which?", options=("Felt", "Birch", "the same")))
    slips.count_hands({"felt": 12, "birch": 3})
    slips.count_hands({"birch": 5})  # counted again
    assert slips.card.count == 17
    slips.commit()
    with pytest.raises(PageError, match="no pull since"):
        slips.reveal()
    with pytest.raises(ConditionsError, match="not among the answers"):
        slips.reveal("ice")
    card = slips.reveal("birch")
    session.close()
    assert (card.counts, card.outcome.option) == ({"Felt": 12, "Birch": 5, "the same": 0}, "Birch")
    assert "It was Birch." in card.sentence


def test_which_surface_needs_the_harder_pull_follows_from_the_pulls():
    def between(session, k):
        board, slips = session.board, session.slips
        board.set(said(1.0, 0.35, "felt" if k < 4 else "birch"))
        if k == 4:
            slips.open(Prediction(kind="which", question="Which?", options=("felt", "birch")))
            slips.count_hands({"felt": 2, "birch": 1})
            slips.commit()

    heights = heights_N([1.0] * 4, mu=0.1) + heights_N([1.0] * 4, mu=0.12)
    session, _ = day_of(heights, between)
    card = session.slips.reveal()
    session.close()
    assert (card.outcome.pull, card.outcome.option) == (5, "birch")


BAD_ORDERS = [
    (lambda s: s.slips.commit(), "No question is open"),
    (lambda s: s.slips.reveal(), "No predictions are committed"),
    (lambda s: s.slips.hand_in("a-token-here", Slip(value_N=1.0)), "No question is open"),
    (lambda s: (s.slips.open(NUMBER), s.slips.commit()), "Nobody has handed in"),
    (lambda s: (s.slips.open(NUMBER), s.slips.reveal()), "No predictions are committed"),
    (lambda s: (s.slips.open(NUMBER), s.slips.hand_in("short", Slip(value_N=1.0))), "8 to 64"),
    (lambda s: (s.slips.open(NUMBER), s.slips.hand_in("a-token-here", Slip(value_N=-1.0))), "-1 N"),
    (lambda s: (s.slips.open(NUMBER), s.slips.hand_in("a-token-here", Slip(value_N=float("nan")))), "nan N"),
    (lambda s: (s.slips.open(NUMBER), s.slips.hand_in("a-token-here", Slip(value_N=1.0, plus_minus_N=1e9))), "1e.09 N"),
    (lambda s: (s.slips.open(NUMBER), s.slips.hand_in("a-token-here", Slip(option="felt"))), "asks for a number"),
    (lambda s: (s.slips.open(NUMBER), s.slips.count_hands({"felt": 3})), "asks for numbers"),
    (lambda s: Prediction(kind="which", question="Which?", options=("felt",)), "2 to 8 different answers"),
    (lambda s: Prediction(kind="which", question="Which?", options=("felt", "Felt ")), "2 to 8 different answers"),
    (lambda s: Prediction(kind="number", question=""), "1 to 200 letters"),
    (lambda s: s.board.set(said(-1.0)), "load is -1 kg"),
    (lambda s: s.board.set(said(500_000.0)), "grams"),
    (lambda s: s.board.set(said(float("nan"))), "load is nan kg"),
    (lambda s: s.board.set(said(sled_kg=0.0)), "above nought"),
    (lambda s: s.board.set(said(step_kg=-0.5)), "step is -0.5 kg"),
    (lambda s: s.board.set(said(u_load_kg=-0.5)), "uncertainty is -0.5 kg"),
    (lambda s: s.board.set(said(pulls_per_step=0)), "1 to 99"),
    (lambda s: s.board.set(said(surface="f" * 61)), "up to 60 letters"),
    (lambda s: s.board.add_tilt(TiltReading(kind="slid", angle_deg=91.0)), "91°"),
    (lambda s: s.board.add_tilt(TiltReading(kind="slid", angle_deg=float("nan"))), "nan°"),
    (lambda s: s.board.add_tilt(TiltReading(kind="slide", angle_deg=20.0)), "no acceleration is given"),
    (
        lambda s: s.board.add_tilt(TiltReading(kind="held", angle_deg=20.0, acceleration_m_s2=1.0)),
        "an acceleration is given",
    ),
    (lambda s: s.board.add_tilt(TiltReading(kind="slide", angle_deg=20.0, acceleration_m_s2=1e3)), "1000 m/s²"),
]  # fmt: skip


@pytest.mark.parametrize(("order", "says"), BAD_ORDERS)
def test_what_cannot_be_is_refused_in_one_sentence_and_changes_nothing(order, says):
    session = session_on(Script())
    with pytest.raises((ConditionsError, PageError), match=says) as refused:
        order(session)
    session.close()
    assert "\n" not in str(refused.value)
    assert session.board.setting == Setting()
    assert session.board.tilts() == ()


def test_three_hundred_slips_are_taken_and_no_more():
    session = session_on(Script())
    slips = session.slips
    slips.open(NUMBER)
    for k in range(300):
        slips.hand_in(f"token-{k:04d}", Slip(value_N=1.0))
    with pytest.raises(PageError, match="300 slips already"):
        slips.hand_in("one-too-many", Slip(value_N=1.0))
    slips.hand_in("token-0007", Slip(value_N=2.0))  # one that is in can still be changed
    with pytest.raises(PageError, match="300 slips already"):
        slips.call_out([1.0])
    session.close()


def test_tokens_are_in_no_file_and_forgotten_at_commit(tmp_path):
    path = tmp_path / "book.sqlite"
    with Logbook.open(path, now=FakeClock().unix) as logbook:
        session = session_on(Script(), logbook)
        session.slips.open(NUMBER)
        session.slips.hand_in("a-very-special-token", Slip(value_N=2.5, plus_minus_N=0.25))
        session.slips.commit()
        session.close()
    for file in tmp_path.iterdir():
        assert b"a-very-special-token" not in file.read_bytes()
    with closing(sqlite3.connect(path)) as kept:
        assert kept.execute("SELECT count(*) FROM open_slips").fetchone() == (0,)


def test_slips_of_an_open_question_outlive_a_watch_that_was_killed(tmp_path):
    path = tmp_path / "book.sqlite"
    killed = Logbook.open(path, now=FakeClock().unix)
    slips = session_on(Script(), killed).slips
    slips.open(NUMBER)
    slips.hand_in("a-phone-in-row-3", Slip(value_N=2.5, plus_minus_N=0.25))
    slips.hand_in("a-phone-in-row-4", Slip(value_N=3.0))
    slips.call_out([1.9])
    with Logbook.open(path, now=FakeClock().unix) as logbook:  # the first was not closed
        session = session_on(Script(), logbook)
        assert (session.slips.card.state, session.slips.card.count) == ("open", 3)
        session.slips.hand_in("a-phone-in-row-3", Slip(value_N=2.6))  # the same page changes its own slip
        session.slips.commit()
        assert [one.value_N for one in session.slips.asked.slips] == [1.9, 2.6, 3.0]
        session.close()
    killed.close()


def test_orders_from_many_threads_delay_no_sample_and_lose_nothing():
    """All strip columns come, and all slips are counted, while pages set, ask and hand in at once."""
    stop, faults = threading.Event(), []
    session = session_on(Script(*pulls_of(heights_N([1.0] * 3), size=8)))
    session.slips.open(NUMBER)
    listener = session.listen(1_000_000)

    def busy(k):
        try:
            for n in range(40):
                session.slips.hand_in(f"page-{k}-{n:03d}", Slip(value_N=1.0))
                session.board.set(said(1.0 + k))
                session.board.ladder(None, "light")
                session.snapshot()
                if stop.is_set():
                    return
        except Exception as fault:
            faults.append(fault)

    pages = [threading.Thread(target=busy, args=(k,)) for k in range(4)]
    for page in pages:
        page.start()
    session.run()
    for page in pages:
        page.join(20)
    session.close()
    told = [message for _, message in listener.take_all()]
    assert faults == []
    assert session.slips.asked.count == 160
    assert len({m.card.number for m in told if isinstance(m, PullTold)}) == 3
    ends_s = max(m.start_s + m.column_s * m.pairs.shape[0] for m in told if isinstance(m, StripColumns))
    assert ends_s == pytest.approx(3.0 + 3 * 7.35, abs=0.05)


def test_what_the_source_says_of_its_sled_holds_until_a_person_says_something():
    heavy, light = (Setting(sled_kg=0.35, load_kg=load_kg, surface="felt") for load_kg in (2.0, 0.5))
    by_hand = SettingChange(load_kg=1.0, sled_kg=0.4)
    deliveries = pulling(3)
    third = len(deliveries) // 3
    session = None

    def say():
        session._clerk.wait()
        session.board.set(by_hand)

    session = session_on(
        Script(
            heavy,
            *deliveries[:third],
            light,
            *deliveries[third : 2 * third],
            say,
            heavy,
            *deliveries[2 * third :],
        )
    )
    session.run()
    settings = [pull.setting for pull in session._pulls.pulls()]
    session.close()
    assert settings[0] == heavy
    assert (settings[-1].load_kg, settings[-1].sled_kg) == (1.0, 0.4)
