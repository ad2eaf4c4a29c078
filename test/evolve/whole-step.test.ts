import { describe, expect, it } from 'vitest';
import { createEvolver } from '../../src/evolve/index.ts';
import { type ModelTexts, modelOf, unwrap, valuesOf } from './model-from-texts.ts';

const models: Readonly<Record<string, ModelTexts>> = {
  'a pendulum in air': {
    parameters: { l: [0.9, 'm'], g: [9.81, 'm/s^2'], c: [0.05, '1/s'], a: [2.5, ''] },
    states: { theta: ['a', 'omega'], omega: ['0 rad/s', '-g/l*sin(theta) - c*omega*abs(sin(theta))'] },
    lasts: '12 s',
    signals: { angle: 'theta' },
  },
  'a driven mass with dry friction': {
    parameters: { m: [0.3, 'kg'], k: [20, 'N/m'], F: [0.2, 'N'], a: [0.2, 'm'], w: [3, 'rad/s'] },
    states: { x: ['a', 'v'], v: ['0 m/s', '(-k*x - dry(F, v) + 2*F*cos(w*t))/m'] },
    lasts: '6 s',
    signals: { place: 'x' },
  },
};

describe('a step taken whole', () => {
  it.each(Object.entries(models))('has the same bits as stage by stage: %s', (_, texts) => {
    const evolver = createEvolver(modelOf(texts));
    const digest = (): readonly number[] => {
      const motion = unwrap(evolver.run(valuesOf(texts)));
      const times = Array.from({ length: 101 }, (__, k) => (motion.endS * k) / 100);
      return [motion.endS, motion.steps.accepted, motion.steps.evaluations].concat(
        times.map((t) => motion.signalAt(0, t)),
      );
    };
    const first = digest();
    // The first steps of a model are taken stage by stage, those of many runs whole.
    for (let run = 0; run < 40; run++) digest();
    expect(digest()).toEqual(first);
  });
});
