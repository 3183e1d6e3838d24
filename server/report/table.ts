/**
 * Columns of text that line up: plain text for a terminal, Markdown for a page.
 *
 *     textTable([["face_to_face", "54 11/16 in"], ["standoff", "2 1/2 in"]])
 *
 * Must not know: what the cells mean.
 */

export interface TextCell {
  readonly text: string;
  /** Puts color round the text; the width of the column is counted without it. */
  readonly paint?: (text: string) => string;
  readonly right?: boolean;
}

export type TableRow = readonly (TextCell | string)[];

/** One line a row; columns without any text are left out. `indent` goes before every line. */
export function textTable(rows: readonly TableRow[], indent = ""): string[] {
  const cells = rows.map((row) =>
    row.map((cell) => (typeof cell === "string" ? { text: cell } : cell)),
  );
  const columns = Math.max(0, ...cells.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, column) =>
    cells.reduce((most, row) => Math.max(most, widthOf(row[column]?.text ?? "")), 0),
  );
  const used = widths.flatMap((width, column) => (width > 0 ? [column] : []));
  return cells.map((row) => {
    const parts = used.map((column) => padded(row[column] ?? { text: "" }, widths[column] ?? 0));
    return `${indent}${parts.join("  ")}`.trimEnd();
  });
}

/** A Markdown table; cells may hold Markdown, `|` and line ends in them are made harmless. */
export function markdownTable(
  header: readonly string[],
  rows: readonly (readonly string[])[],
): string[] {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll("|", "\\|").replaceAll(/\s*\n\s*/g, " ")).join(" | ")} |`;
  return [line(header), line(header.map(() => "---")), ...rows.map(line)];
}

/** Columns a text takes in a terminal, near enough: code points without marks that join. */
export function widthOf(text: string): number {
  return [...text.replaceAll(/\p{Mark}/gu, "")].length;
}

/** Breaks a text at spaces so that no line is wider than asked, where its words allow. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/).filter((each) => each !== "")) {
    if (line !== "" && widthOf(line) + 1 + widthOf(word) > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return line === "" ? lines : [...lines, line];
}

// ───────────────────────────── helpers ─────────────────────────────

function padded(cell: TextCell, width: number): string {
  const space = " ".repeat(Math.max(0, width - widthOf(cell.text)));
  const painted = cell.paint === undefined ? cell.text : cell.paint(cell.text);
  return cell.right === true ? space + painted : painted + space;
}
