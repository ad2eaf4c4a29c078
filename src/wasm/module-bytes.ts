import { ByteWriter } from './byte-writer.ts';
import { code, valueType } from './opcodes.ts';

const section = { type: 1, import: 2, function: 3, global: 6, export: 7, code: 10 } as const;
const functionForm = 0x60;
const externalKind = { function: 0, memory: 2 } as const;
const isMutable = 1;

/** Where a module finds what the host gives it. */
export const hostName = 'host';
export const memoryName = 'memory';

/** What a function takes and gives, as value types. */
export interface FunctionType {
  readonly takes: readonly number[];
  readonly gives: readonly number[];
}

/** A function of the module: its name outside, where it has one, and its body as the code section holds it. */
export interface WrittenFunction {
  readonly name?: string;
  readonly type: FunctionType;
  readonly body: ByteWriter;
}

/** What a module is made of. Functions are numbered: first the imported, then its own, in this order. */
export interface ModuleParts {
  /** Least pages of the memory that the host gives; undefined where none is wanted. */
  readonly pages?: number;
  readonly imports?: readonly { readonly name: string; readonly type: FunctionType }[];
  readonly functions: readonly WrittenFunction[];
  /** Types of variables that all functions share, f64 or i32; 0 at the start. */
  readonly globals?: readonly number[];
}

/**
 * The bytes of a module. All that it can touch is the memory and the functions that the host gives.
 *
 * Source: WebAssembly Core Specification 2.0 (W3C 2022), section 5.5
 */
export function writeModule(parts: ModuleParts): Uint8Array<ArrayBuffer> {
  const { pages, functions, imports = [], globals = [] } = parts;
  const out = new ByteWriter();
  for (const byte of [0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00]) out.byte(byte);
  const types = new TypeList();
  for (const { type } of [...imports, ...functions]) types.numberOf(type);
  writeSection(out, section.type, types.all.length, (body) => {
    for (const { takes, gives } of types.all) {
      body.byte(functionForm);
      for (const list of [takes, gives]) {
        body.unsigned(list.length);
        for (const type of list) body.byte(type);
      }
    }
  });
  writeSection(out, section.import, imports.length + (pages === undefined ? 0 : 1), (body) => {
    for (const { name, type } of imports) {
      body.text(hostName);
      body.text(name);
      body.byte(externalKind.function);
      body.unsigned(types.numberOf(type));
    }
    if (pages === undefined) return;
    body.text(hostName);
    body.text(memoryName);
    body.byte(externalKind.memory);
    body.byte(0);
    body.unsigned(pages);
  });
  writeSection(out, section.function, functions.length, (body) => {
    for (const { type } of functions) body.unsigned(types.numberOf(type));
  });
  writeSection(out, section.global, globals.length, (body) => {
    for (const type of globals) {
      body.byte(type);
      body.byte(isMutable);
      if (type === valueType.f64) {
        body.byte(code.f64Const);
        body.double(0);
      } else {
        body.byte(code.i32Const);
        body.signed(0);
      }
      body.byte(code.end);
    }
  });
  const named = functions.filter(({ name }) => name !== undefined);
  writeSection(out, section.export, named.length, (body) => {
    for (const [index, { name }] of functions.entries()) {
      if (name === undefined) continue;
      body.text(name);
      body.byte(externalKind.function);
      body.unsigned(imports.length + index);
    }
  });
  writeSection(out, section.code, functions.length, (body) => {
    for (const { body: one } of functions) {
      body.unsigned(one.length);
      body.append(one);
    }
  });
  return out.bytes();
}

/** Each distinct function type once. */
class TypeList {
  readonly all: FunctionType[] = [];
  private readonly known = new Map<string, number>();

  numberOf(type: FunctionType): number {
    const key = `${type.takes.join()}>${type.gives.join()}`;
    const known = this.known.get(key);
    if (known !== undefined) return known;
    this.known.set(key, this.all.length);
    return this.all.push(type) - 1;
  }
}

function writeSection(out: ByteWriter, id: number, count: number, write: (body: ByteWriter) => void): void {
  if (count === 0) return;
  const body = new ByteWriter();
  body.unsigned(count);
  write(body);
  out.byte(id);
  out.unsigned(body.length);
  out.append(body);
}

/** A function's body from its locals (parameters apart) and its instructions. */
export function functionBody(locals: readonly number[], instructions: ByteWriter): ByteWriter {
  const body = new ByteWriter();
  body.unsigned(locals.length);
  for (const type of locals) {
    body.unsigned(1);
    body.byte(type);
  }
  body.append(instructions);
  body.byte(code.end);
  return body;
}
