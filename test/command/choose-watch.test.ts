/** A long search tells how far it is and can be ended; invented parts. */
import { expect, test } from "vitest";
import { run } from "../../server/command/program";
import type { World } from "../../server/command/world";
import { workshop } from "./workshop";

const parts = (kind: string, count: number): string =>
  Array.from({ length: count }, (_, at) => `${kind} ${kind}_${at} { size: ${at + 1} mm }\n`).join(
    "",
  );

test("Ctrl+C ends a search with what it has", async () => {
  const shop = workshop({
    "build.trammel": `kind peg { size: length }
kind hole { size: length }
kind slot { size: length }
kind fit { peg: peg  hole: hole  slot: slot  gap: length
  relation "gap": gap = hole.size + slot.size - peg.size
  check "loose": gap >= 100 m
}
${parts("peg", 60)}${parts("hole", 60)}${parts("slot", 60)}fit one { peg: peg_0  hole: hole_0  slot: slot_0 }
`,
  });
  let out = "";
  let released = false;
  const world: World = {
    folder: shop.folder,
    environment: {},
    isTerminal: false,
    readInput: async () => new Uint8Array(),
    out: (text) => {
      out += text;
    },
    log: () => undefined,
    onInterrupt(stop) {
      stop();
      return () => {
        released = true;
      };
    },
  };
  const args = ["choose", "build.trammel", "--for", "one.peg,one.hole,one.slot", "--by", "size"];
  const code = await run(args, world);
  expect(code).toBe(1);
  expect(released).toBe(true);
  expect(out).toContain("216000 combinations");
  expect(out).toContain("stopped before all were looked at");
});
