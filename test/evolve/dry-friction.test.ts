import { describe, expect, it } from 'vitest';
import { evolve, type Motion } from '../../src/evolve/index.ts';
import published from '../published/mechanics-closed-forms.json' with { type: 'json' };
import { type ModelTexts, modelOf, problemsOf, unwrap, valuesOf } from './model-from-texts.ts';

const tight = { relativeTolerance: 1e-12 };

function stateAt(motion: Motion, t: number, n = 2): Float64Array {
  const out = new Float64Array(n);
  motion.stateAt(t, out);
  return out;
}

const block: ModelTexts = {
  parameters: {
    k: [10, 'N/m'],
    m: [0.25, 'kg'],
    F: [0.073549875, 'N'],
    x_0: [0.05, 'm'],
    v_0: [0, 'm/s'],
    c: [0, 'kg/m'],
  },
  states: { x: ['x_0', 'v'], v: ['v_0', '(-k*x - dry(F, v) - c*v*abs(v))/m'] },
  lasts: '5 s',
  signals: { friction: 'dry(F, v)', acceleration: "x''" },
};

describe('a block on a spring with dry friction', () => {
  const { parameters: p, values } = published.items['oscillator-coulomb'];
  const model = modelOf(block);
  const F = p.mu * p.m * p.g;
  const start = valuesOf(block, { k: p.k, m: p.m, F, x_0: p.x0 });
  const motion = unwrap(evolve(model, start, tight));

  it('loses 2F/k of its amplitude in each half swing, which lasts as long as without friction', () => {
    expect(motion.breaks).toHaveLength(values.halfCyclesBeforeStop);
    values.turningPoints.slice(1).forEach((place, i) => {
      expect(motion.breaks[i]).toBeCloseTo((i + 1) * values.halfPeriod, 10);
      expect(stateAt(motion, motion.breaks[i])[0]).toBeCloseTo(place, 11);
    });
    expect(values.dropPerHalfCycle).toBeCloseTo((2 * F) / p.k, 12);
  });

  it('stays where it stops, held by less than the limit', () => {
    expect(motion.breaks.at(-1)).toBeCloseTo(values.stopTime, 10);
    for (const t of [1.5, 3, 5]) {
      const [x, v] = stateAt(motion, t);
      expect(x).toBeCloseTo(values.restPosition, 11);
      expect(v).toBe(0);
      expect(motion.signalAt(0, t)).toBeCloseTo(-p.k * values.restPosition, 10);
      expect(motion.signalAt(1, t)).toBeCloseTo(0, 12);
    }
  });

  it('has the friction against the motion on both sides of a turn', () => {
    expect(motion.signalBefore(0, motion.breaks[0])).toBeCloseTo(-F, 12);
    expect(motion.signalAt(0, motion.breaks[0])).toBeCloseTo(F, 12);
    expect(motion.signalAt(0, 0.1)).toBeCloseTo(-F, 12);
  });

  it('turns and stops alike where a drag with abs(v) shares its velocity', () => {
    const damped = unwrap(evolve(model, valuesOf(block, { c: 1e-9 }), tight));
    expect(damped.breaks).toHaveLength(3);
    expect(stateAt(damped, 5)[0]).toBeCloseTo(values.restPosition, 8);
  });

  it('without friction swings as if none were written', () => {
    const plain = { ...block, states: { ...block.states, v: ['v_0', '(-k*x - dry(F, v))/m'] as const } };
    const free = unwrap(evolve(modelOf(plain), valuesOf(plain, { F: 0 }), tight));
    expect(free.breaks).toHaveLength(0);
    expect(stateAt(free, 5)[0]).toBeCloseTo(0.05 * Math.cos(5 * Math.sqrt(40)), 10);
  });

  it('two frictions on one velocity act as one of their sum, and share what they hold by their limits', () => {
    const texts: ModelTexts = {
      ...block,
      parameters: { ...block.parameters, G: [0, 'N'] },
      states: { x: ['x_0', 'v'], v: ['v_0', '(-k*x - dry(F, v) + dry(G, -v))/m'] },
      signals: { first: 'dry(F, v)', second: 'dry(G, v)' },
    };
    const shared = unwrap(
      evolve(modelOf(texts), valuesOf(texts, { k: p.k, m: p.m, F: 0.25 * F, G: 0.75 * F, x_0: p.x0 }), tight),
    );
    expect(shared.breaks).toHaveLength(3);
    expect(stateAt(shared, 5)[0]).toBeCloseTo(values.restPosition, 11);
    expect(shared.signalAt(0, 5)).toBeCloseTo(-0.25 * p.k * values.restPosition, 11);
    expect(shared.signalAt(1, 5)).toBeCloseTo(-0.75 * p.k * values.restPosition, 11);
  });

  it('ends at rest where only a stop that cannot come would end it, and says so', () => {
    const { lasts: _, ...open } = block;
    const texts = { ...open, stops: { 'far away': 'x > 1 m' } };
    const outcome = evolve(modelOf(texts), start, tight);
    const ended = unwrap(outcome);
    expect(ended.ended).toBe('at rest');
    expect(ended.stop).toBeNull();
    expect(ended.endS).toBeCloseTo(values.stopTime, 10);
    expect(outcome.ok && outcome.warnings.map(({ code }) => code)).toEqual(['comes-to-rest']);
    expect(problemsOf(evolve(modelOf(texts), valuesOf(texts, { x_0: 0.007 })))).toEqual([
      'motion  Nothing moves at the start (t = 0 s, x = 0.007 m, v = 0 m/s) and nothing can ever change, so the stop "far away" cannot come. Start away from balance, or with less friction, or say with "lasts" how long the model runs.',
    ]);
  });

  it('comes to rest at a stop that asks for it', () => {
    const { lasts: _, ...open } = block;
    const texts = { ...open, stops: { turns: 'v >= 0 m/s' } };
    const motionToTurn = unwrap(evolve(modelOf(texts), start, tight));
    expect(motionToTurn.stop).toBe('turns');
    expect(motionToTurn.endS).toBeCloseTo(values.halfPeriod, 11);
  });
});

describe('dry friction on other bodies', () => {
  it('a block sent up an incline slides back at the tabulated speed, or stays where it is steep enough to', () => {
    const { parameters: p, values } = published.items['incline-friction'];
    const texts: ModelTexts = {
      parameters: {
        g: [p.g, 'm/s^2'],
        mu: [p.mu, '1'],
        alpha: [(p.alpha_deg * Math.PI) / 180, 'rad'],
        v_0: [p.v0, 'm/s'],
      },
      states: { s: ['0 m', 'v'], v: ['v_0', '-g*sin(alpha) - dry(mu*g*cos(alpha), v)'] },
      stops: { back: 's < 0 m' },
    };
    const model = modelOf(texts);
    const motion = unwrap(evolve(model, valuesOf(texts), tight));
    expect(motion.breaks[0]).toBeCloseTo(values.tUp, 11);
    expect(stateAt(motion, values.tUp)[0]).toBeCloseTo(values.distance, 11);
    expect(motion.endS).toBeCloseTo(values.tUp + values.tDown, 10);
    expect(stateAt(motion, motion.endS)[1]).toBeCloseTo(-values.vBack, 10);
    const slideAngle = Math.atan(p.mu);
    expect((slideAngle * 180) / Math.PI).toBeCloseTo(values.slideAngle_deg, 10);
    const stays = unwrap(evolve(model, valuesOf(texts, { alpha: slideAngle - 1e-6 }), tight));
    expect(stays.ended).toBe('at rest');
    const slides = unwrap(evolve(model, valuesOf(texts, { alpha: slideAngle + 1e-6 }), tight));
    expect(slides.stop).toBe('back');
  });

  it('a driven block lets go when the drive exceeds the limit (closed form: integrate A sin ωt − F)', () => {
    const texts: ModelTexts = {
      parameters: { m: [1, 'kg'], A: [2, 'N'], w: [3, 'rad/s'], F: [1, 'N'] },
      states: { x: ['0 m', 'v'], v: ['0 m/s', '(A*sin(w*t) - dry(F, v))/m'] },
      lasts: '1 s',
      signals: { friction: 'dry(F, v)' },
    };
    const motion = unwrap(evolve(modelOf(texts), valuesOf(texts), tight));
    const go = Math.asin(0.5) / 3;
    expect(motion.breaks[0]).toBeCloseTo(go, 12);
    expect(motion.signalAt(0, 0.1)).toBeCloseTo(2 * Math.sin(0.3), 12);
    const v = (2 / 3) * (Math.cos(3 * go) - Math.cos(3)) - (1 - go);
    expect(stateAt(motion, 1)[1]).toBeCloseTo(v, 11);
  });

  it('a long rest does not hide a pull above the limit that lasts a fiftieth of the time', () => {
    const texts: ModelTexts = {
      parameters: { m: [1, 'kg'], F: [1, 'N'], peak: [50, 's'], width: [1, 's'] },
      states: { x: ['0 m', 'v'], v: ['0 m/s', '(F*(0.5 + exp(-((t - peak)/width)^2)) - dry(F, v))/m'] },
      lasts: '100 s',
    };
    const motion = unwrap(evolve(modelOf(texts), valuesOf(texts)));
    expect(motion.breaks).toHaveLength(2);
    // exp(−s²) = 1/2 at s = √(ln 2): it lets go there
    expect(motion.breaks[0]).toBeCloseTo(50 - Math.sqrt(Math.log(2)), 9);
  });

  it('two blocks, one on the other, stick together until the lower is pulled too hard (Newton)', () => {
    const texts: ModelTexts = {
      parameters: { a: [1, 'kg'], b: [2, 'kg'], F: [3, 'N'], rise: [2, 'N/s'], G: [1, 'N'] },
      states: {
        x: ['0 m', 'v'],
        v: ['0 m/s', 'dry(F, v - w)*(-1)/a'],
        y: ['0 m', 'w'],
        w: ['0 m/s', '(rise*t + dry(F, v - w) - dry(G, w))/b'],
      },
      lasts: '8 s',
      signals: { between: 'dry(F, v - w)', ground: 'dry(G, w)' },
    };
    const motion = unwrap(evolve(modelOf(texts), valuesOf(texts), tight));
    // Nothing moves till rise·t = G; together a = (rise·t − G)/(a+b); the upper slips when a·that exceeds F: t = 5 s.
    expect(motion.breaks[0]).toBeCloseTo(0.5, 11);
    expect(motion.breaks[1]).toBeCloseTo(5, 9);
    const t = 3;
    const state = stateAt(motion, t, 4);
    expect(state[1]).toBeCloseTo((t - 0.5) ** 2 / 3, 11);
    expect(state[3]).toBeCloseTo(state[1], 11);
    expect(motion.signalAt(0, t)).toBeCloseTo(-(2 * t - 1) / 3, 11);
    expect(motion.signalAt(0, 6)).toBeCloseTo(-3, 12);
    expect(motion.signalAt(1, 6)).toBeCloseTo(1, 12);
  });

  it('a block on a moving belt sticks to the belt, is pulled off by its spring, and repeats', () => {
    const texts: ModelTexts = {
      parameters: { k: [10, 'N/m'], m: [1, 'kg'], u: [0.1, 'm/s'], F: [2, 'N'], less: [0.8, '1'] },
      states: { x: ['0 m', 'v'], v: ['u', '(-k*x - dry(F, v - u))/m'] },
      lasts: '12 s',
      signals: { slip: 'v - u', friction: 'dry(F, v - u)' },
    };
    const motion = unwrap(evolve(modelOf(texts), valuesOf(texts), tight));
    // It is carried along at u until the spring pulls with F, at x = F/k = 0.2 m.
    expect(motion.breaks[0]).toBeCloseTo(2, 10);
    expect(motion.signalAt(0, 1)).toBeCloseTo(0, 13);
    expect(motion.signalAt(1, 1)).toBeCloseTo(-1, 10);
    // With one limit for rest and slip it then swings about F/k with amplitude u/ω, touching the belt's speed
    // only at its fastest: v = u cos ω(t − 2 s) (from the equation of motion).
    expect(stateAt(motion, 2.5)[1]).toBeCloseTo(0.1 * Math.cos(Math.sqrt(10) * 0.5), 9);
  });
});

describe('what is told of frictions that cannot be', () => {
  const broken = (rate: string, more: Partial<ModelTexts> = {}): string[] => {
    const texts: ModelTexts = {
      ...block,
      states: { x: ['x_0', 'v'], v: ['0.1 m/s', rate] },
      signals: {},
      ...more,
    };
    return problemsOf(evolve(modelOf(texts), valuesOf(texts)));
  };

  it('a limit times sign(velocity) chatters at the turn where it should stick, and dry is advised', () => {
    const [found] = broken('(-k*x - F*sign(v))/m');
    expect(found).toMatch(
      /^the rate of v {2}The switching function v is driven back to zero from both sides at t = /,
    );
    expect(found).toContain('write dry(limit, velocity) instead of limit*sign(velocity)');
  });

  it('friction with the wrong sign is found at the first turn', () => {
    expect(broken('(-k*x + dry(F, v))/m')[0]).toContain('Write it with a minus sign: - dry(F, v).');
  });

  it('a negative limit is found', () => {
    expect(broken('(-k*x - dry(-F, v))/m')[0]).toContain('The limit of dry(-F, v) is negative');
  });
});
