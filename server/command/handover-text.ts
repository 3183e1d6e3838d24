/**
 * A handover as a page to read and sign, and as one table for a spreadsheet.
 *
 *     handoverPage(report)   →   its lines in Markdown
 *
 * Must not know: how anything in it came about.
 */
import type { HandoverOutput } from "./contract";

export function handoverPage(report: HandoverOutput): string[] {
  const { asBuilt, joints, inspections, accepted, open, objections, recheck } = report;
  return [
    `# Handover: ${report.vehicles.join(", ") || report.file}`,
    "",
    ...(report.vehicles.length === 0 ? [] : [`From ${report.file}.`, ""]),
    "What the records say was built, tightened and inspected. Strength, brake and weld figures are",
    "screening figures: local codes, the makers' instructions and licensed practice come first.",
    "",
    recordsInWords(report),
    "",
    ...standing(report),
    ...section(
      "As built",
      ["figure", "what it is", "spec", "built", "within", "on", "by", "with"],
      asBuilt.map((each) => [
        each.path,
        each.what,
        each.spec,
        each.built,
        inWords(each.acceptance),
        each.on,
        each.by,
        each.with,
      ]),
    ),
    ...section(
      "Torque",
      [
        "joint",
        "bolts",
        "wanted",
        "recorded",
        "tight since",
        "by",
        "with",
        "checked again",
        "lacks",
        "to mind",
      ],
      joints.map((each) => [
        each.title,
        String(each.count),
        each.wanted,
        recordedOf(each),
        each.tightenedOn,
        each.by,
        each.with,
        each.recheckedOn,
        each.lacks ?? (each.tightenedOn === undefined ? "not on record" : undefined),
        each.notes.filter((note) => !note.startsWith("check again")).join("; "),
      ]),
      "No joint is written down in this build.",
    ),
    ...section(
      "Inspections",
      ["step", "signed", "on"],
      inspections.map((each) => [each.title, each.signed, each.on]),
    ),
    ...section(
      "Accepted out of tolerance",
      [
        "what",
        "spec",
        "found",
        "by",
        "on",
        "until",
        "because",
        "to be done",
        "does not hold",
        "stands",
      ],
      accepted.map((each) => [
        each.what,
        each.spec,
        each.found,
        each.by,
        each.on,
        each.until ?? "for good",
        each.because,
        each.follows,
        each.breaks.join("; "),
        each.standing,
      ]),
    ),
    ...section(
      "Objections that stand",
      ["where", "what"],
      objections.map((each) => [each.place, each.message]),
    ),
    ...section(
      "Still to be done",
      ["what"],
      open.map((each) => [each]),
      report.steps === 0 ? "No order of work is written down in this build." : "Nothing.",
    ),
    ...section(
      "Re-check card",
      ["joint", "when", "odometer", "at", "done"],
      recheck.map((each) => [each.title, each.when, each.due, each.torque, each.doneOn ?? "[ ]"]),
    ),
    "",
    "Handed over by: ____________________  on: ______________",
    "",
    "Received by: ____________________  on: ______________",
  ];
}

function recordsInWords({ from, to }: HandoverOutput): string {
  if (from === undefined) return "Nothing is on record.";
  return from === to ? `Records of ${from}.` : `Records from ${from} to ${to}.`;
}

/** What a reader has to know first: whether the work is done, and what not to do where it is not. */
function standing({ steps, done, objections, recheck, joints }: HandoverOutput): string[] {
  const left: string[] = [];
  if (done < steps) left.push(`${steps - done} of ${steps} steps ${isAre(steps - done)} not done`);
  const loose = joints.filter(({ tightenedOn }) => tightenedOn === undefined).length;
  if (loose > 0) left.push(`${loose} of ${joints.length} joints ${isAre(loose)} not tight`);
  if (objections.length > 0)
    left.push(
      `${objections.length} ${objections.length === 1 ? "objection stands" : "objections stand"}`,
    );
  if (left.length > 0)
    return [
      `**Not finished: ${left.join(", ")}.**`,
      "Keep it off the road until all of it is settled and whoever your local code asks for has looked at it.",
    ];
  const due = recheck.filter(({ doneOn }) => doneOn === undefined).length;
  const again =
    due === 0
      ? ""
      : `; ${due} ${due === 1 ? "joint" : "joints"} ${isAre(due)} still to be checked again, below`;
  return steps === 0
    ? [
        "No order of work is written down in this build: what was done beside the records is not told.",
      ]
    : steps === 1
      ? [`The one step is on record as done, and nothing stands against it${again}.`]
      : [`All ${steps} steps are on record as done, and nothing stands against them${again}.`];
}

function isAre(count: number): string {
  return count === 1 ? "is" : "are";
}

function section(
  title: string,
  head: readonly string[],
  rows: readonly (readonly (string | undefined)[])[],
  none = "None.",
): string[] {
  if (rows.length === 0) return ["", `## ${title}`, "", none];
  const line = (cells: readonly (string | undefined)[]): string =>
    `| ${cells.map((cell) => (cell ?? "").replaceAll("|", "\\|")).join(" | ")} |`;
  return ["", `## ${title}`, "", line(head), line(head.map(() => "---")), ...rows.map(line)];
}

/** One table of all: what a spreadsheet sorts and filters. */
export function handoverTable({
  asBuilt,
  joints,
  inspections,
  accepted,
  open,
  objections,
  recheck,
}: HandoverOutput): string[] {
  const rows: (string | undefined)[][] = [
    ["section", "what", "wanted", "found", "verdict", "on", "by", "with"],
    ...asBuilt.map((each) => [
      "as built",
      each.path,
      each.spec,
      each.built,
      inWords(each.acceptance),
      each.on,
      each.by,
      each.with,
    ]),
    ...joints.map((each) => [
      "torque",
      each.path,
      each.wanted,
      recordedOf(each),
      each.lacks ?? (each.tightenedOn === undefined ? "open" : "tight"),
      each.tightenedOn,
      each.by,
      each.with,
    ]),
    ...inspections.map((each) => [
      "inspection",
      each.step,
      undefined,
      undefined,
      "signed",
      each.on,
      each.signed,
      undefined,
    ]),
    ...accepted.map((each) => [
      "accepted",
      each.what,
      each.spec,
      each.found,
      `${each.standing}${each.until === undefined ? "" : ` until ${each.until}`}`,
      each.on,
      each.by,
      undefined,
    ]),
    ...objections.map((each) => [
      "objection",
      each.place,
      undefined,
      each.message,
      each.severity,
      undefined,
      undefined,
      undefined,
    ]),
    ...open.map((each) => [
      "open",
      each,
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]),
    ...recheck.map((each) => [
      "re-check",
      each.path,
      each.torque,
      each.due === undefined ? each.when : `${each.when}, at ${each.due}`,
      each.doneOn === undefined ? "due" : "done",
      each.doneOn,
      undefined,
      undefined,
    ]),
  ];
  return rows.map((cells) => cells.map(cell).join(","));
}

/** RFC 4180; what a spreadsheet would take for a formula is written as text. */
function cell(text: string | undefined): string {
  const plain = (text ?? "").replaceAll(/[\r\n]+/g, " ");
  const safe = /^\s*[=+\-@]/.test(plain) ? `'${plain}` : plain;
  return /[",]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** No verdict is surer than its reading. */
function inWords(acceptance: HandoverOutput["asBuilt"][number]["acceptance"]): string | undefined {
  if (acceptance === undefined) return undefined;
  return { inside: "within", outside: "outside", unclear: "too close to call" }[acceptance];
}

/** `140 lb-ft, running 18 lb-ft` */
function recordedOf({ recorded, running }: HandoverOutput["joints"][number]): string | undefined {
  return running === undefined ? recorded : `${recorded ?? ""}, running ${running}`;
}
