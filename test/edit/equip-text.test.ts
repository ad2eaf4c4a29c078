import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { equipText } from '../../src/edit/index.ts';
import { createPipeline, type Lab, readLab } from '../../src/lab/index.ts';
import { allEffects, predict, rehearse } from '../../src/run/index.ts';
import { SLOPE_LAB, sentencesOf, valueFrom } from '../lab/slope-lab.ts';

const read = (text: string): Lab => valueFrom(readLab(text, 'lab.yaml'));

/** What a lab expects, and how its readings scatter: both must be those of the lab that `equip` makes. */
function everythingOf(lab: Lab): readonly number[] {
  const rehearsed = valueFrom(rehearse(createPipeline(lab), { repeats: 3, drawsQuantities: true }));
  return [...predictionOf(lab), ...rehearsed.outputs.flatMap(({ mean, spread }) => [mean, spread])];
}

function predictionOf(lab: Lab): readonly number[] {
  const pipeline = createPipeline(lab);
  const predicted = valueFrom(predict(pipeline, { subset: allEffects(lab) }));
  return predicted.results.flatMap(({ predicted: { value, standardUncertainty } }) => [
    value,
    standardUncertainty,
  ]);
}

function expectSame(text: string, names: readonly string[], numbersOf = everythingOf): void {
  const lab = read(text);
  const kits = lab.kits.filter(({ name }) => names.includes(name));
  const wanted = numbersOf(valueFrom(lab.equip(kits)));
  const found = numbersOf(read(valueFrom(equipText(text, names))));
  expect(found).toHaveLength(wanted.length);
  found.forEach((number, index) => {
    const right = wanted[index] ?? Number.NaN;
    expect(Math.abs(number - right)).toBeLessThanOrEqual(1e-9 * Math.abs(right));
  });
}

describe('a lab written with a kit in place of its own equipment', () => {
  it.each(readdirSync('labs').filter((name) => existsSync(`labs/${name}/lab.yaml`)))(
    'gives the numbers of that kit: %s',
    (name) => {
      const text = readFileSync(`labs/${name}/lab.yaml`, 'utf8');
      const [kit] = read(text).kits;
      if (kit !== undefined) expectSame(text, [kit.name], predictionOf);
    },
  );

  it('takes over another instrument, other steps and an uncertainty of the kit’s own', () => {
    const text = `${SLOPE_LAB}kits:
  gates:
    instruments: { ranger: { kind: gates, of: x, at: [0.2 m, 0.4 m, 0.6 m, 0.8 m], clock: 10 us } }
    reduction:
      each run:
        - readings: { of: ranger, gives: [t, s] }
        - line: { of: s/t, against: t, slope: a }
  camera: { set: { m: { value: 300 g, u: 3 g }, alpha: 5 degree }, instruments: { ranger: { rate: 100 Hz } } }
  gravity: { set: { g: 9.79 m/s^2 }, with: [camera] }
`;
    expectSame(text, ['camera']);
    expectSame(text, ['camera', 'gravity']);
    const gates = equipText(text, ['gates']);
    expect(gates.ok ? gates.value : sentencesOf(gates)).toContain('kind: gates');
  });

  it('has neither kits nor runs left, and is the text itself where no kit is named', () => {
    const text = readFileSync('labs/tow-chain/lab.yaml', 'utf8');
    const equipped = read(valueFrom(equipText(text, [read(text).kits[0]?.name ?? ''])));
    expect([equipped.kits, equipped.trials]).toEqual([[], []]);
    expect(valueFrom(equipText(text, []))).toBe(text);
  });

  it('is refused for a kit that the lab has not', () => {
    expect(sentencesOf(equipText(SLOPE_LAB, ['gold']))[0]).toContain('"gold" is not a kit of this lab.');
  });
});
