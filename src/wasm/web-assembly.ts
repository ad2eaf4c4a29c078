/** The part of the WebAssembly JavaScript interface that the engine needs; the same in Node and in browsers. */
interface WebAssemblyInterface {
  readonly Memory: new (descriptor: { readonly initial: number }) => { readonly buffer: ArrayBuffer };
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (
    module: object,
    imports: Readonly<Record<string, Readonly<Record<string, object>>>>,
  ) => { readonly exports: Readonly<Record<string, unknown>> };
}

/** Found by asking: types of browsers know it by one shape, those of Node by another or not at all. */
function findWebAssembly(): WebAssemblyInterface {
  const host: object = globalThis;
  const found: unknown = 'WebAssembly' in host ? host.WebAssembly : undefined;
  if (!isWebAssembly(found)) throw new Error('This JavaScript engine has no WebAssembly.');
  return found;
}

function isWebAssembly(found: unknown): found is WebAssemblyInterface {
  return typeof found === 'object' && found !== null && 'Module' in found && 'Instance' in found;
}

/** A module at work: its memory, and its one function. */
export interface RunningModule {
  readonly buffer: ArrayBuffer;
  run(): void;
}

/** Makes a module ready to run, with a memory of its own as all that it can touch. */
export function instantiate(
  bytes: Uint8Array<ArrayBuffer>,
  pages: number,
  memoryName: { readonly module: string; readonly name: string },
  exportName: string,
): RunningModule {
  const { Memory, Module, Instance } = findWebAssembly();
  const memory = new Memory({ initial: pages });
  const module = new Module(bytes);
  const instance = new Instance(module, { [memoryName.module]: { [memoryName.name]: memory } });
  const run = instance.exports[exportName];
  if (typeof run !== 'function') throw new Error(`The module exports no function "${exportName}".`);
  return { buffer: memory.buffer, run: () => run() };
}
