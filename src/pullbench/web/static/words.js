/**
 * Every word that the page itself says, in one place, so that it can be translated. Sentences about pulls
 * come finished from the bench.
 */

import { commandWords } from "./command-words.js";

const plural = (n, one, many) => `${n} ${n === 1 ? one : many}`;

export const words = {
  language: "en",
  product: "pullbench",
  plusMinus: "±",
  and: "and",

  /** @type {Record<string, string>} states of the watch, and phases on the strip */
  states: {
    quiet: "quiet", loading: "loading", breakaway: "breakaway", settling: "settling", sliding: "sliding",
    "stick-slip": "stick-slip", "let go": "let go", rest: "rest", "stood down": "stood down",
  },
  /** @type {Record<string, string>} */
  verdicts: { usable: "usable", "usable with a note": "usable with a note", "pull again": "pull again" },
  /** @type {Record<string, string>} */
  labels: { simulated: "simulated", replayed: "replayed" },

  /** @type {Record<string, string>} what happened to the samples, on the paper */
  news: {
    gap: "gap", lost: "sensor lost", back: "sensor back", silent: "silent", "not numbers": "not numbers",
    "clock jumped": "clock jumped", stopped: "stopped",
  },

  titles: /** @type {Record<string, string>} */ ({
    bench: "Demonstration bench", check: "Bench check", pull: "Pull sheet", rehearsal: "Rehearsal", logbook: "Logbook",
    follow: "Following", help: "Commands", join: "Follow along", ladder: "Load ladder", surfaces: "Surface pairs",
    tilt: "Tilt check", prediction: "Prediction slip", slip: "Prediction slip",
      forces: "Free-body view", required: "Required / available", sheets: "Problem sheets", items: "Item bank",
      review: "Sheet review",
  }),

  watch: {
    first: "first reading",
    on: "on watch", off: "stood down",
    tabOn: "on watch: stand down", tabOff: "stood down: go on watch",
    since: (time) => `since ${time}`,
    waiting: "No pull yet today.",
    waitingFix: "Let the sled rest with the string loose, then pull.",
    stoodDown: "Stood down. Everything up to now is kept.",
    scaleGrew: (full) => `scale now 0 to ${full} N`,
    offPaper: "off the paper: the scale grows in the next quiet",
    aside: "set aside",
    looking: "looking back; the watch goes on",
    toPen: "back to the pen",
    strip: "Strip of the pen recorder",
    stripNow: (state, last) => `Strip of the pen recorder, now ${state}. ${last}`,
    today: "Today's pulls",
    earlier: (n) => `${n} earlier`,
    holdUp: "hold up pull",
    force: (told) => `Force now: ${told}`,
    noForce: "no reading",
    ribbon: "on watch:",
    verdict: "Last verdict",
  },

  reading: {
    static: "static maximum", staticShort: "static", kinetic: "kinetic", cannotTell: "cannot tell",
    pull: (n) => `pull ${n}`,
    pulls: (n) => plural(n, "pull", "pulls"),
    atLeast: "at least", atMost: "at most",
  },

  /** the socket, in plain words */
  line: {
    connecting: "Reaching the bench.",
    lost: "No word from the bench. What it received is kept.",
    lostWord: "bench lost",
    again: (s) => `Trying again in ${s} s.`,
    now: "Trying again now.",
    refused: "The bench does not let this page in.",
    code: "Join code",
    codeAsk: "Type the code that the teacher's screen shows.",
    codeGo: "follow along",
  },

  fault: {
    unreadable: "The bench answered something that this page cannot read.",
    unreachable: "The bench cannot be reached.",
    allowed: "The page and the bench must be of the same version.",
    next: "Load the page again.",
    watcher: "Only the teacher's page changes the day.",
  },

  sheet: {
    title: (n) => `Pull ${n}, held up`,
    compare: (n) => `Pulls ${n.slice(0, -1).join(", ")} and ${n.at(-1)}`,
    of: (day) => `of ${day}`,
    loading: "Fetching the pull.",
    first: "First reading: the sheet opens in a few seconds, when the rest after the pull is complete.",
    breakaway: "breakaway", from: "slides from", to: "slides to", fromShort: "from", toShort: "to",
    flag: (name, at) => `${name}: ${at}`,
    at: (s) => `${s} s into the pull`,
    closeUp: (s) => `close-up, ${s} s: arrow keys move the mark`,
    closeUpRead: (s) => `close-up, ${s} s`,
    here: ["it breaks", "away here"],
    noBreak: "no breakaway found here",
    why: "Why plus or minus?", whyNot: "Why no plus or minus?",
    together: "together, 95 % limits", none: "none",
    source: "where the doubt comes from",
    chosen: "How the moment and the stretch were chosen",
    findings: "What was seen",
    coefficients: (s, k) => [s && `static coefficient ${s}`, k && `kinetic coefficient ${k}`].filter(Boolean).join(", "),
    aside: "set aside (why?)", back: "bring back", ask: "Why is this pull set aside?", doAside: "set aside",
    reasons: ["practice pull", "wrong load", "string not level", "sled was touched"],
    isAside: (why) => `Set aside: ${why}.`,
    cancel: "leave it",
    unmark: "pullbench's own marks", marked: "Marked by hand.", reading: "Reading again.",
    readAgain: "Read again with a newer pullbench.",
    with: "compare with", alone: (n) => `pull ${n} alone`, without: (n) => `without pull ${n}`,
    whole: "Whole pull", zoomed: "Close-up at the breakaway",
    nothingToChange: "Nothing to change.",
    actions: "What to do with this pull",
    setting: "load and surface", settingOf: (told) => `Pulled with ${told}.`, noSetting: "Nobody said what was on the sled.",
    correct: "correct it",
    noAlign: (n) => `Pull ${n} has no breakaway; it is laid by the start of its loading.`,
    moved: (name, told) => `${name} ${told}`,
  },

  check: {
    rest: "rest reading", null: "null the rest reading", nulled: "The rest reading was taken anew.",
    masses: "verify with masses",
    massesHow: "Hang a known mass, wait until it is still, type its mass.",
    kg: "mass in kg", hang: "it hangs still", hung: "Hung so far", give: "take the force scale from these",
    massesNeed: "Hang two masses or more.",
    notANumber: "A mass is a number of kilograms above 0, such as 0.5.",
    none: "The bench has not been checked yet.",
    source: "from",
    what: "what", reading: "reading", means: "what it means",
  },

  rehearsal: {
    how: "Drag the handle to the right, with mouse, finger or arrow keys. Let go when it has slid.",
    handle: "handle of the string",
    hand: (mm) => `hand at ${mm} mm`,
    again: "once more",
    slack: "string loose", sliding: "sliding", held: "held",
    reading: "Let go. Reading your pull.",
    truth: "the truth", read: "what was read",
    truthWords: (s, k) => `It broke away at ${s} and slid at ${k}.`,
    opening: "Setting up the virtual bench.",
    closed: "The virtual bench is not answering.",
  },

  setting: {
    on: (load, surface) => `${load} on ${surface}`, onOnly: (surface) => `on ${surface}`,
    now: (told) => `now: ${told}`, unknown: "now: load not said",
    change: "change load, sled or surface", next: "next load", nextBy: (kg) => `next load: + ${kg}`,
    load: "load, kg", sled: "sled, kg", surface: "surface", step: "step, kg", pulls: "pulls a load", set: "set",
    wrong: (text) => `"${text}" is no mass.`, allowed: "A mass is a number of kilograms, or grams with their unit: 0.5, 350 g.",
    again: "Type it again.", whichLoad: "No load was typed.", whichSurface: "No surface was typed.", sayIt: "Type it after the word, such as: load 1.5, surface felt.",
  },

  law: {
    waiting: "Fetching.", room: "In a sentence", colleague: "For a colleague who knows statistics",
    onTheLine: (n) => `${plural(n, "pull", "pulls")} counted`, greyed: (n) => `${plural(n, "pull", "pulls")} left out, in grey`,
    pull: (n) => (n === 1 ? "pull" : "pulls"), points: "Points: arrow keys go from pull to pull, Enter holds one up.",
    also: "Also", which: "Which surface is drawn", pulls: "Its pulls", fix: "What to do",
    kinetic: "kinetic", static: "static", quantity: "Which friction is compared", margin: "counts as the same within", eachPair: "each pair",
    marginWrong: "The margin is a number above 0, such as 0.05.",
    sideways: "Drag the paper sideways to see all of it.",
  },

  tilt: {
    how: "Tilt the board slowly. Type the angle, then say what the sled did.",
    angle: "angle, degrees", acceleration: "and sped up by, m/s\u00b2", slid: "it slid", held: "it held", slide: "it slides down", give: "keep it",
    readings: "What was read", none: "No angle yet.", leaveOut: "leave out", bring: "bring back", why: "left out on the page",
    one: { slid: (deg) => `slid at ${deg}\u00b0`, held: (deg) => `held at ${deg}\u00b0`, slide: (deg, a) => `sped up by ${a} m/s\u00b2 at ${deg}\u00b0` },
    notAnAngle: (text) => `"${text}" is no angle.`, allowed: "An angle is a number of degrees from 0 to 90, such as 17.5.",
    again: "Type it again, with slid or held: tilt 17.5 slid.",
    /** @type {Record<string, string>} */ answers: { agree: "agree", disagree: "disagree", "cannot tell": "cannot tell" },
    beside: "Tilt beside pull",
  },

  prediction: {
    ask: "What will the class predict?", number: "a number", which: "one of several words", question: "question", options: "the words, with commas between",
    asks: { kinetic_N: "How hard must we pull to keep it sliding?", static_N: "How hard must we pull to start it?", which: "Which surface needs the harder pull?" },
    optionsFirst: "felt, birch, the same", kinetic: "kinetic force", static: "static maximum", open: "open the question",
    slips: (n) => (n === 1 ? "slip" : "slips"), handedIn: "handed in", phones: (url, code) => `${url}, code ${code}`,
    noPhones: "Phones are not let in: type a show of hands.",
    hands: "Show of hands", values: "what they called out, in N", add: "count them in", addWords: (words) => `hands for "${words}"`,
    notNumbers: "Type numbers of newtons with spaces between, such as 2.5 3 3.2.", notCounts: "Type how many hands, a whole number.",
    commit: "commit predictions", commitHow: "After that nobody changes a slip.", reveal: "reveal", clear: "next question",
    committed: (n) => `${plural(n, "slip is", "slips are")} committed.`, before: (n) => `Committed before pull ${n}.`, pullNow: "Now pull.", ready: "The pull is in.",
    none: "No question is open.", noneFix: "Open one first: press P.", itWas: (words) => `it was ${words}`,
    ruler: (n) => `${plural(n, "slip", "slips")} and the outcome on one ruler`,
    pulled: "came out", watcher: "The teacher opens the next question.",
  },

  slip: {
    title: "Prediction slip", noName: "no name", waiting: "No question is open.", waitingFix: "Watch the bench until one is.",
    how: "Move the mark. Stretch it to say how unsure you are.", howWhich: "Choose one.",
    value: "your number", doubt: "give or take", mark: (text) => `${text} N`, doubtOf: (text) => `\u00b1 ${text} N`,
    hand: "hand it in", again: "hand in the change", handed: "Handed in. You can change it until the teacher commits.", handedShort: "handed in",
    committed: "Committed. Watch the pull.", notHanded: "The predictions are committed. Watch the pull.", follow: "follow along", yours: (told) => `You said ${told}.`, yoursShort: "yours",
    kept: "Nothing here carries your name.", toSlip: "The class predicts. Fill in your slip.", ruler: "Ruler in newtons",
  },

  logbook: {
    search: "search pulls", searchHint: "a verdict, a reason, a word of a finding", find: "search",
    found: (n, text) => (n ? `${plural(n, "pull", "pulls")} with "${text}"` : `No pull with "${text}".`),
    today: "today", none: "No day is kept yet.", noPulls: "No pull on this day.",
    pulls: (n, aside) => plural(n, "pull", "pulls") + (aside ? `, ${aside} set aside` : ""),
    days: "Days", news: "What happened to the samples", fetching: "Fetching.",
    column: { pull: "pull", static: "static maximum", kinetic: "kinetic", verdict: "verdict", said: "what was seen" },
    compare: "compare those marked", mark: (n) => `mark pull ${n} for comparing`,
  },

  join: {
    how: "Point a phone at the square, or type the address and the code.",
    code: "code", qr: "Square code of the address", none: "The bench is not open to the room.",
    noneFix: "Start it with: pullbench watch --room",
  },

  sound: {
    captions: "what sounds", tone: "tone", click: "click", voice: "spoken verdict",
    on: (what) => `${what} on`, off: (what) => `${what} off`,
    
    captionTone: "tone: follows the force", captionClick: "click: breakaway", captionVoice: (said) => `spoken: ${said}`,
    noVoice: "This browser cannot speak.",
  },

  prompt: {
    label: "command", hint: "type a command, Enter does it",
    unknown: (text) => `No command "${text}". Type ? for all of them.`,
  },

  help: {
    by: "by key, clicker, or the word typed after /",
    keysOn: "single letters are commands",
    where: /** @type {Record<string, string>} */ ({ all: "everywhere", strip: "on the strip", sheet: "on a pull sheet", prediction: "on the prediction slip" }),
    clicker: "Clicker: forward holds up the next pull, back the one before, the black-screen button flips the room, start is full screen.",
  },

  commands: commandWords,
};
