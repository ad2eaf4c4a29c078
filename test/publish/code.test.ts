import { describe, expect, it } from 'vitest';
import { classroomSteps } from '../../src/evolve/index.ts';
import { interpret } from '../../src/expression/index.ts';
import { emitPython, writeCode } from '../../src/publish/code/index.ts';
import { describeStepwise, type StepwiseModel } from '../../src/publish/stepwise/index.ts';
import type { WriterExtras } from '../../src/publish/writing/index.ts';
import { has, runOn } from './outside-tools.ts';
import { galleryLab, pipelineOf } from './sample-lab.ts';
import { german, HOSTILE, hostileTree, SAMPLE_BLOCKS, sampleTree, tree } from './sample-tree.ts';

type Lab = ReturnType<typeof galleryLab>;

function extrasOf(pipeline: Lab, method: StepwiseModel['method'], stepS: number): WriterExtras {
  const stepwise = describeStepwise(pipeline.lab, pipeline.values(pipeline.nominal), { method, stepS });
  return { stepwise, trials: [], lines: [], stations: [] };
}

function classroomEnd(pipeline: Lab, stepper: StepwiseModel['method'], stepS: number): readonly number[] {
  const { model } = pipeline.lab;
  if (model.kind !== 'motion') throw new Error('no motion');
  const stepped = classroomSteps(model.model, pipeline.values(pipeline.nominal), { stepper, stepS });
  if (!stepped.ok) throw new Error('not stepped');
  const end = new Float64Array(model.model.stateNames.length);
  stepped.value.stateAt(stepped.value.endS, end);
  return [stepped.value.endS, ...end];
}

/** Numbers behind the equals signs of what the program prints. */
function printed(code: string): readonly number[] {
  const run = runOn('python3', 'model.py', code, ['-I', 'model.py']);
  expect(run.err).toBe('');
  return [...run.out.matchAll(/= (\S+)/g)].map(([, number]) => Number(number));
}

/** A lab with a curve through a table, an integral, branches and a given duration. */
const AWKWARD = `
benchwright: 1
title: A cart on a spring that hardens
quantities:
  k: { is: stiffness, value: 12.5 N/m }
  m: { is: mass, value: 310 g }
  lambda: { is: start, value: 0.08 m }
  F_r: { is: dry friction, value: 60 mN }
  T: { is: duration, value: 1.73 s }
model:
  start: { x: lambda, v: 0 m/s }
  rates:
    x: v
    v: (-k*integrate(1 + (s/lambda)^2, s, 0, x) - dry(F_r, v) + if(x > 0.02 m, 0*F_r, F_r/10))/m
  lasts: T
instruments:
  place: { kind: sampled, of: x, rate: 50 Hz }
reduction:
  each run:
    - readings: { of: place, gives: [t, x] }
    - peak: { of: x, gives: x_p }
results:
  x_p: { unit: m }
`;

/** A ball that bounces, with drag, and loses a little spin at each bounce. */
const BOUNCING = `
benchwright: 1
title: A ball that bounces
quantities:
  g: { value: 9.81 m/s^2 }
  h: { value: 1.3 m }
  e: { value: 0.8 }
  k: { value: 0.02 1/m }
  before_1: { value: 12 rad/s }
model:
  start: { x: h, v: 0 m/s, w: before_1 }
  rates: { x: v, v: -g - k*v*abs(v), w: -0*w*v/h }
  jumps:
    the ball meets the floor: { when: x < 0 m and v < 0 m/s, sets: { v: -e*v, w: w/2 + v/h/10 } }
  stops: { too late: x > 0.2 m and w < before_1/4 }
  lasts: sqrt(8*h/g)
instruments:
  place: { kind: sampled, of: x, rate: 50 Hz }
reduction:
  each run:
    - readings: { of: place, gives: [t, x] }
    - peak: { of: x, gives: x_p }
results:
  x_p: { unit: m }
`;

describe('the model as a program in Python', () => {
  for (const method of ['semi-implicit-euler', 'forward-euler'] as const)
    it.skipIf(!has('python3'))(`makes jumps where the classroom stepper does: ${method} (python3)`, () => {
      const pipeline = pipelineOf(BOUNCING);
      const found = printed(writeCode(sampleTree(), extrasOf(pipeline, method, 0.004)));
      const wanted = classroomEnd(pipeline, method, 0.004);
      expect(found).toHaveLength(wanted.length);
      for (const [index, value] of wanted.entries())
        expect(Math.abs((found[index] ?? Number.NaN) - value)).toBeLessThan(1e-9);
    });

  for (const [name, method] of [
    ['tow-chain', 'semi-implicit-euler'],
    ['falling-chain', 'forward-euler'],
    ['draped-chain', 'semi-implicit-euler'],
    ['long-swing', 'semi-implicit-euler'],
  ] as const)
    it.skipIf(!has('python3'))(`prints what the classroom stepper finds: ${name} (python3)`, () => {
      const pipeline = galleryLab(name);
      const found = printed(writeCode(sampleTree(), extrasOf(pipeline, method, 0.01)));
      const wanted = classroomEnd(pipeline, method, 0.01);
      expect(found).toHaveLength(wanted.length);
      for (const [index, value] of wanted.entries())
        expect(Math.abs((found[index] ?? Number.NaN) - value)).toBeLessThan(
          1e-12 * Math.max(1, Math.abs(value)),
        );
    });

  it.skipIf(!has('python3'))(
    'follows integrals, branches, a last step that is shorter, and names that Python keeps for itself (python3)',
    () => {
      const pipeline = pipelineOf(AWKWARD);
      for (const method of ['forward-euler', 'semi-implicit-euler'] as const) {
        const code = writeCode(sampleTree(), extrasOf(pipeline, method, 0.02));
        expect(code).toContain('lambda_ = 0.08');
        const found = printed(code);
        for (const [index, value] of classroomEnd(pipeline, method, 0.02).entries())
          expect(Math.abs((found[index] ?? Number.NaN) - value)).toBeLessThan(1e-9);
      }
    },
  );

  it.skipIf(!has('python3'))('keeps hostile text in comments (python3)', () => {
    const base = extrasOf(galleryLab('tow-chain'), 'semi-implicit-euler', 0.05);
    const { stepwise } = base;
    if (stepwise === null || !stepwise.ok) throw new Error('not described');
    const inputs = stepwise.value.inputs.map((input) => ({
      ...input,
      is: `${HOSTILE.python}\r\nimport os\u2028os.abort()`,
    }));
    const stops = stepwise.value.stops.map((stop) => ({ ...stop, name: `x\nraise SystemExit(3)` }));
    const code = writeCode(hostileTree(), {
      ...base,
      stepwise: { ...stepwise, value: { ...stepwise.value, inputs, stops } },
    });
    expect(printed(code)).toHaveLength(3);
  });

  it('carries the digest, and speaks German where asked', () => {
    const german_ = sampleTree(SAMPLE_BLOCKS, german);
    const code = writeCode(german_, extrasOf(galleryLab('tow-chain'), 'forward-euler', 0.01));
    expect(code).toContain(german_.provenance.digest);
    expect(code).toContain('# Die Zeit geht weiter.');
  });

  it('says why where there is nothing to step', () => {
    expect(writeCode(sampleTree(), { stepwise: null, trials: [], lines: [], stations: [] })).toContain(
      'There is no program',
    );
  });
});

describe('an expression as Python', () => {
  const CASES = [
    '-x^2 + 2^-y',
    'x - (y - 3)',
    'x/(y*3)/2',
    '(x + y)^3*sqrt(abs(x - y))',
    'if(x > 1 and not y < 2, x, y)*2',
    'atan2(y, x) + hypot(x, y) + cbrt(-x)',
    'min(x, y, 0.3) - max(x, 2*y) + sign(-y)*floor(x)',
    'x^y',
    'exp(-x)*ln(y) + log10(x) + sinh(x)*cosh(y)*tanh(x)',
    'integrate(s*x, s, 0, y)',
  ];
  it.skipIf(!has('python3'))('has the same value as our own reading of it (python3)', () => {
    const helpers = new Set<Parameters<typeof emitPython>[2] extends Set<infer H> ? H : never>();
    const texts = CASES.map((text) => emitPython(tree(text), (name) => name, helpers));
    const own = CASES.map((text) => interpret(tree(text), (name) => (name === 'x' ? 1.7 : 2.3)));
    const program = `import math\ndef sign(x):\n    return (x > 0) - (x < 0)\ndef cube_root(x):\n    return math.copysign(abs(x) ** (1 / 3), x)\ndef integral(f, a, b):\n    return sum(f(a + (k + 0.5) * (b - a) / 1000) for k in range(1000)) * (b - a) / 1000\nx, y = 1.7, 2.3\nfor v in (${texts.join(', ')}): print("=", v)`;
    const found = printed(program);
    for (const [index, value] of own.entries()) expect(found[index]).toBeCloseTo(value, 10);
  });
});
