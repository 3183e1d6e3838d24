/**
 * Runs inside the editor: finds the bundled `*.test.js` beside it and runs them with mocha. What it
 * reports goes to files, since the editor's own messages fill the console.
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
  for (const name of readdirSync(__dirname).sort()) {
    if (name.endsWith(".test.js")) mocha.addFile(join(__dirname, name));
  }
  const { passes, failures, tests } = await new Promise<Mocha.Stats>((resolve) => {
    const runner = mocha.run(() => resolve(runner.stats as Mocha.Stats));
  });
  writeFileSync(results, JSON.stringify({ passed: passes, failed: failures }));
  if (tests === 0) throw new Error("no test was found");
  if (failures > 0) throw new Error(`${failures} of ${tests} tests failed`);
}

function fileNamedBy(variable: string): string {
  const file = process.env[variable];
  if (!file) throw new Error(`${variable} names no file`);
  return file;
}
