/**
 * Loaded before a program whose use of the machine is measured: writes what the process used, when
 * it ends, to the file that TRAMMEL_BENCH_USAGE names.
 *
 *     TRAMMEL_BENCH_USAGE=/tmp/usage.json node --require ./usage.cjs program.js
 */
const { writeFileSync } = require("node:fs");
const { isMainThread } = require("node:worker_threads");

const file = process.env.TRAMMEL_BENCH_USAGE;
if (file !== undefined && isMainThread) {
  process.once("exit", () => {
    const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
    // Microseconds and kilobytes as Node gives them; milliseconds and megabytes as they are told.
    const usage = { cpu: (userCPUTime + systemCPUTime) / 1000, memory: maxRSS / 1024 };
    writeFileSync(file, JSON.stringify(usage));
  });
}
