import { ByteWriter } from './byte-writer.ts';
import { writeFunction } from './elementary.ts';
import { largestAngle } from './elementary-angle.ts';
import { generalPower } from './elementary-exponential.ts';
import { takeQuarters } from './far-angles.ts';
import { Graph } from './graph.ts';
import { type FunctionType, functionBody, writeModule } from './module-bytes.ts';
import { code, valueType } from './opcodes.ts';
import { instantiate, type ModuleFunction } from './web-assembly.ts';
import { writeNumberFunction } from './write-scalar.ts';

const { f64 } = valueType;
const ofOne: FunctionType = { takes: [f64], gives: [f64] };
const ofTwo: FunctionType = { takes: [f64, f64], gives: [f64] };

/** The elementary functions that are long enough to be called rather than written where they are used. */
export const libraryTypes: ReadonlyMap<string, FunctionType> = new Map([
  ...[
    'cbrt',
    'exp',
    'expm1',
    'ln',
    'log1p',
    'log10',
    'sin',
    'cos',
    'tan',
    'asin',
    'acos',
    'atan',
    'sinh',
    'cosh',
    'tanh',
    'asinh',
    'acosh',
    'atanh',
  ].map((name) => [name, ofOne] as const),
  ['atan2', ofTwo],
  ['pow', ofTwo],
]);

const made = new Map<string, ModuleFunction>();

/**
 * An elementary function as a function of one number or two: the same operations in the same order as on lanes, so
 * the same bits, here and in every other place; and angles of any size.
 *
 * @throws Error for a name that is not among `libraryTypes`
 */
export function libraryFunction(name: string): ModuleFunction {
  const known = made.get(name);
  if (known !== undefined) return known;
  const found = makeFunction(name);
  made.set(name, found);
  return found;
}

function makeFunction(name: string): ModuleFunction {
  const type = libraryTypes.get(name);
  if (type === undefined) throw new Error(`No elementary function is named "${name}".`);
  const graph = new Graph();
  const parts = type.takes.map((_, index) => graph.argument(index));
  const root = name === 'pow' ? generalPower(graph, parts[0], parts[1]) : writeFunction(graph, name, parts);
  if (root === null) throw new Error(`"${name}" is not written.`);
  const body = writeNumberFunction(root, parts.length);
  const far = farFunctions.get(name);
  if (far === undefined) return instantiate(writeModule({ functions: [{ name, type, body }] }), {})(name);
  const functions = [
    { type, body },
    { name, type, body: writeByDistance(1, 0) },
  ];
  const bytes = writeModule({ imports: [{ name: 'far', type }], functions });
  return instantiate(bytes, { functions: { far } })(name);
}

/** Functions of angles that are too large for lanes: by what is left of the angle and the quarter in which it lies. */
const farFunctions: ReadonlyMap<string, ModuleFunction> = new Map([
  [
    'sin',
    ofFarAngle((r, quarters) => {
      const size = libraryFunction(quarters % 2 === 0 ? 'sin' : 'cos')(r);
      return quarters < 2 ? size : -size;
    }),
  ],
  [
    'cos',
    ofFarAngle((r, quarters) => {
      const size = libraryFunction(quarters % 2 === 0 ? 'cos' : 'sin')(r);
      return quarters === 0 || quarters === 3 ? size : -size;
    }),
  ],
  [
    'tan',
    ofFarAngle((r, quarters) => {
      if (quarters % 2 === 0) return libraryFunction('tan')(r);
      return -libraryFunction('cos')(r) / libraryFunction('sin')(r);
    }),
  ],
]);

function ofFarAngle(valueAt: (r: number, quarters: number) => number): ModuleFunction {
  return (angle) => {
    if (!Number.isFinite(angle)) return Number.NaN;
    const { r, quarters } = takeQuarters(angle);
    return valueAt(r, quarters);
  };
}

/** Calls one function for angles that are reduced in double precision, another for those beyond, and for NaN. */
function writeByDistance(near: number, far: number): ByteWriter {
  const out = new ByteWriter();
  const get = (): void => {
    out.byte(code.localGet);
    out.unsigned(0);
  };
  const call = (index: number): void => {
    get();
    out.byte(code.call);
    out.unsigned(index);
  };
  get();
  out.byte(code.f64Abs);
  out.byte(code.f64Const);
  out.double(largestAngle);
  out.byte(code.f64LessOrEqual);
  out.byte(code.if);
  out.byte(f64);
  call(near);
  out.byte(code.else);
  call(far);
  out.byte(code.end);
  return functionBody([], out);
}
