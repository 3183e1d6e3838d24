/**
 * Serves a real VS Code on this machine with the packaged extension installed and the samples open,
 * for a person to look at with a browser.
 *
 *     npm run workbench             # on a free port
 *     npm run workbench -- 8080     # on that port
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { packageExtension } from "../../.config/package.mts";
import { installExtension, startEditorServer } from "./host/editor-server.mts";
import { copyWorkspace } from "./host/workspace.mts";

const port = Number(process.argv[2] ?? 0);
if (!Number.isInteger(port) || port < 0 || port > 65_535) {
  console.error("the port is a whole number up to 65535");
  process.exit(2);
}
const dataFolder = mkdtempSync(join(tmpdir(), "trammel-workbench-"));
try {
  console.log("packaging the extension");
  const file = await packageExtension({ file: join(dataFolder, "trammel.vsix") });
  await installExtension(file, dataFolder);
  const server = await startEditorServer({ dataFolder, port });
  try {
    const workspace = encodeURIComponent(copyWorkspace());
    console.log(`\n  http://127.0.0.1:${server.port}/?folder=${workspace}\n`);
    console.log(
      "open this address in a browser and then harbor-van/build.trammel; Ctrl+C ends it.",
    );
    console.log("The samples open there are a copy: what you change is not kept.");
    await interrupted();
  } finally {
    await server.stop();
  }
} finally {
  rmSync(dataFolder, { recursive: true, force: true, maxRetries: 5 });
}

function interrupted(): Promise<void> {
  return new Promise((resolve) => {
    for (const name of ["SIGINT", "SIGTERM"] as const) process.once(name, () => resolve());
  });
}
