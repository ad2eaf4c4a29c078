import { edges } from './edges.ts';
import { frames } from './frames.ts';
import { gates } from './gates.ts';
import type { InstrumentKind } from './instrument-kind.ts';
import { ruler } from './ruler.ts';
import { sampled } from './sampled.ts';
import { stopwatch } from './stopwatch.ts';

/** Every kind of instrument by its name in the lab file. A new one is a file and a line here. */
export const instrumentKinds: ReadonlyMap<string, InstrumentKind> = new Map(
  [edges, sampled, gates, frames, stopwatch, ruler].map((kind) => [kind.kind, kind]),
);
