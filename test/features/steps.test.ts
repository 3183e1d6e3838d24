/** Steps and joints under the pointer: what comes before and after, what is tightened and how. */
import { expect, test } from "vitest";
import type { MarkupContent } from "vscode-languageserver";
import { hover } from "../../server/features/hover";
import { cursor } from "./world";

const job = (at: "shims" | "nuts" | "tight"): string => {
  const text = `
    wrench w "long wrench" { least: 20 lb-ft  most: 150 lb-ft }
    joint nuts "Wheel nuts" { thread: 1/2-20  count: 5  torque: 85 lb-ft  wrench: w  single_use: yes }
    procedure job "Brakes" {
      step rotor "Seat the rotor" {
        hold: until_cool
      }
      step shims "Fit the shims" {
        after: rotor
        hands: 2
        caution: "the jack is no stand"
        needs: h.face_to_face
      }
      step tight "Tighten the nuts" {
        after: shims
        tighten: nuts
        tighten_to: 70 %
      }
      step again "Round again" {
        after: tight
        tighten: nuts
      }
    }
    housing h { standoff: 2 in  face_to_face: 58 in }
    record "first day" 2026-03-14 by "R. Calder" {
      job.rotor.done: yes
    }
  `;
  const declared = at === "nuts" ? "joint nuts" : `step ${at}`;
  return text.replace(declared, `${declared.slice(0, -1)}$0${declared.slice(-1)}`);
};

function hoverOf(snippet: string): string {
  const { analysis, uri, offset } = cursor(snippet);
  const found = hover(analysis, uri, offset);
  return (found?.contents as MarkupContent | undefined)?.value ?? "";
}

test("a step tells its state, what it takes, what it waits for and what comes after", () => {
  const text = hoverOf(job("shims"));
  expect(text).toMatch(/^\*\*Fit the shims\*\*, step `job\.shims`\n\n\*ready\*/);
  expect(text).toContain("**caution:** the jack is no stand");
  expect(text).toContain("takes 2 people");
  expect(text).toContain("needs `h.face_to_face`");
  expect(text).toMatch(/waits for\n- done: Seat the rotor, `job\.rotor`\n/);
  expect(text).toMatch(/after it\n- Tighten the nuts, `job\.tight`$/);
});

test("a step that tightens part of the way tells the passes up to there", () => {
  const text = hoverOf(job("tight"));
  expect(text).toContain("*waits for Fit the shims*");
  // 70 % of 85 lb-ft by hand.
  expect(text).toContain("tightens Wheel nuts, `nuts` to 59.5 lb-ft");
  expect(text).toContain("- pass 2: 70 %, 59.5 lb-ft");
  expect(text).not.toContain("100 %");
  expect(text).toMatch(/after it\n- Round again, `job\.again`$/);
});

test("a joint tells its order, its passes and the steps it belongs to", () => {
  const text = hoverOf(job("nuts"));
  expect(text).toContain("*not tightened yet*");
  // The star over five nuts: every second one, common practice, no source.
  expect(text).toContain("order **1 3 5 2 4**");
  expect(text).toContain("4 passes with long wrench");
  expect(text).toContain("- pass 3: 100 %, 85 lb-ft, order 1 3 5 2 4");
  expect(text).toContain("- pass 4: 100 %, 85 lb-ft, once round");
  expect(text).toContain("new fasteners each time");
  expect(text).toMatch(
    /tightened in\n- Tighten the nuts, `job\.tight`, to 59\.5 lb-ft\n- Round again/,
  );
  expect(text).toContain("- thread: 1/2-20, given");
});
