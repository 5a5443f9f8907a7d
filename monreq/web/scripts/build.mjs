// Builds every script in src/ (not those in folders below, which they import) into
// ../static/dist, under names that carry a hash of the content, and writes
//   manifest.json  logical name -> built name
//   licences.txt   the licence of every package that was built in
// Run by hatch_build.py; by hand: npm ci && npm run build

import { mkdir, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = fileURLToPath(new URL(".", import.meta.url));
const dist = fileURLToPath(new URL("../static/dist/", import.meta.url));

async function entryPoints() {
  const found = await readdir(join(here, "src"), { withFileTypes: true });
  return found
    .filter((entry) => entry.isFile() && entry.name.endsWith(".js"))
    .map((entry) => join("src", entry.name))
    .sort();
}

function manifestOf(outputs) {
  const built = Object.entries(outputs).filter(([, output]) => output.entryPoint);
  return Object.fromEntries(
    built.map(([path, output]) => [basename(output.entryPoint), basename(path)]).sort(),
  );
}

function packagesIn(inputs) {
  const names = Object.keys(inputs).map(
    (path) => path.match(/.*node_modules\/((?:@[^/]+\/)?[^/]+)\//)?.[0],
  );
  return [...new Set(names.filter(Boolean))].sort();
}

async function licenceOf(folder) {
  const { name, version, license } = JSON.parse(await readFile(join(here, folder, "package.json")));
  const file = (await readdir(join(here, folder))).find((f) => /^licen[cs]e/i.test(f));
  if (!file) throw new Error(`${name} ${version} carries no licence text`);
  const text = await readFile(join(here, folder, file), "utf8");
  return `${name} ${version} (${license})\n\n${text.trim()}\n`;
}

await rm(dist, { recursive: true, force: true });
await mkdir(dist, { recursive: true });
const { metafile } = await build({
  absWorkingDir: here,
  entryPoints: await entryPoints(),
  outdir: dist,
  entryNames: "[name]-[hash]",
  bundle: true,
  minify: true,
  format: "iife",
  charset: "utf8",
  legalComments: "linked",
  metafile: true,
  // Chosen: read by the browsers of phones bought since about 2020.
  target: "es2019",
});
const licences = await Promise.all(packagesIn(metafile.inputs).map(licenceOf));
await writeFile(join(dist, "licences.txt"), licences.join(`\n${"-".repeat(72)}\n\n`));
await writeFile(
  join(dist, "manifest.json"),
  `${JSON.stringify(manifestOf(metafile.outputs), null, 2)}\n`,
);
