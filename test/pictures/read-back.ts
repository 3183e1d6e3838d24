/** Reads lines of a drawing back out of its SVG text, as numbers on paper. */

export interface ReadElement {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Every x and y it names, curves' control points included. */
  readonly xs: readonly number[];
  readonly ys: readonly number[];
}

/** Elements inside of `<g …>`s come with the attributes of the nearest group named `data-path`. */
export function elementsOf(svg: string): ReadElement[] {
  const found: ReadElement[] = [];
  for (const [, tag = "", written = ""] of svg.matchAll(/<(line|path|circle|g|text)\b([^>]*)>/g)) {
    const attributes = Object.fromEntries(
      [...written.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, name, value]) => [name, value ?? ""]),
    );
    const number = (name: string): number[] =>
      attributes[name] === undefined ? [] : [Number(attributes[name])];
    const pairs = [...(attributes.d ?? "").matchAll(/(-?[\d.]+) (-?[\d.]+)/g)];
    found.push({
      tag,
      attributes,
      xs: [...number("x1"), ...number("x2"), ...pairs.map(([, x]) => Number(x))],
      ys: [...number("y1"), ...number("y2"), ...pairs.map(([, , y]) => Number(y))],
    });
  }
  return found;
}

/** The element drawn for a part: `rear.left tire`. */
export function partOf(svg: string, part: string): ReadElement {
  const found = elementsOf(svg).find(({ attributes }) => attributes["data-part"] === part);
  if (found === undefined) throw new Error(`${part} is not drawn`);
  return found;
}

/** Length of the dimension line of a figure, mm on paper; nothing where it has none. */
export function measuredLength(svg: string, path: string): number | undefined {
  const groups = svg.split(/(?=<g class="(?:dimension|note))/).slice(1);
  const group = groups.find((each) => each.includes(`data-path="${path}"`));
  const line = group === undefined ? undefined : /<line class="measure" ([^>]*)>/.exec(group)?.[1];
  if (line === undefined) return undefined;
  const at = (name: string): number => Number(new RegExp(`${name}="([^"]*)"`).exec(line)?.[1]);
  return Math.hypot(at("x2") - at("x1"), at("y2") - at("y1"));
}
