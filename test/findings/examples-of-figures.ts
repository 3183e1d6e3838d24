/** Facts for sentences that tell of records as figures, contradictions, answers, checks, what is missing. */

import {
  cases,
  check,
  type Examples,
  elsewhere,
  failed,
  gap,
  given,
  heat,
  here,
  inch,
  length,
  offset,
  strained,
  there,
} from "./example-facts";

export const ofFigures = {
  "record/misclosure": [
    {
      parties: [offset, gap],
      gap: { si: 0.006, measure: length },
      explained: 0.001,
      again: gap,
      best: [offset],
      elsewhere: [{ path: "spare.offset", anchor: there }],
    },
    {
      parties: [offset, gap],
      gap: { si: 0.006, measure: length },
      explained: 0.001,
      suspect: gap,
      best: [],
      elsewhere: [],
    },
  ],
  "conflict/givens": [
    {
      givens: [
        { ...given, needed: 0.02 },
        { ...given, ...gap, assumed: true, elsewhere },
      ],
      formulas: ["rear.width: 2 * half"],
      title: "rim halves",
      gap: { si: 0.002, measure: length },
      held: [{ ...gap, path: "rear.left.allowance", constant: false }],
      clashes: 2,
      repairs: [[offset], [{ ...gap, si: undefined }]],
    },
    {
      givens: [{ ...given, measured: true, bought: true, needed: 0.02 }],
      formulas: [],
      held: [],
      clashes: 1,
      repairs: [],
    },
    { givens: [given, { ...given, ...gap }], formulas: [], held: [], clashes: 1, repairs: [] },
    {
      givens: [],
      formulas: [],
      relations: ["rim halves", "width by hand"],
      gap: { si: 0.002, measure: length },
      held: [],
      clashes: 1,
      repairs: [],
    },
    {
      givens: [],
      formulas: [],
      relations: ["rim halves"],
      gap: { si: 0.002, measure: length },
      held: [],
      clashes: 1,
      repairs: [],
    },
  ],
  "solve/several-answers": [
    { ...failed, askedAt: 0, roots: [1, 2, 3, 4, 5, 6, 7, 8], answers: [], complete: true },
    { ...failed, askedAt: 0, roots: [0.01, 0.02], answers: [], complete: true },
    { ...failed, askedAt: 0, roots: [0.02, 0.0200001], answers: [], complete: true },
    { ...failed, askedAt: 0, roots: [0.1, 0.2, 0.3], answers: [], complete: true, halfTurn: true },
    {
      ...failed,
      figures: [gap, offset],
      roots: [],
      answers: [
        [0.01, 0.02],
        [0.02, 0.01],
      ],
      complete: false,
    },
  ],
  "solve/no-answer": [
    { ...failed, figures: [gap], nearest: [0.02, 0.01, 0.03] },
    { ...failed, figures: [gap, offset], inWholes: true },
    { ...failed, figures: [{ ...gap, range: [0, 0.5] }], outside: -0.01 },
    { ...failed, figures: [gap, offset], inputs: [] },
  ],
  "solve/no-answer together": [{ ...failed, figures: [gap, offset] }],
  "solve/not-defined": [failed, { ...failed, inputs: [] }],
  "solve/several-cases": [{ ...failed, ...cases }],
  "solve/no-case": [{ ...failed, ...cases }],
  "solve/others-not-excluded": [
    { path: "link.angle", together: 1 },
    { path: "link.angle", together: 3 },
  ],
  "solve/not-whole": [{ path: "leaves.count", si: 3.333333 }],
  "check/fails": [
    check,
    {
      ...check,
      message: { text: "too little room", values: {} },
      limit: { path: "rear.inner_limit", given: false, at: there },
    },
    { ...check, compared: { is: "figures", figures: [gap, offset] } },
    {
      ...check,
      meant: {
        instead: ["backspace: 126 mm"],
        edits: [{ anchor: there, text: "backspace" }],
      },
    },
  ],
  "check/strained": [
    strained,
    { ...strained, rss: "holds", worst: "unknown", reach: { is: "unlimited" } },
    { ...strained, rss: "holds", witness: [], chance: () => undefined },
  ],
  "check/cannot-judge": [
    { title: "room inside", open: [] },
    { title: "room inside", open: ["rear.left.inner_gap"] },
    { title: "room inside", open: [], valueless: true },
  ],
  "check/cannot-judge of-thing": [
    {
      path: "rear.left",
      titles: ["a", "b", "c", "d"],
      needs: ["measure the gap"],
      missing: ["inner_gap"],
      unanswered: true,
    },
    { titles: ["room inside"], needs: [], missing: [], unanswered: false },
  ],
  "value/out-of-range": [
    {
      figure: { ...offset, si: 1.8, written: "1800 mm" },
      range: [-0.1, 0.1],
      ofPart: false,
      failing: false,
      slip: { text: "18 mm", anchor: here },
    },
    { figure: { ...offset, si: -0.3 }, range: [-0.1, 0.1], ofPart: true, failing: true },
  ],
  "value/out-of-range tolerance": [{ figure: { ...offset, si: 0.018, written: "18 mm" }, by: 0.2 }],
  "value/unlike-twin": [
    {
      one: { ...offset, si: 0.018 },
      other: { ...offset, path: "other.offset", si: 0.81 },
      first: { text: "81 mm", anchor: here },
      second: { text: "18 mm", anchor: there },
    },
    {
      one: { ...offset, si: 0.018 },
      other: { ...offset, path: "other.offset", si: 0.81 },
      first: { text: "81 mm", anchor: here },
    },
  ],
  "given/against-default": [
    { figure: gap, field: "inner_gap", usual: inch, givens: [{ path: "spare.offset", elsewhere }] },
  ],
  "missing/value": [
    {
      missing: [
        {
          path: "rear.width",
          needs: [],
          spokenOf: true,
          followsFrom: { paths: ["rear.half", "rear.reach"], asked: ["rear.half"] },
          asked: here,
        },
      ],
    },
    { missing: [{ path: "rear.width", needs: [], spokenOf: false, asked: here }] },
    {
      missing: [
        {
          path: "rear.width",
          needs: [],
          spokenOf: true,
          passedOver: [
            { title: "thin", when: "wall < 0.2 in" },
            { title: "thick", when: "wall > 0.3 in" },
          ],
          asked: here,
        },
      ],
    },
    {
      missing: [
        { path: "rear.width", needs: [], spokenOf: true, advice: "read it off", asked: here },
      ],
    },
    {
      missing: [
        {
          path: "rear.width",
          needs: [[{ path: "spare.offset", advice: "read the stamp" }], [{ path: "rear.half" }]],
          spokenOf: true,
          asked: here,
        },
        { path: "rear.half", needs: [], spokenOf: true, asked: there },
      ],
    },
    {
      missing: [
        {
          path: "rear.width",
          needs: [],
          spokenOf: true,
          asked: here,
          failed: { is: "value/not-a-condition" },
        },
      ],
    },
  ],
  "wanted/missed": [
    { figure: gap, wanted: 1.5 * inch, comes: 1.25 * inch },
    { figure: { path: "hub.heat", measure: heat, si: 303.15 }, wanted: 293.15, comes: 303.15 },
    {
      figure: gap,
      wanted: 1.5 * inch,
      comes: 1.25 * inch,
      accepted: { low: 1.4 * inch, high: 1.6 * inch },
      against: { ...offset, role: "bought", needed: 0.024 },
    },
    {
      figure: gap,
      wanted: 1.5 * inch,
      comes: 1.25 * inch,
      shares: { made: offset, wishes: ["right.gap"] },
    },
  ],
  "kit/shared": [
    {
      path: "left.shims",
      kit: "shim_kit",
      others: ["right.shims"],
      pieces: [0.018 * inch, 0.007 * inch],
      measure: length,
    },
  ],
  "kit/short": [
    {
      path: "left.shims",
      kit: "shim_kit",
      residual: 0.003 * inch,
      pieces: [0.018 * inch],
      measure: length,
    },
    {
      path: "left.shims",
      kit: "shim_kit",
      residual: -0.003 * inch,
      pieces: [],
      measure: length,
    },
  ],
  "unit/two-currencies": [
    {
      first: { path: "spare.price", currency: "USD", anchor: there },
      other: { path: "rear.price", currency: "EUR", anchor: here },
    },
  ],
} satisfies Partial<Examples>;
