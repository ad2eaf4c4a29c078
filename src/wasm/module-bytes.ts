import { ByteWriter } from './byte-writer.ts';

const section = { type: 1, import: 2, function: 3, export: 7, code: 10 } as const;
const functionType = 0x60;
const externalKind = { function: 0, memory: 2 } as const;

/** Name under which the host gives the memory, and the one function that it may call. */
export const memoryImport = { module: 'host', name: 'memory' } as const;
export const runExport = 'run';

/**
 * A module of functions that take and give nothing: all they know is the memory, which is the only thing imported.
 *
 * @param bodies of the functions, in the order of their indices
 * @param run index of the function that is exported
 * Source: WebAssembly Core Specification 2.0 (W3C 2022), section 5.5
 */
export function writeModule(
  bodies: readonly ByteWriter[],
  run: number,
  pages: number,
): Uint8Array<ArrayBuffer> {
  const out = new ByteWriter();
  for (const byte of [0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00]) out.byte(byte);
  writeSection(out, section.type, (body) => {
    body.unsigned(1);
    body.byte(functionType);
    body.unsigned(0);
    body.unsigned(0);
  });
  writeSection(out, section.import, (body) => {
    body.unsigned(1);
    body.text(memoryImport.module);
    body.text(memoryImport.name);
    body.byte(externalKind.memory);
    body.byte(0);
    body.unsigned(pages);
  });
  writeSection(out, section.function, (body) => {
    body.unsigned(bodies.length);
    for (let i = 0; i < bodies.length; i++) body.unsigned(0);
  });
  writeSection(out, section.export, (body) => {
    body.unsigned(1);
    body.text(runExport);
    body.byte(externalKind.function);
    body.unsigned(run);
  });
  writeSection(out, section.code, (body) => {
    body.unsigned(bodies.length);
    for (const one of bodies) {
      body.unsigned(one.length);
      body.append(one);
    }
  });
  return out.bytes();
}

function writeSection(out: ByteWriter, id: number, write: (body: ByteWriter) => void): void {
  const body = new ByteWriter();
  write(body);
  out.byte(id);
  out.unsigned(body.length);
  out.append(body);
}
