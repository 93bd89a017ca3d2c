/** Every word of Problem sheets, Item bank and Sheet review, in one place, so that it can be translated. */

const plural = (n, one, many) => `${n} ${n === 1 ? one : many}`;

export const words = {
  teacherOnly: "Only the teacher's page makes and reviews sheets.",
  making: "Making it.",
  take: "take", takeThe: (what) => `take the ${what}`,
  taken: (name) => `${name} was taken.`,
  levels: "level", kinds: "kinds",
  kindsOf: (n) => (n ? plural(n, "kind chosen", "kinds chosen") : "kinds: as they come"),
  kindsHow: "Without a mark the seed chooses, up to two pages a sheet.",
  itemKindsOf: (n) => (n ? plural(n, "kind chosen", "kinds chosen") : "kinds: all of the level"),
  itemKindsHow: "Without a mark all kinds are taken.",
  level: (n) => `level ${n}`,
  clear: "unmark all",
  fields: /** @type {Record<string, string>} */ ({
    seats: "seats", seed: "seed", variants: "variants", load_kg: "load", u_load_kg: "plus or minus", string_deg: "string", tilt_deg: "slope",
    pulls: "pulls", sole: "sole", floor: "floor", surfaces: "surfaces", day: "coefficients of", paper: "paper", pictures: "pictures", code: "code on the sheets", answers: "answers",
  }),
  units: /** @type {Record<string, string>} */ ({ load_kg: "kg", u_load_kg: "kg", string_deg: "°", tilt_deg: "°" }),
  hints: /** @type {Record<string, string>} */ ({ pulls: "all, or 1, 2, 5-7", sole: "birch", floor: "felt" }),
  papers: /** @type {Record<string, string>} */ ({ a4: "A4", letter: "letter" }),
  pictureForms: /** @type {Record<string, string>} */ ({ svg: "SVG", png: "PNG" }),
  ticks: /** @type {Record<string, string>} */ ({ large_print: "large print", plain_type: "plain type", comma: "decimal comma" }),
  today: "today", handbook: "the handbook",
  about: "load, pulls, surfaces", aboutHow: "The load is sled and tins together. Angles: string above the board, board uphill.",
  coefficients: "Coefficients", problems: "Problems", page: "Paper",

  sheets: {
    title: "Problem sheets", set: (code) => `set ${code}`,
    show: /** @type {Record<string, string>} */ ({ sheet: "sheet", key: "key", lab: "lab sheet" }), showing: "what is shown",
    seat: "seat", of: (n) => `of ${n}`, before: "seat before", after: "next seat",
    pdf: "PDF", html: "HTML",
    frame: (what, code, seat) => (what === "sheet" ? `Sheet of seat ${seat}, set ${code}, as it is printed` : `${what === "key" ? "Key" : "Lab sheet"} of set ${code}, as it is printed`),
    review: "Sheet review", items: "Item bank",
  },
  items: {
    title: "Item bank", item: (at, n) => `item ${at} of ${n}`, before: "item before", after: "next item", kind: "look at a kind",
    package: "package", csv: "CSV", text: "text", frame: (name) => `Item ${name} with its feedback`,
    count: (n) => plural(n, "item", "items"),
  },
  review: {
    title: "Sheet review",
    how: "One answer a line: seat, problem, part, answer. Seats only, no names. Nothing of it is kept.",
    example: "3,1,a,4.2 N\n3,1,b,B\n4,1,a,0.42 kN",
    set: (seats, seed) => `The set of Problem sheets: ${plural(seats, "seat", "seats")}, seed ${seed}.`, change: "change it there",
    go: "propose a review", code: (code) => `set ${code}`,
    proposed: "Proposed. Nothing is handed back yet.",
    none: "Type answers; what they show is proposed here.",
    seat: (n) => `Seat ${n}`,
    columns: { approve: "approve", where: "part", typed: "typed", shows: "what it shows" },
    approve: (seat, where) => `approve seat ${seat}, ${where}`, all: "approve all", noneOf: "approve none",
    approved: (n, of) => `${n} of ${of} approved`, back: "hand back",
    outcomes: /** @type {Record<string, string>} */ ({
      right: "right", follows: "right, follows from", unclear: "not right: more than one way leads here", unit: "right number, unit of another quantity",
      wrong: "not right", unreadable: "cannot be read",
    }),
    counted: /** @type {Record<string, string>} */ ({
      right: "right", follows: "right, from an earlier slip", idea: "an idea or slip named", unclear: "more than one way",
      unit: "unit of another quantity", wrong: "not right, way not known", unreadable: "cannot be read",
    }),
    flags: /** @type {Record<string, string>} */ ({ "unit-missing": "unit left out", "unit-other": "in another unit", "figures-few": "too few figures", "figures-many": "too many figures" }),
    ideaKinds: /** @type {Record<string, string>} */ ({ idea: "idea", slip: "slip" }),
    answers: (n) => `Of ${plural(n, "answer", "answers")}`, ideas: "Ideas and slips", noted: "Noted only", complaints: "Lines to mend", mend: (n) => `${n === 1 ? "line" : "lines"} to mend, below`,
    handedBack: "What is handed back, a slip a seat", print: "print", toReview: "back to the review",
  },
};
