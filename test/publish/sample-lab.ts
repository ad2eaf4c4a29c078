import { readFileSync } from 'node:fs';
import { createPipeline, type Pipeline, readLab } from '../../src/lab/index.ts';

/** A pipeline from the text of a lab file. */
export function pipelineOf(text: string): Pipeline {
  const lab = readLab(text, 'lab.yaml');
  if (!lab.ok) throw new Error(lab.problems.map(({ message }) => message).join('\n'));
  return createPipeline(lab.value);
}

/** A lab of the gallery. */
export function galleryLab(name: string): Pipeline {
  return pipelineOf(readFileSync(new URL(`../../labs/${name}/lab.yaml`, import.meta.url), 'utf8'));
}
