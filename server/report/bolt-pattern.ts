/**
 * The tightening order of a joint as a drawing: fasteners numbered in the order they are tightened,
 * joined by a line from each to the next.
 *
 *     boltPattern({ title: "Wheel nuts", count: 5, order: [[1, 3, 5, 2, 4]], pattern: "cross" })
 *
 * Fasteners stand clockwise from the top on a circle, or side by side in a line. The drawing is one
 * SVG without anything outside of it; it follows the reader's light or dark colours and says in
 * words what it shows.
 *
 * Must not know: analyses, editors, where the drawing goes.
 */

export interface BoltPattern {
  readonly title: string;
  readonly count: number;
  /** Places, counted clockwise (or along the line) from 1, in the order they are tightened, by group. */
  readonly order: readonly (readonly number[])[];
  readonly pattern: string;
}

const size = 240;
const middle = size / 2;
const ring = 88;
const bolt = 15;

/** A drawing 240 wide; fewer than one fastener, or more than can be told apart (60), give `undefined`. */
export function boltPattern({ title, count, order, pattern }: BoltPattern): string | undefined {
  const sequence = order.flat().filter((place) => place >= 1 && place <= count);
  if (count < 1 || count > 60 || sequence.length === 0) return undefined;
  const inLine = pattern === "line";
  const height = inLine ? 90 : size;
  const radius = Math.min(bolt, inLine ? (size - 40) / count / 2 : (Math.PI * ring) / count);
  const at = (place: number): readonly [x: number, y: number] => {
    if (inLine) return [20 + ((place - 0.5) * (size - 40)) / count, height / 2];
    const angle = (2 * Math.PI * (place - 1)) / count - Math.PI / 2;
    return [middle + ring * Math.cos(angle), middle + ring * Math.sin(angle)];
  };
  const line = sequence.map((place) => at(place).map(fixed).join(",")).join(" ");
  const bolts = sequence.map((place, turn) => {
    const [x, y] = at(place).map(fixed);
    return `<g><circle class="bolt" cx="${x}" cy="${y}" r="${fixed(radius)}"/><text x="${x}" y="${y}" font-size="${fixed(Math.max(6, radius))}">${turn + 1}</text></g>`;
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${size} ${height}" width="${size}" height="${height}" role="img">`,
    `<title>${escaped(title)}: tightening order</title>`,
    `<desc>${escaped(orderInWords(order, inLine))}</desc>`,
    "<style>.bolt{fill:#fff;stroke:#222;stroke-width:1.5}.way{fill:none;stroke:#888;stroke-width:1}text{fill:#222;font-family:sans-serif;text-anchor:middle;dominant-baseline:central}@media(prefers-color-scheme:dark){.bolt{fill:#222;stroke:#ddd}text{fill:#ddd}}</style>",
    ...(inLine
      ? []
      : [`<circle class="way" cx="${middle}" cy="${middle}" r="${ring}" stroke-dasharray="3 4"/>`]),
    `<polyline class="way" points="${line}"/>`,
    ...bolts,
    "</svg>",
  ].join("\n");
}

/** `places clockwise from the top: 1, 3, 5, 2, 4` */
export function orderInWords(order: readonly (readonly number[])[], inLine: boolean): string {
  const from = inLine ? "places along the line" : "places clockwise from the top";
  return `${from}: ${order.map((group) => group.join(", ")).join("; then ")}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function fixed(value: number): string {
  return String(Math.round(value * 100) / 100);
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
