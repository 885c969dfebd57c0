// Prints name, version and licence of every package whose code is in a bundle. Takes the bundler's metafile.
import { readFileSync } from "node:fs";

const { inputs } = JSON.parse(readFileSync(process.argv[2], "utf8"));
const folders = Object.keys(inputs).flatMap((path) => path.match(/^node_modules\/(?:@[^/]+\/)?[^/]+/) ?? []);
for (const folder of [...new Set(folders)].sort()) {
  const { name, version } = JSON.parse(readFileSync(`${folder}/package.json`, "utf8"));
  const licence = readFileSync(`${folder}/LICENSE`, "utf8");
  process.stdout.write(`${name} ${version}\n\n${licence.trim()}\n\n---\n\n`);
}
