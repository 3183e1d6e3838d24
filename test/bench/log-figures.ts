/**
 * What a log of thousands of entries costs: checked from the command line, and a step put on record in
 * it while the build is open.
 */
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { orderFindings, sequenceOf } from "../../server/sequence";
import { plan } from "../sequence/axle-entries";
import { longLog } from "../sequence/long-log";
import { alternative, type Figure, inMilliseconds } from "./figures";
import { repeat, timesOf } from "./measure";
import { inRepository, run } from "./processes";
import { Shop } from "./shop";

const length = 4_700;

export async function logFigures(): Promise<Figure[]> {
  return [checked(), await recorded()];
}

function checked(): Figure {
  const shop = new Shop();
  try {
    shop.put({ path: "build.trammel", text: plan });
    shop.put({ path: "log.trammel", text: longLog(length) });
    const of = (args: readonly string[]) =>
      timesOf(Array.from({ length: 7 }, () => run(args, shop.folder)));
    return {
      name: `trammel check of a log of ${length} lines`,
      ...inMilliseconds(500, of([inRepository("dist/trammel.js"), "check", "build.trammel"])),
      alternative: alternative("node, doing nothing", of(["--eval", "0"])),
    };
  } finally {
    shop.remove();
  }
}

/** An entry at the end of it: the build read again, and all that is said of it. */
async function recorded(): Promise<Figure> {
  const [build, log] = ["file:///shop/build.trammel", "file:///shop/log.trammel"];
  const texts = new Map([
    [build, plan],
    [log, longLog(length)],
  ]);
  const analyzer = new Analyzer(memoryHost(texts), loadLibrary(libraryFiles()), [orderFindings]);
  const read = (): void => {
    const analysis = analyzer.analyze(build, { today: "2026-11-27" });
    if (analysis === undefined || analysis.findings.length === 0)
      throw new Error("the build is there, and something is found in it");
    sequenceOf(analysis);
  };
  read();
  const entry = `record 2026-11-27 by "Nell Ochoa" with "big click" { nuts { tightened: 92 lb-ft; held: yes } }\n`;
  const times = await repeat(40, (turn) => {
    texts.set(
      log,
      `${texts.get(log) ?? ""}${entry.replace("held", `pass: ${1 + (turn % 4)}; held`)}`,
    );
    read();
  });
  return { name: `a step recorded in a log of ${length} lines`, ...inMilliseconds(50, times) };
}
