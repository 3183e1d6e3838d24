/** Findings as the JSON contract has them. */
import type { PlacedFinding } from "../report/placed-finding";
import type { FindingOutput } from "./contract";

export function findingOutput(finding: PlacedFinding): FindingOutput {
  return {
    code: finding.code,
    severity: finding.severity,
    message: finding.message,
    ...(finding.hint === undefined ? {} : { hint: finding.hint }),
    ...(finding.caution === undefined ? {} : { caution: finding.caution }),
    file: finding.file,
    range: finding.place,
    ...(finding.related.length === 0
      ? {}
      : {
          related: finding.related.map(({ message, file, place }) => ({
            message,
            file,
            range: place,
          })),
        }),
  };
}
