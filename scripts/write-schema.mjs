// Writes the JSON Schema of lab.yaml beside the built program, where editors find it in the package.
import { writeFileSync } from 'node:fs';
import { labJsonSchema } from '../dist/index.mjs';

writeFileSync(
  new URL('../dist/lab.schema.json', import.meta.url),
  `${JSON.stringify(labJsonSchema(), null, 2)}\n`,
);
