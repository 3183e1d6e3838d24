/**
 * Prints an HTML page to a PDF with a browser this machine has: one named by `TRAMMEL_BROWSER`, else
 * the first Chromium, Chrome or Edge found in the usual places.
 *
 *     printPdf(html, "/shop/sheets.pdf", process.env)   →   undefined, or { why }
 *
 * Must not know: what the page shows.
 */
import { spawnSync } from "node:child_process";
import {
  accessSync,
  constants,
  copyFileSync,
  mkdtempSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { pathToFileURL } from "node:url";

const longestWait = 60_000;

const programs = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "chrome",
  "microsoft-edge",
  "msedge",
];

const places = [
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
  "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
  "C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe",
];

type Environment = Readonly<Record<string, string | undefined>>;

/** `undefined` where there is none. */
export function browserOf(environment: Environment): string | undefined {
  const named = environment.TRAMMEL_BROWSER;
  if (named !== undefined && named !== "") return named;
  const folders = (environment.PATH ?? "").split(delimiter).filter((folder) => folder !== "");
  const endings = process.platform === "win32" ? [".exe"] : [""];
  const onPath = programs.flatMap((program) =>
    folders.flatMap((folder) => endings.map((ending) => join(folder, `${program}${ending}`))),
  );
  return [...onPath, ...places].find(isProgram);
}

/** `why` is for the person who asked. Never throws. */
export function printPdf(
  html: string,
  path: string,
  environment: Environment,
): { readonly why: string } | undefined {
  const browser = browserOf(environment);
  if (browser === undefined)
    return {
      why: "there is no Chromium, Chrome or Edge on this machine: write the HTML and print it from any browser, or name one in TRAMMEL_BROWSER",
    };
  let folder: string | undefined;
  try {
    folder = mkdtempSync(join(tmpdir(), "trammel-pdf-"));
    const source = join(folder, "sheets.html");
    const printed = join(folder, "sheets.pdf");
    writeFileSync(source, html);
    const { status, error } = spawnSync(
      browser,
      [
        "--headless",
        "--disable-gpu",
        "--no-first-run",
        "--no-pdf-header-footer",
        ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
        `--user-data-dir=${join(folder, "profile")}`,
        `--print-to-pdf=${printed}`,
        pathToFileURL(source).href,
      ],
      { timeout: longestWait, stdio: "ignore", env: { ...process.env, ...environment } },
    );
    if (error !== undefined || status !== 0 || !isFile(printed))
      return {
        why: `${browser} did not print it${error === undefined ? "" : `: ${error.message}`}`,
      };
    moved(printed, path);
    return undefined;
  } catch (error) {
    return { why: error instanceof Error ? error.message : String(error) };
  } finally {
    if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** Across file systems a rename is refused: beside the target first. */
function moved(from: string, to: string): void {
  const beside = `${to}.part`;
  copyFileSync(from, beside);
  renameSync(beside, to);
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return isFile(path);
  } catch {
    return false;
  }
}

function isFile(path: string): boolean {
  try {
    return statSync(path).isFile();
  } catch {
    return false;
  }
}
