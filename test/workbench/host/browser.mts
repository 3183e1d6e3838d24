/**
 * A headless Chromium to show the served editor in: the one `TRAMMEL_CHROMIUM` names, or the one
 * that comes inside an npm package, unpacked once into the cache.
 *
 *     const browser = await launchBrowser();
 */
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { delimiter, dirname, join } from "node:path";
import { type Browser, chromium } from "playwright-core";
import { cached, cacheFolder } from "./cache.mts";

export async function launchBrowser(): Promise<Browser> {
  const own = process.env.TRAMMEL_CHROMIUM;
  const { executablePath, env } =
    own === undefined ? await packagedChromium() : { executablePath: own, env: process.env };
  return chromium.launch({
    executablePath,
    env: env as Record<string, string>,
    headless: true,
    args: [
      "--headless=shell",
      "--no-sandbox",
      "--no-zygote",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--font-render-hinting=none",
    ],
  });
}

async function packagedChromium(): Promise<{ executablePath: string; env: NodeJS.ProcessEnv }> {
  if (process.platform !== "linux" || process.arch !== "x64") {
    throw new Error(
      "no browser for this system comes with the packages; set TRAMMEL_CHROMIUM to a Chromium of your own",
    );
  }
  const require = createRequire(import.meta.url);
  const packageFolder = join(dirname(require.resolve("@sparticuz/chromium")), "..");
  const { version } = require(join(packageFolder, "package.json")) as { version: string };
  const folder = await cached(`chromium-${version}`, (target) =>
    unpack(join(packageFolder, "bin"), target),
  );
  const executablePath = join(folder, "chromium");
  const env = { ...process.env, FONTCONFIG_FILE: writeFontSettings(folder) };
  return { executablePath, env: withLibraries(executablePath, folder, env) };
}

/** The package unpacks into the folder for temporary files, which is taken to be the target here. */
async function unpack(archives: string, target: string): Promise<void> {
  const { inflate } = await import("@sparticuz/chromium");
  const before = process.env.TMPDIR;
  process.env.TMPDIR = target;
  try {
    for (const archive of ["chromium.br", "fonts.tar.br", "al2023.tar.br", "swiftshader.tar.br"]) {
      await inflate(join(archives, archive));
    }
  } finally {
    if (before === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = before;
  }
}

/** The same fonts on every machine, so that pictures look the same and a bare one shows text at all. */
function writeFontSettings(folder: string): string {
  const require = createRequire(import.meta.url);
  const monospaced = dirname(require.resolve("dejavu-fonts-ttf/ttf/DejaVuSansMono.ttf"));
  const alias = (family: string, font: string) =>
    `<alias binding="strong"><family>${family}</family><prefer><family>${font}</family></prefer></alias>`;
  const file = join(cacheFolder, "fonts.conf");
  writeFileSync(
    file,
    `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${join(folder, "fonts")}</dir>
  <dir>${monospaced}</dir>
  <cachedir>${join(cacheFolder, "font-cache")}</cachedir>
  ${alias("monospace", "DejaVu Sans Mono")}
  ${alias("system-ui", "Open Sans")}
  ${alias("sans-serif", "Open Sans")}
</fontconfig>
`,
  );
  return file;
}

/** A bare machine lacks some of the browser's shared libraries; then those in the package are taken. */
function withLibraries(
  executablePath: string,
  folder: string,
  env: NodeJS.ProcessEnv,
): NodeJS.ProcessEnv {
  if (spawnSync(executablePath, ["--version"], { env }).status === 0) return env;
  const libraries = [env.LD_LIBRARY_PATH, join(folder, "al2023", "lib")];
  return { ...env, LD_LIBRARY_PATH: libraries.filter(Boolean).join(delimiter) };
}
