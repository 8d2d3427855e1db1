// Bundles the sources into one ES module beside the package's Python, and keeps the licence of what it holds.
// Usage: node build.mjs [folder for the result]

import { readFile, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import path from "node:path";
import { build } from "esbuild";

const here = path.dirname(fileURLToPath(import.meta.url));
const out = path.resolve(process.argv[2] ?? path.join(here, "..", "static"));

await build({
  absWorkingDir: here,
  entryPoints: ["src/index.js"],
  outfile: path.join(out, "view.js"),
  bundle: true,
  format: "esm",
  target: "es2022",
  minify: true,
  charset: "utf8",
  legalComments: "inline",
  loader: { ".css": "text" },
});
const licence = await readFile(path.join(here, "node_modules", "three", "LICENSE"), "utf8");
await writeFile(path.join(out, "view.LICENSE.txt"), `view.js holds three.js, under this licence:\n\n${licence}`);
