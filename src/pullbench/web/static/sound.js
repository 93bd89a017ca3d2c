/** For ears: a tone while sliding, a click at breakaway, a spoken verdict. Each can be turned off, and each has its caption. */
import { choice, choose } from "./kept.js";
import { pitch, sounding } from "./tone.js";
import { words } from "./words.js";

const LOUD = 0.08;
const SOFT_S = 0.06; // attack of the tone: never a shock
/** @typedef {"tone"|"click"|"voice"} Kind */

export class Sound {
  /** @param {(caption: string) => void} caption */
  constructor(caption) {
    this.caption = caption;
    /** @type {Record<Kind, boolean>} */
    this.on = { tone: choice("tone", "on") === "on", click: choice("click", "on") === "on", voice: choice("voice", "off") === "on" };
    /** @type {AudioContext|null} */
    this.context = null;
    this.playing = false;
  }

  /** Browsers allow sound after the first key or click only; call this then. */
  allow() {
    if (!(this.on.tone || this.on.click)) return;
    if (!this.context && "AudioContext" in window) this.#build(new AudioContext());
    if (this.context?.state === "suspended") void this.context.resume();
  }

  /** @param {AudioContext} context */
  #build(context) {
    this.context = context;
    this.voice = new OscillatorNode(context, { type: "triangle", frequency: 220 });
    this.gain = new GainNode(context, { gain: 0 });
    this.voice.connect(this.gain).connect(context.destination);
    this.voice.start();
  }

  /** @param {Kind} kind @returns {string} what it is now, in words */
  flip(kind) {
    this.on[kind] = !this.on[kind];
    choose(kind, this.on[kind] ? "on" : "off");
    this.allow();
    if (kind === "voice" && !this.on.voice) window.speechSynthesis?.cancel();
    if (kind === "voice" && this.on.voice && !("speechSynthesis" in window)) return words.sound.noVoice;
    return (this.on[kind] ? words.sound.on : words.sound.off)(words.sound[kind]);
  }

  /** Called with every picture. @param {string} state @param {number} force_N @param {number} full_N */
  follow(state, force_N, full_N) {
    const wanted = this.on.tone && sounding(state) && Number.isFinite(force_N);
    const begins = wanted && !this.playing;
    if (wanted !== this.playing) {
      this.playing = wanted;
      if (wanted) this.caption(words.sound.captionTone);
    }
    if (!this.context || !this.gain || !this.voice) return;
    const now = this.context.currentTime;
    this.gain.gain.setTargetAtTime(wanted ? LOUD : 0, now, SOFT_S);
    if (begins) this.voice.frequency.setValueAtTime(pitch(force_N, full_N), now); // no glide from an older pull
    else if (wanted) this.voice.frequency.setTargetAtTime(pitch(force_N, full_N), now, 0.015);
  }

  brokeAway() {
    if (!this.on.click) return;
    this.caption(words.sound.captionClick);
    if (!this.context) return;
    const { context } = this;
    const noise = context.createBuffer(1, Math.round(0.03 * context.sampleRate), context.sampleRate);
    const samples = noise.getChannelData(0);
    for (let i = 0; i < samples.length; i += 1) samples[i] = (Math.random() * 2 - 1) * Math.exp(-i / (0.003 * context.sampleRate));
    const click = new AudioBufferSourceNode(context, { buffer: noise });
    click.connect(new GainNode(context, { gain: 0.4 })).connect(context.destination);
    click.start();
  }

  /** @param {string} sentence */
  speak(sentence) {
    if (!this.on.voice || !("speechSynthesis" in window)) return;
    speechSynthesis.cancel();
    const spoken = new SpeechSynthesisUtterance(sentence);
    spoken.lang = words.language;
    speechSynthesis.speak(spoken);
    this.caption(words.sound.captionVoice(sentence));
  }
}
