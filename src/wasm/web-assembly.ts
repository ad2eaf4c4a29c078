import { hostName, memoryName } from './module-bytes.ts';

/** The part of the WebAssembly JavaScript interface that is needed; the same in Node and in browsers. */
interface WebAssemblyInterface {
  readonly Memory: new (descriptor: { readonly initial: number }) => ModuleMemory;
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (
    module: object,
    imports: Readonly<Record<string, Readonly<Record<string, object>>>>,
  ) => { readonly exports: Readonly<Record<string, unknown>> };
}

/** A memory that modules share; it never grows, so that views of it stay good. */
export interface ModuleMemory {
  readonly buffer: ArrayBuffer;
}

/** Bytes of a page of memory. */
export const pageSize = 65536;

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

export function makeMemory(pages: number): ModuleMemory {
  const { Memory } = findWebAssembly();
  return new Memory({ initial: pages });
}

/** A function of a module: numbers in, a number out where it gives one. */
export type ModuleFunction = (...values: number[]) => number;

/** What the host gives a module. */
export interface HostParts {
  readonly memory?: ModuleMemory;
  readonly functions?: Readonly<Record<string, ModuleFunction>>;
}

/**
 * Makes a module ready to run.
 *
 * Nothing is compiled from text: a page whose content security policy says 'wasm-unsafe-eval' may do it.
 *
 * @returns its exported functions by name
 */
export function instantiate(
  bytes: Uint8Array<ArrayBuffer>,
  host: HostParts,
): (name: string) => ModuleFunction {
  const { Module, Instance } = findWebAssembly();
  const { memory, functions = {} } = host;
  const given = memory === undefined ? functions : { ...functions, [memoryName]: memory };
  const { exports } = new Instance(new Module(bytes), { [hostName]: given });
  return (name) => {
    const found = exports[name];
    if (!isModuleFunction(found)) throw new Error(`The module exports no function "${name}".`);
    return found;
  };
}

function isModuleFunction(found: unknown): found is ModuleFunction {
  return typeof found === 'function';
}
