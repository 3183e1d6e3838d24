/**
 * Findings as SARIF 2.1.0 (OASIS), the form code hosts take reviews in.
 *
 * Must not know: where findings come from.
 */
import { createHash } from "node:crypto";
import type { LinePlace } from "../../grammar/anchor";
import { type Code, rowOf } from "../findings/codes";
import type { Vocabulary } from "../model/definition";
import { pageOfCode } from "../report/findings-page";
import type { PlacedFinding } from "../report/placed-finding";
import { forSarif } from "../text/untrusted-text";

/** Code hosts refuse more results in one run. */
const mostResults = 25_000;

export function sarif(
  findings: readonly PlacedFinding[],
  version: string,
  vocabulary: Vocabulary,
): object {
  const kept = findings.slice(0, mostResults);
  const codes = [...new Set(kept.map(({ code }) => code))].sort();
  const rules = codes.map((code) => ruleOf(code, kept, vocabulary));
  const seen = new Map<string, number>();
  return {
    $schema: "https://json.schemastore.org/sarif-2.1.0.json",
    version: "2.1.0",
    runs: [
      {
        tool: { driver: { name: "trammel", semanticVersion: version, rules } },
        columnKind: "utf16CodeUnits",
        // Where the folder lies is left to the reader of the log.
        originalUriBaseIds: { ROOT: { description: { text: "the folder the command ran in" } } },
        results: kept.map((finding) => resultOf(finding, codes, seen)),
      },
    ],
  };
}

// ───────────────────────────── helpers ─────────────────────────────

function ruleOf(code: Code, findings: readonly PlacedFinding[], vocabulary: Vocabulary) {
  const [room = "", what = ""] = code.split("/");
  const row = rowOf(code);
  const hint = findings.find(
    (finding) => finding.code === code && finding.hint !== undefined,
  )?.hint;
  return {
    id: code,
    name: code.replaceAll(/[^A-Za-z0-9]+(\w)/g, (_, letter: string) => letter.toUpperCase()),
    shortDescription: { text: `${room}: ${what.replaceAll("-", " ")}` },
    ...(row === undefined ? {} : { fullDescription: { text: row.what } }),
    helpUri: pageOfCode(code, vocabulary),
    ...(row !== undefined
      ? { help: { text: row.todo } }
      : hint === undefined
        ? {}
        : { help: { text: forSarif(hint) } }),
  };
}

function resultOf(finding: PlacedFinding, codes: readonly string[], seen: Map<string, number>) {
  const remarks = [
    finding.hint === undefined ? "" : `To do: ${finding.hint}.`,
    finding.caution === undefined ? "" : `Caution: ${finding.caution}.`,
  ].filter((each) => each !== "");
  return {
    ruleId: finding.code,
    ruleIndex: codes.indexOf(finding.code),
    level: finding.severity,
    message: { text: forSarif([finding.message, ...remarks].join("\n")) },
    locations: [location(finding.file, finding.place)],
    ...(finding.related.length === 0
      ? {}
      : {
          relatedLocations: finding.related.map((related, id) => ({
            id,
            ...location(related.file, related.place),
            message: { text: related.message },
          })),
        }),
    partialFingerprints: { "trammel/v1": fingerprint(finding, seen) },
    ...(finding.fixes.length === 0 ? {} : { fixes: finding.fixes.map(fixOf) }),
  };
}

function fixOf(fix: PlacedFinding["fixes"][number]) {
  const files = [...new Set(fix.edits.map(({ file }) => file))];
  return {
    description: { text: fix.title },
    artifactChanges: files.map((file) => ({
      artifactLocation: artifact(file),
      replacements: fix.edits
        .filter((edit) => edit.file === file)
        .map((edit) => ({
          deletedRegion: regionOf(edit.place),
          insertedContent: { text: edit.text },
        })),
    })),
  };
}

function location(file: string, place: LinePlace) {
  return { physicalLocation: { artifactLocation: artifact(file), region: regionOf(place) } };
}

function artifact(file: string) {
  // Files of the library have a URI of their own already.
  if (/^[a-z]+:\//.test(file)) return { uri: file };
  return { uri: file.split("/").map(encodeURIComponent).join("/"), uriBaseId: "ROOT" };
}

function regionOf({ start, end }: LinePlace) {
  return {
    startLine: start.line + 1,
    startColumn: start.character + 1,
    endLine: end.line + 1,
    endColumn: end.character + 1,
  };
}

/** Stays the same while lines around it move: by the text of its line, not by its number. */
function fingerprint(finding: PlacedFinding, seen: Map<string, number>): string {
  const key = `${finding.code}\0${finding.file}\0${finding.line}`;
  const nth = seen.get(key) ?? 0;
  seen.set(key, nth + 1);
  return createHash("sha256").update(`${key}\0${nth}`).digest("hex").slice(0, 32);
}
