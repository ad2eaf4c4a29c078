import { describe, expect, it } from 'vitest';
import { evolve } from '../../src/evolve/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from './model-from-texts.ts';

const chain: ModelTexts = {
  parameters: {
    L: [1.55, 'm'],
    lambda: [0.045, 'kg/m'],
    R: [0.025, 'm'],
    I: [0, 'kg m^2'],
    tau: [0, 'N m'],
    g: [9.81, 'm/s^2'],
    x_0: [1e-4, 'm'],
  },
  states: { x: ['x_0', 'v'], v: ['0 m/s', '(2*lambda*g*x - tau/R)/(lambda*L + I/R^2)'] },
  stops: { 'the end is near': 'x > 0.45*L' },
  holdsWhile: { 'the chain presses on the rim': 'lambda*g*(L^2 - 4*x^2)/(2*L) >= lambda*v^2' },
  signals: { slope: 'v/x' },
};

describe('a chain draped over a wheel', () => {
  const model = modelOf(chain);

  it('of 1.55 m on an ideal wheel gains 3.56 m/s per metre (common practice, no source)', () => {
    const motion = unwrap(evolve(model, valuesOf(chain)));
    const slope = motion.signalAt(0, motion.endS);
    expect(slope.toFixed(2)).toBe('3.56');
    expect(slope).toBeCloseTo(Math.sqrt((2 * 9.81) / 1.55), 6);
    expect(motion.stop).toBe('the end is near');
  });

  it('lifts off the ideal rim at L/(2√2) (tension meets λv²; derived for the published values)', () => {
    const L = 1.4;
    const motion = unwrap(evolve(model, valuesOf(chain, { L, x_0: 1e-7 })));
    const lift = motion.holds[0].failsAt;
    expect(lift?.state[0]).toBeCloseTo(0.4949747468305832, 9);
  });

  it('over a wheel with inertia and bearing torque moves as the closed form says', () => {
    // x = c + (x0 − c) cosh(kt), c = τ/(2Rλg), k² = 2λg/(λL + I/R²)
    const p = valuesOf({ ...chain, lasts: '1.1 s' }, { L: 1.3, I: 2.2e-6, tau: 0.00015, x_0: 0.02 });
    const timed = modelOf({ ...chain, stops: {}, lasts: '1.1 s' });
    const motion = unwrap(evolve(timed, p, { relativeTolerance: 1e-12 }));
    const state = new Float64Array(2);
    motion.stateAt(1.1, state);
    expect(Math.abs(state[0] / 0.4258358266768464 - 1)).toBeLessThan(1e-11);
    expect(Math.abs(state[1] / 1.5802641334534997 - 1)).toBeLessThan(1e-11);
    expect(motion.ended).toBe('in time');
    expect(motion.endS).toBe(1.1);
  });
});
