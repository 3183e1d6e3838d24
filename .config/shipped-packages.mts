/**
 * The packages of others that end up in the bundles, with their licenses: as notices for people and
 * as a bill of materials (CycloneDX) for programs. Both say the same for the same sources.
 *
 *     const packages = shippedPackages(metafiles);
 *     noticesOf(packages); billOf(packages);
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import * as CDX from "@cyclonedx/cyclonedx-library";
import type { Metafile } from "esbuild";

export interface ShippedPackage {
  readonly name: string;
  readonly version: string;
  /** SPDX expression. */
  readonly license: string;
  readonly author: string | undefined;
  readonly texts: readonly string[];
}

/** In the order of their names, each once; throws where one does not say what its license is. */
export function shippedPackages(metafiles: readonly Metafile[], root: string): ShippedPackage[] {
  const folders = new Set<string>();
  for (const { outputs } of metafiles)
    for (const { inputs } of Object.values(outputs))
      for (const [path, { bytesInOutput }] of Object.entries(inputs)) {
        const folder = /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0];
        if (folder !== undefined && bytesInOutput > 0) folders.add(folder);
      }
  const found = [...folders].map((folder) => packageIn(join(root, folder)));
  const byName = new Map(found.map((each) => [`${each.name}@${each.version}`, each]));
  return [...byName.values()].sort((one, other) =>
    one.name === other.name
      ? one.version.localeCompare(other.version, "en")
      : one.name < other.name
        ? -1
        : 1,
  );
}

/** What their licenses ask to be handed on. */
export function noticesOf(packages: readonly ShippedPackage[]): string {
  const intro =
    "Trammel holds parts of the following packages, each under its own license as it stands here.\n";
  const parts = packages.map(({ name, version, license, texts }) =>
    [`${"=".repeat(78)}\n${name} ${version} (${license})\n${"=".repeat(78)}`, ...texts].join(
      "\n\n",
    ),
  );
  return `${[intro, ...parts].join("\n")}\n`;
}

/** As CycloneDX 1.6 in JSON, without date and serial number: it changes with the packages alone. */
export function billOf(
  packages: readonly ShippedPackage[],
  own: { readonly name: string; readonly version: string },
): string {
  const { Enums, Models, Serialize, Spec } = CDX;
  const bom = new Models.Bom();
  const main = new Models.Component(Enums.ComponentType.Application, own.name, {
    version: own.version,
    bomRef: `${own.name}@${own.version}`,
    licenses: new Models.LicenseRepository([new Models.SpdxLicense("MIT")]),
  });
  bom.metadata.component = main;
  for (const { name, version, license } of packages) {
    const [group, plain] = name.startsWith("@")
      ? (name.split("/") as [string, string])
      : [undefined, name];
    const component = new Models.Component(Enums.ComponentType.Library, plain, {
      group,
      version,
      bomRef: `${name}@${version}`,
      purl: `pkg:npm/${name.replace("@", "%40")}@${version}`,
      licenses: new Models.LicenseRepository([licenseOf(license)]),
    });
    bom.components.add(component);
    main.dependencies.add(component.bomRef);
  }
  const serializer = new Serialize.JsonSerializer(
    new Serialize.JSON.Normalize.Factory(Spec.Spec1dot6),
  );
  return `${serializer.serialize(bom, { sortLists: true, space: 2 })}\n`;
}

// ───────────────────────────── helpers ─────────────────────────────

function licenseOf(license: string) {
  const { Models } = CDX;
  return /[ (]/.test(license)
    ? new Models.LicenseExpression(license)
    : new Models.SpdxLicense(license);
}

function packageIn(folder: string): ShippedPackage {
  const manifest = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as {
    name: string;
    version: string;
    license?: string;
    author?: string | { name: string };
  };
  const { name, version, license, author } = manifest;
  if (license === undefined || license === "")
    throw new Error(`${name} ${version} does not say under which license it is`);
  const files = readdirSync(folder)
    .filter((file) => /^(licen[cs]e|copying|notice)/i.test(file))
    .sort();
  const who = typeof author === "string" ? author : author?.name;
  const texts = files.map((file) =>
    readFileSync(join(folder, file), "utf8").replaceAll("\r\n", "\n").trim(),
  );
  return {
    name,
    version,
    license,
    author: who,
    texts: texts.length > 0 ? texts : [`${license}${who === undefined ? "" : `, ${who}`}`],
  };
}
