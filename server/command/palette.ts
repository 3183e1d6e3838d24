/**
 * Color for people, none for files and programs: `--color` decides, then `NO_COLOR`, then whether
 * a terminal that can show it reads along. Nothing is told by color alone.
 */
import pc from "picocolors";
import type { Standing } from "../analysis/analysis";
import type { Severity } from "../findings/finding";
import { marked } from "./print";
import type { World } from "./world";

export type ColorChoice = "auto" | "always" | "never";

/** Paints a text with marks that `print` turns into color. */
type Paint = (text: string) => string;

const paints = ["bold", "dim", "underline", "reset", "red", "green", "yellow", "cyan"] as const;

export type Palette = Readonly<Record<(typeof paints)[number], Paint>>;

export function paletteFor(choice: ColorChoice, world: World): Palette {
  const colors = pc.createColors(wantsColor(choice, world));
  return Object.fromEntries(paints.map((name) => [name, painter(colors[name])])) as Palette;
}

/** Only the sequences around a text are ours: what is in it may come from anyone. */
function painter(paint: Paint): Paint {
  const [before = "", after = ""] = marked(paint("text")).split("text");
  return (text) => `${before}${text}${after}`;
}

export function paintSeverity(palette: Palette, severity: Severity): (text: string) => string {
  switch (severity) {
    case "error":
      return palette.red;
    case "warning":
      return palette.yellow;
    case "note":
      return palette.cyan;
  }
}

export function paintStanding(palette: Palette, standing: Standing): (text: string) => string {
  switch (standing) {
    case "given":
      return palette.reset;
    case "assumed":
      return palette.yellow;
    case "solved":
      return palette.green;
    case "measured":
      return palette.cyan;
    case "missing":
      return palette.red;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function wantsColor(choice: ColorChoice, { environment, isTerminal }: World): boolean {
  if (choice !== "auto") return choice === "always";
  const refused = environment.NO_COLOR;
  if (refused !== undefined && refused !== "") return false;
  return isTerminal && environment.TERM !== "dumb";
}
