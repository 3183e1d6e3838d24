/**
 * A pack of sheets as one HTML file that needs nothing beside it: no script, no font, no picture
 * loaded. It prints on Letter or A4, a station to a page, in black and white too.
 *
 *     sheetsHtml(pack)   →   "<!doctype html>…"
 *
 * Each sheet is a table whose head is the title block, so that the browser repeats it where a sheet
 * runs over. Drawings keep their millimeters; one that is wider than the page stands turned. Must not
 * know: analyses, how a pack is put together.
 */
import type { Drawing } from "../drafting";
import { drawn, type Markup, page, styles } from "./markup";
import {
  contentHeight,
  contentWidth,
  type JointCard,
  type Pack,
  type Sheet,
  type StepRow,
} from "./pack";
import { sheetStyle } from "./sheet-style";

const policy = "default-src 'none'; style-src 'unsafe-inline'; form-action 'none'; base-uri 'none'";

export const screening =
  "Strength, brake and weld figures are screening figures: they find mistakes early, they do not show that something is safe. Local codes, the makers' instructions and licensed practice (a certified welder, an engineer's sign-off, an inspection) come before anything said here.";

export function sheetsHtml(pack: Pack): string {
  const head = page("head", {}, [
    page("meta", { charset: "utf-8" }),
    page("meta", { "http-equiv": "Content-Security-Policy", content: policy }),
    page("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
    page("title", {}, [`${pack.title}: sheets for the bench`]),
    styles(sheetStyle(pack.paper)),
  ]);
  const body = page(
    "body",
    {},
    pack.sheets.map((sheet, index) => sheetMarkup(pack, sheet, index)),
  );
  return `<!doctype html>\n${page("html", { lang: "en" }, [head, body]).html}\n`;
}

// ───────────────────────────── helpers ─────────────────────────────

function sheetMarkup(pack: Pack, sheet: Sheet, index: number): Markup {
  const content = [
    ...sheet.cautions.map((text) => page("p", { class: "caution" }, [mark("Caution"), text])),
    ...sheet.findings.map(({ severity, text }) =>
      page("p", { class: `finding ${severity}` }, [mark(severity), text]),
    ),
    ...sheet.drawings.map(figureMarkup),
    ...figureTables(sheet),
    ...readingTables(sheet),
    ...(sheet.steps.length === 0 ? [] : [stepTable(sheet.steps)]),
    ...sheet.joints.map(jointMarkup),
    ...closingMarkup(sheet),
  ];
  return page("table", { class: "sheet", id: sheet.id }, [
    page("thead", {}, [page("tr", {}, [page("th", {}, [titleBlock(pack, sheet, index)])])]),
    page("tbody", {}, [page("tr", {}, [page("td", {}, content)])]),
  ]);
}

function titleBlock(pack: Pack, sheet: Sheet, index: number): Markup {
  const view = [
    pack.option === undefined ? undefined : `option ${pack.option}`,
    pack.asBuilt === true ? "as built" : undefined,
  ].filter((part) => part !== undefined);
  const cell = (name: string, text: string): Markup =>
    page("div", {}, [page("span", { class: "name" }, [name]), text]);
  return page("div", { class: "block" }, [
    page("div", { class: "station" }, [sheet.title]),
    cell("build", pack.title),
    cell("file", pack.file),
    cell("revision", pack.revision ?? "not under git"),
    cell("date", pack.date),
    cell("units", `${pack.units}; left is the driver's, facing forward`),
    cell("reading", ["as it comes out", ...view].join(", ")),
    cell("sheet", `${index + 1} of ${pack.sheets.length}`),
  ]);
}

function mark(word: string): Markup {
  return page("b", {}, [`${word}: `]);
}

function figureMarkup(drawing: Drawing): Markup {
  const turned = drawing.width > contentWidth && drawing.width <= contentHeight;
  return page("figure", { class: turned ? "turned" : "upright" }, [
    page("div", { class: "paper", style: sizeOf(drawing, turned) }, [drawn(drawing.shape)]),
  ]);
}

function sizeOf({ width, height }: Drawing, turned: boolean): string {
  return `--wide:${width.toFixed(2)}mm;--high:${height.toFixed(2)}mm;--turned:${turned ? 1 : 0}`;
}

function figureTables({ figures, blanks }: Sheet): Markup[] {
  if (figures.length === 0) return [];
  const names = ["figure", "reads", "±", "how"];
  const head = row("th", blanks ? [...names, "measured", "by"] : names);
  const bodies = figures.map(({ path, title, rows }) =>
    page("tbody", {}, [
      page("tr", { class: "thing" }, [
        page("th", { colspan: String(blanks ? 6 : 4) }, [`${title}  `, page("small", {}, [path])]),
      ]),
      ...rows.map((each) =>
        page("tr", {}, [
          page("td", {}, [each.name]),
          page("td", { class: "value" }, [
            each.figure,
            each.beside === "" ? undefined : page("small", {}, [` (${each.beside})`]),
          ]),
          page("td", {}, [each.tolerance]),
          page("td", { class: "how" }, [
            each.standing === "assumed" ? `assumed: ${each.how}` : each.how,
          ]),
          ...(blanks ? [page("td", { class: "blank" }), page("td", { class: "initials" })] : []),
        ]),
      ),
    ]),
  );
  return [page("table", { class: "figures" }, [page("thead", {}, [head]), ...bodies])];
}

function readingTables({ readings }: Sheet): Markup[] {
  if (readings.length === 0) return [];
  const head = row("th", [
    "still to be measured",
    "how",
    "needed to",
    "read with",
    "measured",
    "by",
  ]);
  const rows = readings.map(({ path, how, now, within, instrument = "" }) =>
    page("tr", {}, [
      page("td", {}, [path, now === undefined ? undefined : page("small", {}, [` (now ${now})`])]),
      page("td", { class: "how" }, [how]),
      page("td", {}, [within?.text ?? ""]),
      page("td", {}, [instrument]),
      page("td", { class: "blank" }),
      page("td", { class: "initials" }),
    ]),
  );
  const body = page("tbody", {}, rows);
  return [page("table", { class: "figures" }, [page("thead", {}, [head]), body])];
}

function row(tag: "th" | "td", cells: readonly string[]): Markup {
  return page(
    "tr",
    {},
    cells.map((cell) => page(tag, {}, [cell])),
  );
}

function stepTable(steps: readonly StepRow[]): Markup {
  return page("table", { class: "steps" }, [
    page("thead", {}, [row("th", ["", "", "step", "done on, by", "initials"])]),
    page(
      "tbody",
      {},
      steps.map((step) =>
        page("tr", {}, [
          page("td", {}, [
            page("span", { class: step.done ? "box done" : "box" }, [step.done ? "✓" : ""]),
          ]),
          page("td", { class: "number" }, [String(step.number)]),
          page("td", {}, [
            page("b", {}, [step.title]),
            ...step.lines.map((line) => page("div", { class: "line" }, [line])),
            step.hold === undefined
              ? undefined
              : page("div", { class: "hold" }, [`Hold point: wait ${step.hold}`]),
          ]),
          page("td", {}, [step.doneNote]),
          page("td", { class: "initials" }),
        ]),
      ),
    ),
  ]);
}

function jointMarkup({ title, path, facts, passes, drawing }: JointCard): Markup {
  return page("section", { class: "joint" }, [
    page("h3", {}, [`${title}  `, page("small", {}, [path])]),
    page("p", {}, [facts.join("; ")]),
    page("div", { class: "beside" }, [
      drawing === undefined ? undefined : figureMarkup(drawing),
      page("table", { class: "passes" }, [
        page("thead", {}, [
          row("th", ["pass", "share", "torque", "set wrench to", "", "done", "by"]),
        ]),
        page(
          "tbody",
          {},
          passes.map((pass) =>
            page("tr", {}, [
              page("td", {}, [String(pass.number)]),
              page("td", {}, [pass.share]),
              page("td", { class: "value" }, [pass.torque]),
              page("td", { class: "value" }, [pass.setting]),
              page("td", { class: "how" }, [pass.note]),
              page("td", {}, [page("span", { class: "box" })]),
              page("td", { class: "initials" }),
            ]),
          ),
        ),
      ]),
    ]),
  ]);
}

function closingMarkup({ closing }: Sheet): Markup[] {
  if (closing === undefined) return [];
  const { assumptions, order, missing, accepted } = closing;
  const list = (title: string, items: readonly string[]): Markup[] =>
    items.length === 0
      ? []
      : [
          page("h3", {}, [title]),
          page(
            "ol",
            {},
            items.map((item) => page("li", {}, [item])),
          ),
        ];
  const orders = page("table", { class: "order" }, [
    page("thead", {}, [row("th", ["", "how many", "what", "size", "note", "price of one"])]),
    page(
      "tbody",
      {},
      order.map((line) =>
        page("tr", {}, [
          page("td", {}, [page("span", { class: "box" })]),
          ...[line.quantity, line.title, line.size, line.note, line.price].map((cell) =>
            page("td", {}, [cell]),
          ),
        ]),
      ),
    ),
  ]);
  const signs = [
    "built by",
    "welded by (certified)",
    "second reading of the saw marks by",
    "inspected by",
    "handed over to",
  ];
  return [
    page("p", { class: "caution" }, [mark("Before anything else"), screening]),
    ...list("Still missing", missing),
    ...list("Accepted out of tolerance", accepted),
    ...list("Assumed, as nothing in the build says otherwise", assumptions),
    ...(order.length === 0 ? [] : [page("h3", {}, ["Bill and order list"]), orders]),
    page("h3", {}, ["Signed"]),
    page("table", { class: "signs" }, [
      page(
        "tbody",
        {},
        signs.map((who) =>
          page("tr", {}, [
            page("td", {}, [who]),
            page("td", { class: "blank" }),
            page("td", {}, ["date"]),
            page("td", { class: "blank" }),
          ]),
        ),
      ),
    ]),
  ];
}
