/**
 * Correct logs of a truck's rear axle with work done again, of which nothing is to be said. Common
 * practice, no source.
 */
import { describe, expect, test } from "vitest";
import { add, H, I, log, objections, P, Q, rec, S, set } from "./truck-log";

const correct: readonly (readonly [string, string])[] = [
  ["whole", log(() => {})],
  [
    "entries of two people of one day interleaved the other way round",
    log((m) => {
      const all = [...m];
      m.clear();
      const i = all.findIndex(([k]) => k === "lk");
      const j = all.findIndex(([k]) => k === "sl2");
      const moved = [
        ...all.slice(0, j),
        all[i]!,
        all[i + 1]!,
        ...all.slice(j, i),
        ...all.slice(i + 2),
      ];
      for (const [k, v] of moved) m.set(k, v);
    }),
  ],
  [
    "lid off to look and on again, oil again",
    add(
      rec(15, P, "ends.lid.done: no"),
      rec(15, P, "cover.loosened: yes"),
      rec(15, P, "cover { tightened: 7 N-m; pass: 1 }", S),
      rec(15, P, "cover { tightened: 17 N-m; pass: 2 }", S),
      rec(15, P, "cover { tightened: 24 N-m; pass: 3 }", S),
      rec(15, P, "cover { tightened: 24 N-m; pass: 4; held: yes }", S),
      rec(15, P, "ends.lid.done: yes"),
      rec(15, Q, "drain { tightened: 45 N-m; held: yes }", H),
      rec(15, Q, "ends.oil.done: yes"),
    ),
  ],
  [
    "second weld all again",
    add(
      rec(20, P, "house.bead.done: yes"),
      rec(21, P, "house.rest.done: yes"),
      rec(22, P, "beam.face_to_face: 1400 mm", "two-meter rule"),
      rec(22, P, `house.span { done: yes; signed: "${I}" }`),
      rec(23, Q, "ends.pig.done: yes"),
      rec(23, Q, "ends.races.done: yes"),
      rec(24, P, "flange { loosened: yes }"),
      rec(24, P, "flange { tightened: 31 N-m; pass: 1 }", S),
      rec(24, P, "flange { tightened: 74 N-m; pass: 2 }", H),
      rec(24, P, "flange { tightened: 105 N-m; pass: 3 }", H),
      rec(24, P, "flange { tightened: 105 N-m; pass: 4; held: yes }", H),
      rec(24, P, "ends.halves.done: yes"),
      rec(24, P, "cover { loosened: yes }"),
      rec(24, P, "cover { tightened: 24 N-m; held: yes }", S),
      rec(24, P, "ends.lid.done: yes"),
      rec(25, P, "ends.discs.done: yes"),
      rec(25, P, "ends.gap.done: yes"),
      rec(25, P, "ends.trim.done: yes"),
      rec(25, P, "slide { loosened: yes; renewed: yes }"),
      rec(25, P, "slide { tightened: 30 N-m; pass: 1 }", S),
      rec(25, P, "slide { tightened: 70 N-m; pass: 2 }", H),
      rec(25, P, "slide { tightened: 100 N-m; pass: 3; held: yes }", H),
      rec(25, P, "ends.final.done: yes"),
      rec(26, Q, "drain { tightened: 45 N-m; held: yes }", H),
      rec(26, Q, "ends.oil.done: yes"),
      rec(26, Q, "road.pots.done: yes"),
      rec(26, Q, "road.pipes.done: yes"),
      rec(26, Q, "road.air.done: yes"),
      rec(26, Q, "road.foot.done: yes"),
    ),
  ],
  [
    "link settled, tightened again, looked at again",
    add(
      rec(20, Q, "link { rechecked: no }", H),
      rec(20, Q, "link { tightened: 200 N-m; held: yes }", H),
      rec(21, Q, "link.rechecked: yes", H),
      rec(21, Q, "ends.look.done: yes"),
    ),
  ],
  ["studs in lb-ft", set("st3", rec(11, Q, "studs { tightened: 125.4 lb-ft; pass: 3 }", H))],
  ["parts came", add(rec(0, Q, "seals.at_hand: no"), rec(3, Q, "seals.at_hand: yes"))],
  [
    "passes by torque alone",
    log((m) => {
      m.set("c1", rec(5, P, "cover.tightened: 7.2 N-m", S));
      m.set("c2", rec(5, P, "cover.tightened: 16.8 N-m", S));
      m.set("c3", rec(5, P, "cover.tightened: 24 N-m", S));
      m.set("c4", rec(5, P, "cover { tightened: 24 N-m; held: yes }", S));
    }),
  ],
  [
    "bolts group by group",
    log((m) => {
      m.set(
        "f2",
        rec(5, P, "flange { tightened: 73.5 N-m; pass: 2; bolts: [1, 5, 3, 7, 2, 6, 4, 8] }", H) +
          rec(
            5,
            P,
            "flange { tightened: 73.5 N-m; pass: 2; bolts: [9, 13, 11, 15, 10, 14, 12, 16] }",
            H,
          ),
      );
    }),
  ],
  [
    "bolts from group to group in turn",
    log((m) => {
      m.set(
        "f2",
        rec(
          5,
          P,
          "flange { tightened: 73.5 N-m; pass: 2; bolts: [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16] }",
          H,
        ),
      );
    }),
  ],
  [
    "by two: 'Vera Lindt and Tom Abara'",
    log((m) => {
      m.set("bead", rec(1, "Vera Lindt and Tom Abara", "house.bead.done: yes"));
      m.set("halves", rec(5, "Vera Lindt, Tom Abara", "ends.halves.done: yes"));
    }),
  ],
  [
    "measured thrice in times",
    log((m) => {
      m.set(
        "span.m",
        rec(3, P, "beam.face_to_face: 1396 mm", "two-meter rule", "08:00") +
          rec(3, P, "beam.face_to_face: 1404 mm", "two-meter rule", "09:30") +
          rec(3, P, "beam.face_to_face: 1400 mm", "two-meter rule", "11:00"),
      );
    }),
  ],
  [
    "second trip with own recheck and odometer",
    add(
      rec(30, Q, "road.trip.done: yes"),
      rec(30, Q, "rig.odometer: 40500 km"),
      rec(30, Q, "studs { rechecked: yes }", H),
      rec(30, Q, "road.again.done: yes"),
    ),
  ],
  [
    "seasonal wheel change",
    add(
      rec(200, Q, "studs.loosened: yes"),
      rec(200, Q, "studs { tightened: 51 N-m; pass: 1 }", H),
      rec(200, Q, "studs { tightened: 119 N-m; pass: 2 }", H),
      rec(200, Q, "studs { tightened: 170 N-m; pass: 3 }", H),
      rec(200, Q, "studs { tightened: 170 N-m; pass: 4; held: yes }", H),
      rec(200, Q, "road.rims.done: yes"),
      rec(200, Q, "road.floor.done: yes"),
      rec(200, Q, "rig.odometer: 44000 km"),
      rec(201, Q, "road.trip.done: yes"),
      rec(201, Q, "rig.odometer: 44100 km"),
      rec(201, Q, "studs.rechecked: yes", H),
      rec(201, Q, "road.again.done: yes"),
    ),
  ],
  [
    "one big record for a day",
    log((m) => {
      for (const k of ["c1", "c2", "c3", "c4", "lid"]) m.delete(k);
      m.set(
        "halves",
        rec(5, P, "ends.halves.done: yes") +
          `record "lid on" 2026-03-07 by "${P}" with "${S}" {\n  cover { tightened: 7.2 N-m; pass: 1 }\n  cover { tightened: 16.8 N-m; pass: 2 }\n  cover { tightened: 24 N-m; pass: 3 }\n  cover { tightened: 24 N-m; pass: 4; held: yes }\n  ends.lid.done: yes\n}\n`,
      );
    }),
  ],
  [
    "entries by a name with a role",
    log((m) =>
      m.set("span", rec(3, `${P}, welder`, `house.span { done: yes; signed: "${I}, inspector" }`)),
    ),
  ],
  [
    "undone by mistake and back",
    add(
      rec(14, P, "road.pipes.done: no"),
      rec(14, P, "road.pipes.done: yes"),
      rec(14, Q, "road.air.done: yes"),
      rec(14, Q, "road.foot.done: yes"),
    ),
  ],
];

describe("a correct log draws no word, no note either", () => {
  test.each(correct)("%s", (_, text) => {
    expect(objections(text, true)).toEqual([]);
  });
});
