/** What is offered for change, by what each figure is, and where it is written. */
import { expect, test } from "vitest";
import { workshop } from "./workshop";

const kinds = `kind plate "Plate" {
  width: length made to 1/16 in ± 1/64 in
  lip: length bought
  edge: length shown
  relation "edge": edge = width / 2 - lip
  check "edge": edge >= 1 in
}
`;

test("what is made before what is bought, and a part of another file is looked for, not edited", async () => {
  const shop = workshop({
    "build.trammel": `use "parts/plates.trammel"\ndisplay { length: in 1/16 }\np.width: 2 1/4 in\n`,
    "parts/plates.trammel": `${kinds}plate p { lip: 1/4 in }\n`,
  });
  const { out } = await shop.trammel("explain", "build.trammel", "--fit");
  // (1 + 1/4) * 2 is 2 1/2 in, a step more where what it may miss by counts; 2 1/4 / 2 - 1 is 1/8 in.
  const made = out.search(/p\.width: 2 (?:1\/2|9\/16) in/);
  const bought = out.search(/p\.lip: (?:1\/8|1\/16) in/);
  expect(made).toBeGreaterThan(0);
  expect(bought).toBeGreaterThan(made);
  expect(out).toMatch(
    /takes another part: look for one with lip 1\/\d+ in \(it is written in parts\/plates\.trammel, which others may use\)/,
  );
});

test("givens that cannot agree: another part is named as one, and what others use is left alone", async () => {
  const shop = workshop({
    "build.trammel": `use "parts/plates.trammel"\np.width: 2 1/2 in\np.edge: 1 3/8 in\n`,
    "parts/plates.trammel": `${kinds}plate p { lip: 1/4 in }\n`,
  });
  const { out } = await shop.trammel("check", "build.trammel");
  // 2 1/2 / 2 - 1/4 is 1 in.
  expect(out).toContain("p.width would have to be 3 1/4 in");
  expect(out).toMatch(/p\.lip would have to be -1\/8 in \(another part\)/);
  expect(out.indexOf("p.width would")).toBeLessThan(out.indexOf("p.lip would"));
});
