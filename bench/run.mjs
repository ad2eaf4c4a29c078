// Bundles a benchmark of this folder and runs it: node bench/run.mjs trajectories
import { mkdtemp, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'tsdown';

const name = process.argv[2] ?? 'trajectories';
const here = dirname(fileURLToPath(import.meta.url));
// Inside the project, so that the bundle finds the packages that it leaves outside.
const folder = await mkdtemp(join(here, '..', 'node_modules', '.bench-'));
try {
  await build({
    config: false,
    entry: { [name]: join(here, `${name}.ts`) },
    format: 'esm',
    platform: 'node',
    target: 'node20',
    dts: false,
    outDir: folder,
    logLevel: 'error',
  });
  const { main } = await import(pathToFileURL(join(folder, `${name}.mjs`)).href);
  await main(folder);
} finally {
  await rm(folder, { recursive: true, force: true });
}
