/** The light bulb where no thing stands in a field yet: the first of the lists with which every check holds. */

import { expect, test } from "vitest";
import type { CodeAction, TextEdit } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import type { Analysis } from "../../server/analysis/analysis";
import { chooseOffers, chosenEdit, readChooseData } from "../../server/features/choose-offers";
import { analyzed, folder } from "../model/build";

const uri = `${folder}build.trammel`;
const kinds = `kind stud "Stud" {
  length: length bought
}
kind flange "Flange" {
  front: stud
  depth: length
  relation "depth": depth = front.length - 2 mm
  check "front is long enough": front.length >= 40 mm
}
stud short { length: 30 mm }
stud middle { length: 42 mm }
stud long { length: 60 mm }
`;

function at(text: string, mark: string) {
  const document = TextDocument.create(uri, "trammel", 1, text);
  const start = document.positionAt(text.indexOf(mark));
  return { start, end: start };
}

async function taken(analysis: Analysis, text: string, [offer]: readonly CodeAction[]) {
  const data = readChooseData(offer?.data);
  if (data === undefined) throw new Error("nothing is offered");
  const edit = await chosenEdit(analysis, data);
  if (edit === undefined || typeof edit === "string") return edit;
  const document = TextDocument.create(uri, "trammel", 1, text);
  return TextDocument.applyEdits(document, (edit.changes?.[uri] ?? []) as TextEdit[]);
}

test("a figure that is missing for want of a thing: it is chosen and written below", async () => {
  const text = `${kinds}flange f {\n  depth: ?\n}\n`;
  const analysis = analyzed(text);
  const offers = chooseOffers(analysis, uri, at(text, "?"));
  expect(offers.map(({ title }) => title)).toEqual([
    "choose f.front: the first of 3 that fits (stud)",
  ]);
  const changed = await taken(analysis, text, offers);
  expect(changed).toBe(`${kinds}flange f {\n  depth: ?\n}\n\nf.front: middle\n`);
  expect(analyzed(changed ?? "").valueAt("f.depth")?.si).toBeCloseTo(0.04, 12);
});

test("a field that is asked for itself gets the name in place of the question mark", async () => {
  const text = `${kinds}flange f {\n  front: ?\n}\n`;
  const analysis = analyzed(text);
  const changed = await taken(analysis, text, chooseOffers(analysis, uri, at(text, "?")));
  expect(changed).toBe(`${kinds}flange f {\n  front: middle\n}\n`);
});

test("none that fits is told with the check that is in the way; nothing is offered elsewhere", async () => {
  const text = `${kinds}flange f {\n  front: ?\n}\ncheck "very long": f.front.length >= 70 mm\n`;
  const analysis = analyzed(text);
  expect(await taken(analysis, text, chooseOffers(analysis, uri, at(text, "?")))).toBe(
    "none of 3 fits f.front; most fall to the check: very long",
  );
  expect(chooseOffers(analysis, uri, at(text, "stud short"))).toEqual([]);
  const none = `kind stud { length: length }\nkind flange { front: stud }\nflange f { front: ? }\n`;
  expect(chooseOffers(analyzed(none), uri, at(none, "?"))).toEqual([]);
});

test("several fields of one thing are chosen together, where one by one nothing is left for the last", async () => {
  const kinds = `kind stud "Stud" {
  length: length bought
}
kind flange "Flange" {
  front: stud
  back: stud
  depth: length
  relation "depth": depth = front.length + back.length - 4 mm
  check "as long as that": front.length + back.length == 90 mm
}
stud short { length: 30 mm }
stud middle { length: 42 mm }
stud long { length: 60 mm }
`;
  const both = "choose f.front and f.back: the first 2 of 9 that fit together";
  const asked = `${kinds}flange f {\n  front: ?\n  back: ?\n}\n`;
  const offers = chooseOffers(analyzed(asked), uri, at(asked, "?"));
  expect(offers.map(({ title }) => title)).toEqual([
    both,
    "choose f.front: the first of 3 that fits (stud)",
  ]);
  // By trying all: only a short one and a long one come to 90 mm.
  const changed = await taken(analyzed(asked), asked, offers);
  expect(changed).toMatch(/front: (?:short\n {2}back: long|long\n {2}back: short)\n/);
  expect(analyzed(changed ?? "").findings).toEqual([]);
  const missing = `${kinds}flange f {\n  depth: ?\n}\n`;
  const further = chooseOffers(analyzed(missing), uri, at(missing, "?"));
  expect(further[0]?.title).toBe(both);
  const written = await taken(analyzed(missing), missing, further);
  expect(written).toMatch(/\n}\n\nf\.front: (?:short\nf\.back: long|long\nf\.back: short)\n$/);
  expect(analyzed(written ?? "").valueAt("f.depth")?.si).toBeCloseTo(0.086, 12);
});
