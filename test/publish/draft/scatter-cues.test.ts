import { describe, expect, it } from 'vitest';
import { scatterCues } from '../../../src/publish/draft/scatter-cues.ts';
import { english } from '../../../src/publish/language/english.ts';
import { german } from '../../../src/publish/language/german.ts';
import { openShipped, type SHIPPED } from '../../labs/shipped-lab.ts';

describe('what to look at where runs scatter follows from the instruments of the lab', () => {
  it.each([
    ['tired-cells', ['contacts']],
    ['leaking-capacitor', ['contacts']],
    ['cooling-mug', ['thermometer']],
    ['thick-lens', ['scale']],
    ['loud-tube', ['scale']],
    ['tow-chain', ['release', 'wheel']],
    ['drawn-cart', ['release', 'gates']],
    ['paper-cups', ['release', 'camera']],
    ['falling-chain', ['release', 'forceZero']],
    ['long-swing', ['release']],
  ] as const satisfies readonly (readonly [(typeof SHIPPED)[number], readonly string[]])[])(
    'in %s',
    async (name, cues) => {
      const { pipeline } = await openShipped(name);
      expect(scatterCues(pipeline.lab)).toEqual(cues);
    },
  );

  it('nothing but how runs begin is left where no instrument says more', () => {
    expect(scatterCues({ instruments: [], model: { kind: 'none' } })).toEqual(['began']);
  });

  it('no advice of a lab that does not move speaks of a release', () => {
    for (const { guide } of [english, german]) {
      const { release, ...others } = guide.scatterCues;
      for (const advice of Object.values(others))
        expect(advice).not.toMatch(/release|clamp|Loslassen|Befestig/u);
      expect(release).toMatch(/release|Loslassen/u);
    }
  });
});
