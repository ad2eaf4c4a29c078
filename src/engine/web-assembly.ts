/** The part of the WebAssembly JavaScript interface that the engine needs; the same in Node and in browsers. */
interface WebAssemblyInterface {
  readonly Memory: new (descriptor: { readonly initial: number }) => { readonly buffer: ArrayBuffer };
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (
    module: object,
    imports: Readonly<Record<string, Readonly<Record<string, object>>>>,
  ) => { readonly exports: Readonly<Record<string, unknown>> };
}

declare global {
  var WebAssembly: WebAssemblyInterface;
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
  const memory = new WebAssembly.Memory({ initial: pages });
  const module = new WebAssembly.Module(bytes);
  const instance = new WebAssembly.Instance(module, { [memoryName.module]: { [memoryName.name]: memory } });
  const run = instance.exports[exportName];
  if (typeof run !== 'function') throw new Error(`The module exports no function "${exportName}".`);
  return { buffer: memory.buffer, run: () => run() };
}
