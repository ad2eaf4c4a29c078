import { describe, expect, it } from 'vitest';
import { makeTable, parseExpression, type Table } from '../../src/expression/index.ts';
import { buildModel, type Model, type ModelSource } from '../../src/model/index.ts';
import { formatProblem, type Origin, type Outcome } from '../../src/problem/index.ts';
import { formatDimension } from '../../src/quantity/index.ts';
import {
  dimension,
  type ModelTexts,
  modelOf,
  problemsOf,
  sourceOf,
  unwrap,
} from '../evolve/model-from-texts.ts';

const trolley: ModelTexts = {
  parameters: {
    g: [9.81, 'm/s^2'],
    L: [1.2, 'm'],
    m_c: [0.0964, 'kg'],
    m_t: [0.2513, 'kg'],
    R: [0.0251, 'm'],
    I: [1.9e-6, 'kg m^2'],
    F_r: [0.014, 'N'],
    x_0: [0.15, 'm'],
  },
  helpers: { lambda: 'm_c/L', moving: 'm_t + m_c + I/R^2' },
  states: { x: ['x_0', 'v'], v: ['0 m/s', '(lambda*g*x - dry(F_r, v))/moving'] },
  stops: { 'the chain lands': 'x > 0.95*L' },
  holdsWhile: { 'the chain is taut': 'v >= 0 m/s' },
  signals: { angle: 'x/R', pull: "moving*x''" },
};

function changed(change: Partial<ModelTexts>): string[] {
  return problemsOf(buildModel(sourceOf({ ...trolley, ...change })));
}

describe('a model', () => {
  const model = modelOf(trolley);

  it('knows its names and the dimensions of states and signals', () => {
    expect(model.stateNames).toEqual(['x', 'v']);
    expect(model.parameterNames).toHaveLength(8);
    expect(model.signalNames).toEqual(['angle', 'pull']);
    expect(formatDimension(model.dimensionOfState('v'))).toBe('m/s');
    expect(formatDimension(model.dimensionOfSignal('pull'))).toBe('kg·m/s²');
    expect(() => model.dimensionOfState('y')).toThrow('The model has no state "y".');
    expect(() => model.dimensionOfSignal('y')).toThrow('The model has no signal "y".');
  });

  it('keeps one switch for all uses of one switching function, whichever way round it is written', () => {
    const { program } = modelOf({
      ...trolley,
      states: {
        x: ['x_0', 'v*if(x > L, 1, 1)'],
        v: ['0 m/s', 'g*(sign(x - L) + if(L < x, 1, 2) + if(x <= L, 0, 1) + abs(x - L)/L + max(x, L)/L)'],
      },
      stops: { end: 'x > 2*L' },
      holdsWhile: { short: 'L >= x' },
      signals: { side: 'sign(L - x)' },
    });
    expect(program.switches).toHaveLength(2);
    expect(program.switches[0]).toMatchObject({ steersRates: true, steersSignals: true });
    expect(program.switches[1]).toMatchObject({ steersRates: false, steersSignals: false });
  });

  it('lets the switch of a velocity go with the dry friction on it', () => {
    const { program } = model;
    expect(program.frictions).toHaveLength(1);
    expect(program.frictions[0].velocityState).toBe(1);
    expect(program.frictions[0].limits.map(({ text }) => text)).toEqual(['dry(F_r, v)']);
    const taut = program.switches.findIndex(({ text }) => text === 'v >= 0 m/s');
    expect(program.switches[taut]).toMatchObject({ friction: 0, frictionSign: 1, steersRates: false });
  });

  it('takes out no switch of what quantities alone decide', () => {
    const { program } = modelOf({
      ...trolley,
      states: {
        x: ['x_0', 'v'],
        v: ['0 m/s', 'g*max(m_c/m_t, 0.1) + if(L > R, g, 0)*x/L + abs(m_c - m_t)/m_t*g'],
      },
      holdsWhile: {},
      signals: {},
    });
    expect(program.switches.map(({ text }) => text)).toEqual(['x > 0.95*L']);
  });

  it('works out once a motion what quantities alone decide', () => {
    const { program } = model;
    const inputs = new Float64Array(program.inputs.length);
    const values = [9.81, 1.2, 0.0964, 0.2513, 0.0251, 1.9e-6, 0.014, 0.15];
    inputs.set(values, program.inputs.parameters);
    const constants = new Float64Array(program.constantCount);
    program.constants?.(inputs, constants);
    const moving = 0.2513 + 0.0964 + 1.9e-6 / 0.0251 ** 2;
    expect([...constants].some((value) => Math.abs(value * moving - 1) < 1e-15)).toBe(true);
    expect([...constants].some((value) => Math.abs(value / ((0.0964 / 1.2) * 9.81) - 1) < 1e-15)).toBe(true);
  });

  it('says whether it looks at the time', () => {
    expect(model.program.autonomous).toBe(true);
    const driven = modelOf({
      ...trolley,
      states: { x: ['x_0', 'v*cos(t*v/L)'], v: ['0 m/s', 'g'] },
      signals: {},
    });
    expect(driven.program.autonomous).toBe(false);
    const timed = modelOf({ ...trolley, stops: { late: 't > 5 s' } });
    expect(timed.program.autonomous).toBe(false);
    expect([model, driven, timed].map(({ program }) => program.isDriven)).toEqual([false, true, false]);
  });

  it('finds the places among its states: x of a motion, the charge of a circuit, but not the speed of an oscillator', () => {
    expect(model.program.placeStates).toEqual([true, false]);
    const oscillator = modelOf({
      parameters: { w: [1, 'rad/s'] },
      states: { v: ['0 m/s', '-w^2*x'], x: ['1 m', 'v'] },
      lasts: '1 s',
    });
    expect(oscillator.program.placeStates).toEqual([false, true]);
    const cooling = modelOf({ parameters: { k: [1, '1/s'] }, states: { T: ['80', '-k*T'] }, lasts: '1 s' });
    expect(cooling.program.placeStates).toEqual([false]);
  });

  it('has the exact Jacobian (pendulum, by hand)', () => {
    const { program } = modelOf({
      parameters: { k: [9, '1/s^2'], c: [0.5, '1/s'] },
      states: { a: ['1 rad', 'b'], b: ['0 rad/s', '-k*sin(a) - c*b'] },
      lasts: '1 s',
    });
    const inputs = new Float64Array(program.inputs.length);
    inputs.set([0.7, 0.2], program.inputs.states);
    inputs.set([9, 0.5], program.inputs.parameters);
    const constants = new Float64Array(program.constantCount);
    program.constants?.(inputs, constants);
    inputs.set(constants, program.inputs.constants);
    const jacobian = new Float64Array(4);
    program.jacobian()?.(inputs, jacobian);
    [0, 1, -9 * Math.cos(0.7), -0.5].forEach((value, i) => {
      expect(jacobian[i]).toBeCloseTo(value, 14);
    });
  });

  it('may use tables, integrals, derivatives, and helpers of quantities in a start', () => {
    const points = pushTable();
    const built = buildModel({
      ...sourceOf({
        ...trolley,
        helpers: {
          ...trolley.helpers,
          half: 'x_0/2',
          pushed: 'interpolate(push, x)',
          work: 'integrate(g*s/L, s, x_0, x)',
        },
        states: { x: ['half', 'v'], v: ['0 m/s', 'pushed/m_t + d(work, x)'] },
      }),
      tables: new Map([['push', points]]),
    });
    expect(built.ok ? [] : built.problems.map(formatProblem)).toEqual([]);
  });
});

function pushTable(): Table {
  return unwrap(makeTable({ x: [0, 1, 3], y: [1, 2, 2.5] }, { x: dimension('m'), y: dimension('N') }));
}

describe('what is wrong with a model', () => {
  it('a rate of the wrong dimension is told with both dimensions', () => {
    const [found, ...rest] = changed({
      states: { x: ['x_0', 'v'], v: ['0 m/s', 'lambda*g*x - dry(F_r, v)'] },
      signals: {},
    });
    expect(rest).toEqual([]);
    expect(found).toMatch(
      /force \(kg·m\/s²\); the rate of v must have the dimension of acceleration \(m\/s²\)/,
    );
  });

  it('two problems give two messages, and a helper with a problem is told of once', () => {
    const found = changed({
      helpers: { lambda: 'm_c/L + 1', moving: 'm_t + m_c' },
      states: { x: ['x_0', 'v'], v: ['0 m/s', 'lambda*g*x/moving'] },
      stops: { end: 'x > 3 s' },
      signals: { bad: 'q' },
    });
    expect(found).toHaveLength(3);
    expect(found[1]).toContain('"q" is not a symbol here');
  });

  it('a state that starts at a bare 0 is advised to take its unit', () => {
    const [found] = changed({ states: { x: ['x_0', 'v'], v: ['0', 'g'] }, signals: {} });
    expect(found).toContain('v starts at a bare 0 and so counts as dimensionless');
  });

  it('helpers in a circle are told with the way round', () => {
    expect(changed({ helpers: { lambda: 'm_c/moving*m_t/L', moving: 'L*lambda' } })).toEqual([
      'where, lambda  The helpers are defined in a circle: "lambda" needs "moving" needs "lambda". One of them must end at quantities, states and the time.',
    ]);
    expect(changed({ helpers: { lambda: 'lambda', moving: 'm_t' } })[0]).toContain(
      '"lambda" is defined by itself',
    );
  });

  it('a model without a stop or a time never stops', () => {
    expect(changed({ stops: {} })[0]).toContain('The model never stops');
  });

  it('a name for two things is told', () => {
    expect(changed({ helpers: { ...trolley.helpers, x: 'L' } })[0]).toContain(
      '"x" is a helper here and a state too',
    );
    expect(
      problemsOf(
        buildModel(sourceOf({ parameters: { L: [1, 'm'] }, states: { t: ['L', 'L/t*t'] }, lasts: '1 s' })),
      )[0],
    ).toContain('"t" is a state here and the time too');
  });

  it('a start may not use states, nor a model last a length', () => {
    expect(changed({ states: { x: ['x_0', 'v'], v: ['x/t', 'g'] } })[0]).toContain('is not a symbol here');
    expect(changed({ lasts: 'L' })[0]).toContain(
      'the time that the model lasts must have the dimension of time',
    );
  });

  it('a prime in a rate is told', () => {
    expect(changed({ states: { x: ['x_0', 'v'], v: ['0 m/s', "g - x'*x'/L"] } })[0]).toContain("x'");
  });

  it('the rate of a friction is not to be had while it sticks', () => {
    expect(changed({ signals: { jerk: "x'''" } })).toEqual([
      "the signal of jerk  x''' asks how fast a dry friction changes, which is not known while it sticks; ask for x'' at most.",
    ]);
  });

  it('a friction must stand in a rate, have a velocity that moves, and enter as a sum', () => {
    expect(changed({ signals: { other: 'dry(F_r, 2*v)' } })[0]).toContain('dry(F_r, 2*v) stands in no rate');
    const rate = (text: string): string =>
      changed({ states: { x: ['x_0', 'v'], v: ['0 m/s', text] }, signals: {} })[0];
    expect(rate('g - dry(F_r, L)/m_t')).toContain('must be the velocity that the friction works against');
    expect(rate('g - dry(F_r, v)^2/(F_r*m_t)')).toContain('a friction force must enter as a sum');
    expect(rate('g - dry(dry(F_r, v), v)/m_t')).toContain('depends on a dry friction');
  });

  it('problems stand where the text stands', () => {
    const origin: Origin = { placeAt: (offset) => ({ file: 'lab.yaml', line: 31, column: 12 + offset }) };
    const parsed = parseExpression('g*m_t', origin);
    if (!parsed.ok) throw new Error('The rate does not parse.');
    const source = sourceOf(trolley);
    const moved: ModelSource = {
      ...source,
      states: source.states.map((state) => (state.name === 'v' ? { ...state, rate: parsed.value } : state)),
    };
    const outcome: Outcome<Model> = buildModel(moved);
    expect(problemsOf(outcome)[0]).toMatch(/^lab\.yaml:31:12 /);
  });

  it('helpers that grow beyond measure are told of, not built', () => {
    const helpers: Record<string, string> = { a0: 'sin(x/L)*cos(v*v/(g*L))' };
    for (let i = 1; i < 40; i++) helpers[`a${i}`] = `sin(a${i - 1})*exp(a${i - 1}*a${i - 1}) + a${i - 1}^2`;
    const outcome = buildModel(
      sourceOf({
        ...trolley,
        helpers,
        states: { x: ['x_0', 'v'], v: ['0 m/s', 'g*a39'] },
        signals: { wild: "x''''" },
      }),
    );
    if (!outcome.ok) expect(outcome.problems[0].code).toBe('expression-too-large');
  });
});
