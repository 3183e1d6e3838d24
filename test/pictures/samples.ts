/** The samples as the command line reads them. */
import { join } from "node:path";
import type { Analysis } from "../../server/analysis/analysis";
import { Session } from "../../server/command/session";
import { processWorld } from "../../server/command/world";

export const samples = [
  "samples/harbor-van/running-gear.trammel",
  "samples/harbor-van/work.trammel",
  "samples/alder-truck/tight.trammel",
  "samples/alder-truck/running-gear.trammel",
];

const root = join(import.meta.dirname, "..", "..");

export function sampleAnalysis(file: string): Analysis {
  return new Session({ ...processWorld(), folder: root }).open(file, {}).analysis;
}
