/**
 * Runs a test module inside the served editor, shown by a headless browser, as the desktop editor
 * would with the same arguments: the module exports `run()`, which settles when the tests are done.
 *
 *     const code = await runInServedWorkbench({ extension, tests, workspace, dataFolder });
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { launchBrowser } from "./browser.mts";
import { outputFolder } from "./bundle-tests.mts";
import { startEditorServer } from "./editor-server.mts";

export interface ServedRun {
  /** Folder of the extension under test. */
  readonly extension: string;
  /** The module that exports `run()`, as CommonJS. */
  readonly tests: string;
  /** The folder, or workspace file, that is open. */
  readonly workspace: string;
  readonly dataFolder: string;
  readonly workspaceTrust?: boolean;
  readonly view?: { readonly width: number; readonly height: number };
  readonly timeout?: number;
}

/** The exit code of the run: 0 where `run()` succeeded. */
export async function runInServedWorkbench(run: ServedRun): Promise<number> {
  let page: Page | undefined;
  let browser: Browser | undefined;
  const log: string[] = [];
  const pictures = await servePictures(() => page);
  const server = await startEditorServer({
    dataFolder: run.dataFolder,
    workspaceTrust: run.workspaceTrust ?? false,
    env: { TRAMMEL_PICTURES: `http://127.0.0.1:${(pictures.address() as AddressInfo).port}/` },
  });
  let code: number | undefined;
  try {
    browser = await launchBrowser();
    page = await browser.newPage({
      viewport: { ...(run.view ?? { width: 1280, height: 900 }) },
      deviceScaleFactor: 2,
    });
    const verdict = exitCodeOf(page, run.timeout ?? 300_000);
    await page.exposeFunction("codeAutomationLog", (type: string, args: unknown[]) => {
      log.push(`${type}: ${args.join(" ")}`);
    });
    await page.goto(addressOf(server.port, run), { timeout: 60_000 });
    code = await verdict;
    if (code === undefined) {
      const picture = join(outputFolder, "timeout.png");
      await takePicture(page, picture);
      console.error(`the tests did not end in time; what was on the screen is in ${picture}`);
    }
    return code ?? 1;
  } finally {
    await browser?.close();
    await server.stop();
    pictures.close();
    pictures.closeAllConnections();
    keepLog(`${server.log()}\n\n${log.join("\n")}`, code !== 0);
  }
}

/** The editor says much that is no concern of the tests, so it is kept aside unless they failed. */
function keepLog(text: string, show: boolean): void {
  const file = join(outputFolder, "editor.log");
  mkdirSync(outputFolder, { recursive: true });
  writeFileSync(file, text);
  if (show) console.error(`the editor's log is in ${file}; it ends with\n${text.slice(-3_000)}`);
}

/** Settles with the code the test host gives, or with nothing when the time is up. */
function exitCodeOf(page: Page, timeout: number): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => resolve(undefined), timeout);
    page.once("crash", () => reject(new Error("the page of the editor crashed")));
    page
      .exposeFunction("codeAutomationExit", (code: number) => {
        clearTimeout(timer);
        resolve(code);
      })
      .catch(reject);
  });
}

function addressOf(port: number, run: ServedRun): string {
  const remote = (path: string) =>
    `vscode-remote://127.0.0.1:${port}${pathToFileURL(path).pathname}`;
  const payload = JSON.stringify([
    ["extensionDevelopmentPath", remote(run.extension)],
    ["extensionTestsPath", remote(run.tests)],
    ["skipWelcome", "true"],
  ]);
  const opened = run.workspace.endsWith(".code-workspace") ? "workspace" : "folder";
  const query = new URLSearchParams({ [opened]: run.workspace, payload });
  // The editor reads its address with %20 for a space.
  return `http://127.0.0.1:${port}/?${query.toString().replaceAll("+", "%20")}`;
}

/**
 * Lets a test inside the editor ask for a picture of the page: `POST /?/path/of/the.png`; and what a
 * person would do and see in the page of a panel: `POST /panel?{"act":"click","selector":"…"}`, or
 * in the editor around it: `POST /editor?{"act":"click","selector":"…"}`.
 */
async function servePictures(page: () => Page | undefined): Promise<Server> {
  const server = createServer(async (request, response) => {
    try {
      const { pathname, search } = new URL(request.url ?? "", "http://local");
      const file = decodeURIComponent(search.slice(1));
      const shown = page();
      if (shown === undefined) throw new Error("no page is shown yet");
      if (pathname === "/panel") {
        response.end(JSON.stringify(await inPanel(shown, JSON.parse(file))));
        return;
      }
      if (pathname === "/editor") {
        response.end(JSON.stringify(await inEditor(shown, JSON.parse(file))));
        return;
      }
      await takePicture(shown, file);
      response.end();
    } catch (error) {
      response.statusCode = 500;
      response.end(String(error));
    }
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return server;
}

interface PanelAct {
  readonly act: "click" | "texts" | "classes" | "key" | "choose" | "tree" | "colors" | "reload";
  readonly selector: string;
  readonly key?: string;
}

interface Styles {
  getComputedStyle(of: unknown): { fill: string; fontWeight: string; backgroundColor: string };
}

/** In the frame of a webview that holds our page; nothing where there is none yet. */
async function inPanel(page: Page, { act, selector, key }: PanelAct): Promise<string[]> {
  if (act === "reload") {
    void page.reload();
    return ["done"];
  }
  for (const frame of page.frames()) {
    if (
      (await frame
        .locator("#app")
        .count()
        .catch(() => 0)) === 0
    )
      continue;
    const found = frame.locator(selector);
    if (act === "click") await found.first().dispatchEvent("click", {}, { timeout: 5_000 });
    else if (act === "key") await found.first().press(key ?? "Enter", { timeout: 5_000 });
    else if (act === "classes")
      return found.evaluateAll((all) => all.map((each) => each.getAttribute("class") ?? ""));
    else if (act === "choose") await found.first().selectOption(key ?? "");
    else if (act === "tree") return [await found.first().ariaSnapshot()];
    else if (act === "colors")
      return found.evaluateAll((all) =>
        all.map((each) => {
          const view = (
            each as unknown as { ownerDocument: { defaultView: Styles; body: unknown } }
          ).ownerDocument;
          const { fill, fontWeight } = view.defaultView.getComputedStyle(each);
          const { backgroundColor } = view.defaultView.getComputedStyle(view.body);
          return `${fill} on ${backgroundColor}, weight ${fontWeight}`;
        }),
      );
    else return found.allTextContents();
    return ["done"];
  }
  return [];
}

interface EditorAct {
  readonly act: "click" | "texts";
  readonly selector: string;
}

/** Where the editor has no command for it: its links, and what it shows. */
async function inEditor(page: Page, { act, selector }: EditorAct): Promise<string[]> {
  const found = page.locator(selector);
  if (act === "texts") return found.allTextContents();
  await found.first().click({ timeout: 5_000 });
  return ["done"];
}

async function takePicture(page: Page, file: string): Promise<void> {
  mkdirSync(dirname(file), { recursive: true });
  // The cursor blinks, and a picture should not depend on when it is taken.
  await page.screenshot({ path: file, animations: "disabled", caret: "hide" });
}
