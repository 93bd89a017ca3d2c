/**
 * What travels between the bench and the page. Numbers that people read arrive as finished text:
 * the page never rounds a result.
 *
 * @typedef {"quiet"|"loading"|"breakaway"|"settling"|"sliding"|"stick-slip"|"let go"} WatchState
 * @typedef {"simulated"|"replayed"|null} Label  null: measured
 *
 * @typedef {object} Told  a result as people read it; without `text` it cannot be told, and `reason` says why
 * @property {"value"|"lower bound"|"upper bound"|"cannot tell"} kind
 * @property {string|null} text @property {string|null} plus_minus @property {string} unit
 * @property {number|null} value @property {number|null} low @property {number|null} high
 * @property {string|null} reason
 * @property {string|null} [whole]  the finished wording when it is more than "text unit ± plus_minus"
 *
 * @typedef {Told & {at_s: number|null}} ToldBreakaway
 * @typedef {Told & {from_s: number|null, to_s: number|null}} ToldKinetic
 * @typedef {{name: string, from_s: number, to_s: number}} Phase  in bench seconds
 * @typedef {{name: string, sentence: string, fix: string}} Finding
 *
 * @typedef {object} Card  one pull of the day
 * @property {number} number @property {number} start_s @property {number} end_s @property {Label} label
 * @property {"usable"|"usable with a note"|"pull again"} verdict @property {string} verdict_sentence
 * @property {1|-1} direction
 * @property {ToldBreakaway} breakaway @property {ToldKinetic} kinetic
 * @property {{sentence: string}|null} stick_slip
 * @property {string} sentence @property {string|null} fix @property {Finding[]} findings
 * @property {string|null} aside @property {Phase[]} phases @property {boolean} read_again @property {boolean} [provisional] read before its rest after is complete
 * @property {boolean} [marked] @property {string} spoken @property {PullSetting|null} [setting]
 *
 * @typedef {{source: string, u_text: string, share: number}} BudgetRow
 * @typedef {Card & {trace: {time_s: number[], force_N: number[]},
 *   budgets: {breakaway: BudgetRow[], kinetic: BudgetRow[]}, chosen: string[], rest: Told,
 *   coefficients: {static: Told|null, kinetic: Told|null}|null}} CardPlus
 *
 * @typedef {{name: string, text: string, sentence: string, fix: string|null}} CheckRow
 * @typedef {object} Check
 * @property {string} summary @property {CheckRow[]} rows
 * @property {{text: string, plus_minus: string, unit: string, sentence: string}|null} rest
 * @property {{text: string, plus_minus: string, sentence: string}|null} gain
 * @property {number} [step_s] @property {number} [range_N]
 *
 * @typedef {{kind: string, sentence: string, at_s: number|null}} News
 * @typedef {{url: string, code: string, svg: string|null}} Join
 * @typedef {{text: string, plus_minus: string|null, unit: string, value_N: number}} Force
 * @typedef {{code: string, what: string, allowed: string, next_step: string}} Fault
 *
 * @typedef {{load: string|null, surface: string, load_kg: number|null, sled_kg: number|null}} PullSetting  of one pull
 * @typedef {{n: number, why: string}} Greyed  a pull that is left out of a law, and why
 * @typedef {object} TiltReading
 * @property {"slid"|"held"|"slide"} kind @property {number} angle_deg @property {number|null} [acceleration_m_s2]
 * @property {string} surface @property {string|null} aside @property {number} i its place in the day
 *
 * @typedef {object} Prediction  before it is revealed only the count is told: nobody copies a neighbour
 * @property {"open"|"committed"|"revealed"} state @property {"number"|"which"} kind
 * @property {boolean} [decided] the pull that settles it has been read
 * @property {"kinetic_N"|"static_N"|null} quantity @property {string} question @property {string[]} options
 * @property {number} count @property {number|null} committed_before_pull
 * @property {{value_N: number, plus_minus_N: number|null}[]} [slips] @property {Record<string, number>} [counts]
 * @property {Outcome|null} [outcome] @property {string} [sentence]
 * @typedef {{pull: number|null, told: string, value_N: number|null, low_N: number|null, high_N: number|null, label: Label, option: string|null}} Outcome
 */
export {};
