/** What each room may import, and what each file may use of the machine it runs on. */
import type { Room } from "./walls";

/** What each room may import: rooms below it, and packages. Nothing else. */
export const rooms: Readonly<Record<string, Room>> = {
  "server/units": { rooms: [], packages: ["fastest-levenshtein"] },
  "server/disk": { rooms: [], packages: ["ignore"] },
  "server/text": { rooms: [], packages: [] },
  grammar: { rooms: ["server/units"], packages: ["chevrotain", "fastest-levenshtein"] },
  "server/keep": { rooms: [], packages: [] },
  "server/solve": { rooms: ["server/keep"], packages: [] },
  // Where a finding stands is told by an anchor; what it says of, by plain facts.
  "server/findings": { rooms: ["grammar", "server/units", "server/model/anchor.ts"], packages: [] },
  "server/model": {
    rooms: ["server/findings", "grammar", "server/solve", "server/units", "server/keep"],
    packages: ["fastest-levenshtein"],
  },
  "server/analysis": {
    rooms: [
      "server/findings",
      "grammar",
      "server/keep",
      "server/model",
      "server/solve",
      "server/units",
    ],
    packages: [],
  },
  "server/sequence": {
    rooms: [
      "server/keep",
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
    ],
    packages: [],
  },
  "server/report": {
    rooms: [
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/text",
    ],
    packages: [],
  },
  "server/drafting": {
    rooms: ["server/text"],
    packages: ["d3-array", "d3-scale", "flatbush", "@tarikjabiri/dxf"],
  },
  "server/pictures": {
    rooms: [
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/drafting",
    ],
    packages: ["d3-array"],
  },
  "server/sheets": {
    rooms: [
      "grammar",
      "server/findings",
      "server/units",
      "server/text",
      "server/model",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/drafting",
      "server/pictures",
    ],
    packages: [],
  },
  "server/features": {
    rooms: [
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/drafting",
      "server/pictures",
      "server/sheets",
      "server/messages.ts",
      "server/text",
    ],
    packages: ["vscode-languageserver", "zod"],
  },
  "server/command": {
    rooms: [
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/disk",
      "server/drafting",
      "server/pictures",
      "server/text",
      "server/sheets",
      "server/trade.ts",
      "package.json",
    ],
    packages: ["commander", "picocolors", "picomatch", "zod", "fastest-levenshtein"],
  },
  server: {
    rooms: [
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/features",
      "server/disk",
      "server/drafting",
      "server/pictures",
      "server/sheets",
    ],
    packages: ["vscode-languageserver", "vscode-languageserver-textdocument", "zod"],
  },
  client: {
    // Of the drawings the panel takes the rules their lines look by, and nothing of what they show.
    rooms: ["server/messages.ts", "server/drafting/style.ts"],
    packages: ["vscode", "vscode-languageclient", "zod"],
  },
};

const process = "process";
const wait = "setTimeout";

/**
 * Modules and globals of the machine: processes, files, clocks, windows. A file that is not here is
 * made of the language itself, of packages and of other files.
 */
export const machine: Readonly<Record<string, readonly string[]>> = {
  // Names of places and pauses in long work touch nothing.
  "server/analysis/files.ts": ["URL"],
  "server/features/findings.ts": ["URL"],
  "server/sequence/photo-findings.ts": ["URL"],
  "server/solve/choose.ts": [wait],

  "server/answering.ts": ["setImmediate"],
  "server/library-files.ts": ["node:fs", "node:path"],
  "server/main.ts": ["__dirname", "console", "node:path", process],
  "server/news.ts": ["clearTimeout", wait],
  "server/open-files.ts": ["node:fs"],
  "server/service.ts": ["setImmediate"],
  "server/supervisor.ts": ["node:inspector", "node:worker_threads", process, "setInterval", wait],
  "server/thread.ts": ["node:worker_threads"],
  "server/workspace.ts": ["node:path", wait],

  "server/disk/build-root.ts": ["node:fs", "node:path"],
  "server/disk/file-uri.ts": ["node:url"],
  "server/disk/files-below.ts": ["node:fs", "node:path"],
  "server/disk/git-person.ts": ["node:child_process"],
  "server/disk/git-revision.ts": [
    "node:child_process",
    "node:crypto",
    "node:fs",
    "node:path",
    process,
  ],
  "server/disk/names-in.ts": ["node:fs"],
  "server/disk/print-pdf.ts": [
    "node:child_process",
    "node:fs",
    "node:os",
    "node:path",
    "node:url",
    process,
  ],
  "server/disk/read-file.ts": ["Buffer", "node:fs", "node:path"],
  "server/disk/text-encoding.ts": ["Buffer", "TextDecoder"],
  "server/disk/write-file.ts": ["Buffer", "node:crypto", "node:fs", "node:path"],

  "server/command/inputs.ts": ["node:fs", "node:path"],
  "server/command/log.ts": ["node:path"],
  "server/command/main.ts": ["__filename", "node:module", "node:worker_threads", process],
  "server/command/measure.ts": ["node:path"],
  "server/command/print.ts": ["node:crypto"],
  "server/command/sarif.ts": ["node:crypto"],
  "server/command/session.ts": ["node:path"],
  "server/command/shares.ts": ["node:os", "node:worker_threads"],
  "server/command/world.ts": ["Buffer", "TextEncoder", "node:fs", process, "setImmediate"],

  "client/panel/page/page.ts": [
    "CSSStyleSheet",
    "Element",
    "EventTarget",
    "HTMLElement",
    "HTMLOptionElement",
    "HTMLSelectElement",
    "MessageEvent",
    "Node",
    "SVGElement",
    "SVGSVGElement",
    "document",
    "window",
  ],
  "client/panel/page/stage.ts": [
    "HTMLElement",
    "PointerEvent",
    "ResizeObserver",
    "SVGSVGElement",
    "WheelEvent",
    "document",
    "window",
  ],
  "client/panel/panel.ts": ["TextDecoder", "clearTimeout", "node:crypto", wait],
  "client/sheets.ts": ["TextEncoder"],
  "client/tasks.ts": [process],
};
