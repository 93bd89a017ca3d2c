/** The phases that the strip shows: of read pulls as they were analysed, of the pull under way as it was seen live. */

/** @typedef {{name: string, from_s: number, to_s: number, live: boolean}} Span */

/** Live states, and phases of analysed pulls, in the strip's own words. */
const SHOWN = /** @type {Record<string, string>} */ ({
  loading: "loading", breakaway: "settling", settling: "settling", transition: "settling",
  sliding: "sliding", kinetic: "sliding", "stick-slip": "stick-slip",
});

/** @param {import("./types.js").Card} card @returns {Span[]} */
export function spansOfPull(card) {
  return card.phases.flatMap((phase) => {
    const shown = SHOWN[phase.name];
    const name = shown === "sliding" && card.stick_slip ? "stick-slip" : shown;
    return name ? [{ name, from_s: phase.from_s, to_s: phase.to_s, live: false }] : [];
  });
}

/**
 * @param {import("./types.js").Card[]} cards in order of time
 * @param {{state: string, at_s: number}[]} history of live states
 * @param {number} now_s
 * @returns {Span[]} in order of time
 */
export function spans(cards, history, now_s) {
  const read = cards.flatMap(spansOfPull);
  const readTo_s = cards.length ? cards[cards.length - 1].end_s : -Infinity;
  const live = history.flatMap(({ state, at_s }, i) => {
    const to_s = history[i + 1]?.at_s ?? now_s;
    const name = SHOWN[state];
    return name && at_s >= readTo_s && to_s > at_s ? [{ name, from_s: at_s, to_s, live: true }] : [];
  });
  return merged([...read, ...live]);
}

/** Breakaway and settling look the same on the strip: one span. @param {Span[]} all @returns {Span[]} */
function merged(all) {
  /** @type {Span[]} */
  const out = [];
  for (const span of all) {
    const last = out[out.length - 1];
    if (last && last.name === span.name && span.from_s - last.to_s < 1e-6) last.to_s = span.to_s;
    else out.push({ ...span });
  }
  return out;
}

/** @param {import("./types.js").Card[]} cards @param {number} now_s @returns {{from_s: number, to_s: number}[]} rests between pulls */
export function quietStretches(cards, now_s) {
  return cards.map((card, i) => ({ from_s: card.end_s, to_s: cards[i + 1]?.start_s ?? now_s }));
}
