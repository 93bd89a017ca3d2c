/**
 * Every word that the page itself says, in one place, so that it can be translated. Sentences about pulls
 * come finished from the bench.
 */

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
    follow: "Following", help: "Commands", join: "Follow along",
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
    where: /** @type {Record<string, string>} */ ({ all: "everywhere", strip: "on the strip", sheet: "on a pull sheet" }),
    clicker: "Clicker: forward holds up the next pull, back the one before, the black-screen button flips the room, start is full screen.",
  },

  /** @type {Record<string, {words: string[], says: string}>} what can be commanded; the first wording is the one shown */
  commands: {
    hold: { words: ["hold up", "hold up pull", "pull"], says: "hold up the last pull, or the one whose number you type" },
    compare: { words: ["compare"], says: "lay pulls on one strip, by number" },
    bench: { words: ["back to the bench", "bench"], says: "back to the bench" },
    next: { words: ["next pull", "next"], says: "hold up the next pull" },
    previous: { words: ["pull before", "previous"], says: "hold up the pull before" },
    go: { words: ["go on watch"], says: "go on watch" },
    down: { words: ["stand down"], says: "stand down" },
    check: { words: ["bench check", "check"], says: "is the bench good enough?" },
    null: { words: ["null the rest reading", "null"], says: "take the rest reading anew" },
    masses: { words: ["verify with masses", "masses"], says: "take the force scale from known masses" },
    rehearsal: { words: ["rehearsal", "rehearse"], says: "pull on the virtual bench" },
    logbook: { words: ["logbook"], says: "all days and pulls" },
    search: { words: ["search"], says: "find pulls by word" },
    join: { words: ["join code", "follow along", "join"], says: "let phones follow" },
    closer: { words: ["closer", "close-up"], says: "closer" },
    wider: { words: ["wider", "whole strip"], says: "wider" },
    earlier: { words: ["earlier"], says: "look back" },
    later: { words: ["later"], says: "look forward" },
    pen: { words: ["back to the pen", "pen"], says: "back to the pen" },
    aside: { words: ["set aside"], says: "set this pull aside, with its reason" },
    back: { words: ["bring back"], says: "bring this pull back" },
    why: { words: ["why plus or minus", "why", "budget"], says: "what the plus or minus is made of" },
    breakaway: { words: ["mark breakaway"], says: "move the breakaway by arrow keys" },
    sliding: { words: ["mark sliding stretch", "mark sliding"], says: "move the sliding stretch by arrow keys" },
    unmark: { words: ["own marks", "unmark"], says: "pullbench's own marks again" },
    room: { words: ["light or dark", "light", "dark"], says: "light or dark room" },
    full: { words: ["full screen"], says: "full screen" },
    tone: { words: ["tone"], says: "tone while sliding, on or off" },
    click: { words: ["click"], says: "click at breakaway, on or off" },
    voice: { words: ["voice", "spoken verdict"], says: "spoken verdict, on or off" },
    type: { words: ["type"], says: "type a command" },
    help: { words: ["help", "commands"], says: "all commands" },
  },
};
