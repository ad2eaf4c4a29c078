import { describe, expect, it } from 'vitest';
import { type EvolutionOptions, evolve, type Motion } from '../../src/evolve/index.ts';
import published from '../published/mechanics-closed-forms.json' with { type: 'json' };
import { type ModelTexts, modelOf, unwrap, valuesOf } from './model-from-texts.ts';

// Values: ../published/mechanics-closed-forms.json (textbook results, computed with 30 digits).

const tight: EvolutionOptions = { relativeTolerance: 1e-12 };

function run(texts: ModelTexts, options: EvolutionOptions = tight): Motion {
  return unwrap(evolve(modelOf(texts), valuesOf(texts), options));
}

function stateAt(motion: Motion, t: number, n = 2): Float64Array {
  const out = new Float64Array(n);
  motion.stateAt(t, out);
  return out;
}

const { items } = published;

describe('motions with a closed form', () => {
  it('a pendulum of 60° is where the elliptic function says, and crosses zero first on time', () => {
    const { parameters: p, values } = items['pendulum-angle'];
    const texts: ModelTexts = {
      parameters: {
        g: [p.g, 'm/s^2'],
        l: [p.L, 'm'],
        start: [(p.theta0_deg * Math.PI) / 180, 'rad'],
      },
      states: { theta: ['start', 'omega'], omega: ['0 rad/s', '-g/l*sin(theta)'] },
      lasts: '10 s',
      holdsWhile: { 'before the first crossing': 'theta > 0' },
    };
    const motion = run(texts);
    values.t_s.forEach((t, i) => {
      expect(stateAt(motion, t)[0]).toBeCloseTo(values.theta_rad[i], 10);
    });
    expect(motion.holds[0].failsAt?.t).toBeCloseTo(values.firstZeroCrossing_s, 11);
  });

  it('a fall with quadratic drag has the tabulated places and speeds, and takes the tabulated time', () => {
    const { parameters: p, values } = items['fall-quadratic-drag'];
    const texts: ModelTexts = {
      parameters: { m: [p.m, 'kg'], c: [p.c, 'kg/m'], g: [p.g, 'm/s^2'], h: [p.h, 'm'] },
      states: { x: ['0 m', 'v'], v: ['0 m/s', 'g - c/m*v*abs(v)'] },
      lasts: '2 s',
    };
    const motion = run(texts);
    values.t_s.forEach((t, i) => {
      expect(stateAt(motion, t)[0]).toBeCloseTo(values.x[i], 11);
      expect(stateAt(motion, t)[1]).toBeCloseTo(values.v[i], 11);
    });
    const { lasts: _, ...open } = texts;
    const landing = run({ ...open, stops: { lands: 'x >= h' } });
    expect(landing.endS).toBeCloseTo(values.timeToFall_h, 11);
    expect(landing.breaks).toHaveLength(0);
  });

  it('a chain slides off a table as cosh, with and without friction', () => {
    const { parameters: p, values } = items['chain-off-table'];
    const texts: ModelTexts = {
      parameters: { L: [p.L, 'm'], x_0: [p.x0, 'm'], g: [p.g, 'm/s^2'], mu: [0, '1'] },
      states: { x: ['x_0', 'v'], v: ['0 m/s', 'g/L*(x - mu*(L - x))'] },
      stops: { leaves: 'x > L' },
    };
    const motion = run(texts);
    values.t_s.forEach((t, i) => {
      expect(stateAt(motion, t)[0]).toBeCloseTo(values.x[i], 11);
      expect(stateAt(motion, t)[1]).toBeCloseTo(values.v[i], 11);
    });
    expect(motion.endS).toBeCloseTo(values.tLeave, 11);
    const rough = items['chain-off-table-friction'];
    const withFriction = unwrap(
      evolve(modelOf(texts), valuesOf(texts, { x_0: rough.parameters.x0, mu: rough.parameters.mu }), tight),
    );
    expect(withFriction.endS).toBeCloseTo(rough.values.tLeave, 11);
    expect(stateAt(withFriction, withFriction.endS)[1]).toBeCloseTo(rough.values.vLeave, 11);
  });

  it('a chain let fall on a scale peaks at 3.00 times its weight just before the last link lands', () => {
    const { parameters: p, values } = items['chain-on-scale'];
    const texts: ModelTexts = {
      parameters: { L: [p.L, 'm'], lambda: [p.lambda_kg_per_m, 'kg/m'], g: [p.g, 'm/s^2'] },
      helpers: { landed: 'min(y, L)' },
      states: { y: ['0 m', 'v'], v: ['0 m/s', 'g'] },
      lasts: '0.6 s',
      signals: { force: 'lambda*g*landed + if(y < L, lambda*v^2, 0)' },
    };
    const motion = run(texts);
    for (const row of values.table.slice(0, -1)) {
      expect(motion.signalAt(0, row.t)).toBeCloseTo(row.force, 10);
    }
    expect(motion.breaks).toHaveLength(1);
    expect(motion.breaks[0]).toBeCloseTo(values.fallTime, 12);
    expect(motion.signalBefore(0, motion.breaks[0])).toBeCloseTo(values.peak, 9);
    expect(motion.signalAt(0, motion.breaks[0])).toBeCloseTo(values.afterwards, 9);
    expect((motion.signalBefore(0, motion.breaks[0]) / values.weight_N).toFixed(2)).toBe('3.00');
  });

  it.each(items['oscillator-linear-damping'].values.cases)(
    'an oscillator with damping ratio $zeta is where the closed form says',
    ({ c, t_s, x, v }) => {
      const { m, k, x0 } = items['oscillator-linear-damping'].parameters;
      const motion = run({
        parameters: { m: [m, 'kg'], k: [k, 'N/m'], c: [c, 'kg/s'], x_0: [x0, 'm'] },
        states: { x: ['x_0', 'v'], v: ['0 m/s', '-(k*x + c*v)/m'] },
        lasts: '2 s',
      });
      t_s.forEach((t, i) => {
        expect(stateAt(motion, t)[0]).toBeCloseTo(x[i], 11);
        expect(stateAt(motion, t)[1]).toBeCloseTo(v[i], 10);
      });
    },
  );

  it('an oscillator with quadratic damping turns at the tabulated amplitudes', () => {
    const { parameters: p, values } = items['oscillator-quadratic-damping'];
    const texts: ModelTexts = {
      parameters: { m: [p.m, 'kg'], k: [p.k, 'N/m'], b: [p.b, 'kg/m'], x_0: [p.x0, 'm'] },
      states: { x: ['x_0', 'v'], v: ['0 m/s', '-(k*x + b*v*abs(v))/m'] },
      lasts: '3 s',
    };
    const motion = run(texts);
    values.magnitudesOfTurningPoints.slice(1).forEach((size, i) => {
      expect(Math.abs(stateAt(motion, motion.breaks[i])[0])).toBeCloseTo(size, 11);
    });
  });

  it('a circuit of coil, capacitor and resistor rings as the closed form says, in microseconds', () => {
    const { parameters: p, values } = items.rlc;
    const motion = run({
      parameters: { R: [p.R, 'Ω'], L: [p.L, 'H'], C: [p.C, 'F'], V_0: [p.V0, 'V'] },
      states: { q: ['C*V_0', 'i'], i: ['0 A', '-(q/C + R*i)/L'] },
      lasts: '10 ms',
      signals: { V: 'q/C' },
    });
    values.t_s.forEach((t, i) => {
      expect(motion.signalAt(0, t)).toBeCloseTo(values.V[i], 9);
    });
  });

  it('a tank drains as Torricelli says, down to its last drop', () => {
    const { parameters: p, values } = items['draining-tank'];
    const texts: ModelTexts = {
      parameters: {
        A: [p.A, 'm^2'],
        a: [p.a, 'm^2'],
        h_0: [p.h0, 'm'],
        C_d: [p.Cd, '1'],
        g: [p.g, 'm/s^2'],
      },
      states: { h: ['h_0', '-C_d*a/A*sqrt(2*g*h)'] },
      stops: { empty: 'h <= 0 m' },
    };
    const motion = run(texts);
    values.t_s.forEach((t, i) => {
      expect(stateAt(motion, t, 1)[0]).toBeCloseTo(values.h[i], 11);
    });
    expect(motion.stop).toBe('empty');
    // The rate ends at the stop itself: the last millionth of a second is the sixth root of nothing.
    expect(Math.abs(motion.endS / values.tEmpty - 1)).toBeLessThan(1e-8);
  });

  it('cooling follows the exponential and the 5/4 power', () => {
    const { parameters: p, values } = items.cooling;
    const motion = run({
      parameters: { D_0: [p.T0 - p.Ta, 'K'], k: [p.k_per_s, '1/s'], k_2: [p.k2, '1/s'], one: [1, 'K'] },
      states: { D: ['D_0', '-k*D'], E: ['D_0', '-k_2*E*(E/one)^0.25'] },
      lasts: '1 h',
    });
    values.t_s.forEach((t, i) => {
      expect(stateAt(motion, t)[0] + p.Ta).toBeCloseTo(values.newton[i], 9);
      expect(stateAt(motion, t)[1] + p.Ta).toBeCloseTo(values.fiveQuarter[i], 9);
    });
  });

  it('a cart drawn by a chain that lands has the tabulated speeds and times', () => {
    const { parameters: p, values } = items['cart-hanging-chain-floor'];
    const texts: ModelTexts = {
      parameters: {
        M: [p.M, 'kg'],
        lambda: [p.lambda_kg_per_m, 'kg/m'],
        h: [p.h, 'm'],
        g: [p.g, 'm/s^2'],
        goal: [0, 'm'],
      },
      states: { x: ['0 m', 'v'], v: ['0 m/s', 'g*lambda*(h - x)/(M + lambda*(h - x))'] },
      stops: { there: 'x >= goal' },
      signals: { v: 'v', a: "x''" },
    };
    const model = modelOf(texts);
    values.x.forEach((goal, i) => {
      const motion = unwrap(evolve(model, valuesOf(texts, { goal }), tight));
      expect(motion.endS).toBeCloseTo(values.t_s[i], 11);
      expect(motion.signalAt(0, motion.endS)).toBeCloseTo(values.v[i], 11);
      expect(motion.signalAt(1, motion.endS)).toBeCloseTo(values.a[i], 10);
    });
  });

  it('a throw with quadratic drag lands at the tabulated time, place and velocity', () => {
    const { parameters: p, values } = items.projectile;
    const alpha = (p.angle_deg * Math.PI) / 180;
    const texts: ModelTexts = {
      parameters: {
        g: [p.g, 'm/s^2'],
        k: [p.k_per_m, '1/m'],
        y_0: [p.y0, 'm'],
        u_0: [p.v0 * Math.cos(alpha), 'm/s'],
        w_0: [p.v0 * Math.sin(alpha), 'm/s'],
      },
      helpers: { speed: 'hypot(u, w)' },
      states: { x: ['0 m', 'u'], y: ['y_0', 'w'], u: ['u_0', '-k*speed*u'], w: ['w_0', '-g - k*speed*w'] },
      stops: { lands: 'y < 0 m' },
      holdsWhile: { rising: 'w > 0 m/s' },
    };
    const motion = run(texts);
    const end = stateAt(motion, motion.endS, 4);
    const { quadraticDrag } = values;
    expect(motion.endS).toBeCloseTo(quadraticDrag.time, 11);
    expect(end[0]).toBeCloseTo(quadraticDrag.range, 11);
    expect(end[2]).toBeCloseTo(quadraticDrag.impactVx, 11);
    expect(end[3]).toBeCloseTo(quadraticDrag.impactVy, 11);
    expect(motion.holds[0].failsAt?.t).toBeCloseTo(quadraticDrag.tApex, 11);
    expect(motion.holds[0].failsAt?.state[1]).toBeCloseTo(quadraticDrag.apex, 11);
  });
});
