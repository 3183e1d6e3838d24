/**
 * The one way results and messages reach a person or a program: lines for people, each of them held
 * to one line and to what a terminal may show, and JSON for programs.
 *
 *     print(world, ["two builds", palette.red("one error")])
 *
 * Colors of our own come through because they carry a mark that nobody can write into a build.
 *
 * Must not know: verbs, builds.
 */
import { randomBytes } from "node:crypto";
import { forJson, forOutputLine } from "../text/untrusted-text";
import type { World } from "./world";

/** Results and findings for a person to read. */
export function print(world: World, lines: readonly string[]): void {
  world.out(lines.map((line) => `${shown(line)}\n`).join(""));
}

/** What went wrong and what is being done, one line. */
export function tell(world: World, line: string): void {
  world.log(`${shown(line)}\n`);
}

/** A line that takes the place of the one told before; nothing takes it away. */
export function tellAgain(world: World, line: string): void {
  world.log(line === "" ? "\r\u001b[K" : `\r${shown(line)} `);
}

/** Results for a program. */
export function printJson(world: World, value: unknown): void {
  world.out(`${forJson(JSON.stringify(value, undefined, 2))}\n`);
}

/** Commands to the service a job runs on, put together by `reviewAnnotations`. */
export function printAnnotations(world: World, lines: readonly string[]): void {
  world.out(lines.map((line) => `${line}\n`).join(""));
}

/** A document that is made whole elsewhere, or the text of a file itself. */
export function printWhole(world: World, text: string): void {
  world.out(text);
}

/** Makes an escape sequence of ours one that `print` lets through. */
export function marked(sequence: string): string {
  return sequence.replaceAll("\u001b", mark);
}

// ───────────────────────────── helpers ─────────────────────────────

const mark = `\uE000${randomBytes(12).toString("hex")}\uE001`;

function shown(line: string): string {
  return forOutputLine(line).replaceAll(mark, "\u001b");
}
