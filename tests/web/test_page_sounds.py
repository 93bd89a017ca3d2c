"""What the page sounds like: the very sound module, played into a file by the browser's own audio engine."""

import numpy as np
import pytest

from web.browser import browser, opened
from web.served import KEY, served

RATE_Hz = 22050
FULL_N = 4.0
BREAK_S, SLIDE_S, QUIET_S, END_S = 1.0, 1.2, 3.0, 3.6  # of the played pull
PLAY = """async ({states, forces, full, end, rate}) => {
  const { Sound } = await import("/static/sound.js");
  const offline = new OfflineAudioContext(1, Math.round(end * rate), rate);
  const resume = offline.resume.bind(offline);
  let begun = false;
  offline.resume = () => (begun ? resume() : Promise.resolve());
  window.AudioContext = function () { return offline; };
  const captions = [];
  const sound = new Sound((caption) => captions.push(caption));
  sound.allow();
  let before = "quiet";
  forces.forEach((force, i) => {
    offline.suspend(Math.max(i / 60, 1e-4)).then(() => {
      if (states[i] === "breakaway" && before !== "breakaway") sound.brokeAway();
      before = states[i];
      sound.follow(states[i], force, full);
      offline.resume();
    });
  });
  begun = true;
  const heard = await offline.startRendering();
  return { samples: Array.from(heard.getChannelData(0)), captions };
}"""


def force_N(at_s):
    """Return a played pull: a ramp to 3 N, then sliding at 1.5 N rising to 2.5 N."""
    return np.interp(at_s, [0, BREAK_S, BREAK_S + 0.05, QUIET_S, QUIET_S + 0.05], [0, 3, 1.5, 2.5, 0])


def state(at_s):
    for name, until_s in (
        ("loading", BREAK_S),
        ("breakaway", 1.1),
        ("settling", SLIDE_S),
        ("sliding", QUIET_S),
    ):
        if at_s < until_s:
            return name
    return "quiet"


@pytest.fixture(scope="module")
def heard():
    frames_s = np.arange(0, END_S - 0.05, 1 / 60)
    with browser() as running, served(label="simulated") as bench:
        page, faults = opened(running, f"http://{bench.host}/#key={KEY}")
        page.wait_for_selector("main.bench")
        played = page.evaluate(
            PLAY,
            {
                "states": [state(t) for t in frames_s], "forces": force_N(frames_s).tolist(), "full": FULL_N,
                "end": END_S, "rate": RATE_Hz,
            },
        )  # fmt: skip
        assert not faults
    return np.array(played["samples"]), played["captions"]


def stretch(samples, from_s, to_s):
    return samples[int(from_s * RATE_Hz) : int(to_s * RATE_Hz)]


def pitch_Hz(samples):
    """Return the strongest frequency, by the peak of a windowed spectrum and its neighbours."""
    size = 1 << 16
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(samples.size), size))
    return float(np.argmax(spectrum)) * RATE_Hz / size


def test_nothing_sounds_before_the_break_and_after_the_slide(heard):
    samples, _ = heard
    assert np.max(np.abs(stretch(samples, 0.05, BREAK_S - 0.02))) == 0
    slide = np.std(stretch(samples, 2.0, 2.8))
    assert np.std(stretch(samples, QUIET_S + 0.5, END_S)) < 1e-3 * slide


@pytest.mark.parametrize("at_s", [1.6, 2.0, 2.4, 2.8])
def test_the_tone_follows_the_force_while_it_slides(heard, at_s):
    """880 Hz is the strip's full scale; one octave a doubling, so that the pitch is in proportion to the force."""
    samples, _ = heard
    expected = 880 * force_N(at_s - 0.03) / FULL_N  # a sound trails its picture by a frame and its attack
    assert pitch_Hz(stretch(samples, at_s - 0.06, at_s + 0.06)) == pytest.approx(expected, rel=0.03)


def test_the_break_is_one_short_click_louder_than_the_tone_and_not_clipped(heard):
    samples, captions = heard
    loud = np.flatnonzero(np.abs(samples) > 0.15) / RATE_Hz
    assert loud.size
    assert BREAK_S - 0.02 <= loud[0] <= BREAK_S + 0.05
    assert loud[-1] - loud[0] < 0.03
    assert np.max(np.abs(samples)) < 1
    assert len(captions) == 2  # the click and the tone, each in words


def test_the_tone_begins_softly(heard):
    samples, _ = heard
    begins = np.std(stretch(samples, SLIDE_S, SLIDE_S + 0.02))
    assert begins < 0.5 * np.std(stretch(samples, SLIDE_S + 0.3, SLIDE_S + 0.5))


def test_the_tone_does_not_glide_from_the_pull_before(heard):
    samples, _ = heard
    first = pitch_Hz(stretch(samples, SLIDE_S + 0.02, SLIDE_S + 0.08))
    assert first == pytest.approx(880 * force_N(SLIDE_S + 0.03) / FULL_N, rel=0.04)
