/** Every word of the free-body view and of required / available, in one place, so that it can be translated. */

export const words = {
  plusMinus: "±",
  stages: /** @type {Record<string, string>} */ ({
    rest: "rest", loading: "loading", settling: "settling", sliding: "sliding", "stick-slip": "stick-slip", "let go": "let go",
  }),
  labels: /** @type {Record<string, string>} */ ({ simulated: "simulated", replayed: "replayed" }),
  forces: {
    title: (n) => `Free-body view, pull ${n}`,
    loading: "Fetching the forces.",
    moment: "moment of the pull",
    toBreak: (s) => `${s} s to breakaway`,
    afterBreak: (s) => `${s} s after breakaway`,
    into: (s) => `${s} s into the pull`, before: (s) => `${s} s before the pull`,
    at: (when, stage, sentence, numbers) => `${when}, ${stage}. ${sentence} ${numbers}`,
    pull: "string pulls", friction: "floor holds", slid: "floor holds back", unknownFriction: "friction: cannot tell",
    string: "string", kind: { static: "friction", kinetic: "kinetic friction" },
    normal: "normal force", weight: "weight", notSaid: "not said: type the load", slope: "downhill",
    limit: (text) => `static limit ${text}`, limitUntold: (why) => `static limit: cannot tell, ${why}`, limitBound: (text) => `static limit: ${text}`,
    spare: (text) => `${text} to spare`, beyond: "at its limit, within the ±",
    net: "net force", even: "net force: not told from nought", faster: "speeds up", slower: "slows down",
    inferred: "inferred: pull less level", needsMass: "type the load to know the acceleration",
    rider: (text) => `friction takes the rider along: ${text}`, riderBack: (text) => `friction holds the rider back: ${text}`,
    times: (n) => (n > 1 ? `along the board, ${n} times larger` : "along the board"),
    level: (n) => (n > 1 ? `the level pair, ${n} times larger` : "the level pair"),
    load: (kg) => (kg ? `load ${kg} kg` : "load: not said"), loadSaid: (kg) => `load ${kg} kg, as said on the bench`, loadAsk: "sled and load, kg", loadDoubt: "plus or minus, kg", string_deg: "string above board, °",
    tilt_deg: "slope, uphill, °", rider_kg: "rider, part of the load, kg", use: "use", picture: "Forces on the sled", paper: "The forces along the board, enlarged",
    trace: (from, to) => `Pull of the string over time, ${from} s to ${to} s`,
    sheet: "pull sheet", required: "required / available",
  },
  required: {
    title: "Required / available", loading: "Fetching.",
    asked: "asked", there: "there is", between: (a, b) => (a === b ? a : `${a} to ${b}`),
    most: (text) => `The most before it slides: ${text}.`,
    from: (told, label) => `From ${told}${label ? `, ${label}` : ""}.`,
    spare: (text) => `To spare: ${text}.`, missing: (text) => `Missing: ${text}.`, either: (less, more) => `Between ${less} missing and ${more} to spare.`,
    scenario: "scenario", scenarios: /** @type {Record<string, string>} */ ({
      rider: "rider on the sled", flatbed: "cargo on a flatbed", tilt: "box on a slope", pusher: "person who pushes", tyres: "tyres, a thought",
    }),
    grip: "grip from", pull: (n) => `pull ${n}`, book: "handbook", surfaces: "surfaces", load: "load, kg", mass: (who) => (who ? `${who}, kg` : "mass, kg"), use: "use",
    picture: (asked, there, answer) => `Asked ${asked}, there is ${there}. ${answer}`,
  },
};
