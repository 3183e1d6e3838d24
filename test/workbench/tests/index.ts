/**
 * Runs inside the editor: finds the bundled `*.test.js` beside it and runs them with mocha; those
 * whose names begin with `untrusted` only where the folder that is open is not trusted, and no others
 * there. What it reports goes to files, since the editor's own messages fill the console.
 */
import { appendFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { format } from "node:util";
import Mocha from "mocha";

/** Rejects where a test fails, or where there is none, which would otherwise pass for a success. */
export async function run(): Promise<void> {
  const report = fileNamedBy("TRAMMEL_REPORT");
  const results = fileNamedBy("TRAMMEL_RESULTS");
  Mocha.reporters.Base.consoleLog = (...args: unknown[]) =>
    appendFileSync(report, `${format(...args)}\n`);
  const mocha = new Mocha({ ui: "tdd", timeout: 60_000, color: false });
  const untrusted = process.env.TRAMMEL_ASK_FOR_TRUST === "yes";
  for (const name of readdirSync(__dirname).sort()) {
    const meant = name.endsWith(".test.js") && name.startsWith("untrusted") === untrusted;
    if (meant) mocha.addFile(join(__dirname, name));
  }
  const { passes, failures, tests } = await runAll(mocha).catch((error: unknown) => {
    appendFileSync(report, `${format(error)}\n`);
    throw error;
  });
  writeFileSync(results, JSON.stringify({ passed: passes, failed: failures }));
  if (tests === 0) throw new Error("no test was found");
  if (failures > 0) throw new Error(`${failures} of ${tests} tests failed`);
}

/** Rejects where a file of tests cannot be loaded. */
function runAll(mocha: Mocha): Promise<Mocha.Stats> {
  return new Promise((resolve) => {
    const runner = mocha.run(() => resolve(runner.stats as Mocha.Stats));
  });
}

function fileNamedBy(variable: string): string {
  const file = process.env[variable];
  if (!file) throw new Error(`${variable} names no file`);
  return file;
}
