import type { LabResult } from '../lab/index.ts';
import { formatNumber, formatUnit, fromSI } from '../quantity/index.ts';
import { HAZARDS } from './hazards.ts';
import { LIMITS, type Reason } from './judgement.ts';

/** '3.4 %', two significant digits. */
function sayPercent(ratio: number): string {
  return `${formatNumber(100 * ratio, { significant: 2 })} %`;
}

/** A reason for a judgement, a sentence without its full stop. */
export function sayReason(reason: Reason, result: LabResult | undefined): string {
  const name = result?.name ?? 'the result';
  switch (reason.kind) {
    case 'cannot run':
      return `it cannot be run: ${withoutStop(reason.because)}`;
    case 'rehearsals fail':
      return `${sayPercent(reason.share)} of the rehearsals fail, the first because: ${withoutStop(reason.because)}`;
    case 'few readings':
      return `only ${reason.readings} readings fall in the window; ${LIMITS.readings.care} or more tell of themselves whether they lie on a line`;
    case 'scatter':
      return `${name} scatters by ${sayPercent(reason.relative)} from one set-up to the next`;
    case 'gap':
      return `${name} lies ${sayPercent(Math.abs(reason.relative))} ${reason.relative < 0 ? 'below' : 'above'} the ideal theory`;
    case 'model ends early':
      return `"${reason.name}" fails after ${sayPercent(reason.share)} of the motion`;
    case 'hazard': {
      const hazard = HAZARDS.find(({ kind }) => kind === reason.hazard);
      if (hazard === undefined) return `it can hurt (${reason.hazard})`;
      const unit = formatUnit(hazard.unit);
      const size = formatNumber(fromSI(reason.size, hazard.unit, 'point'), { significant: 2 });
      return `${HAZARD_WORDS[reason.hazard]} up to ${size} ${unit}, beyond ${hazard.threshold} ${unit}, which the lab as given stays below`;
    }
  }
}

const HAZARD_WORDS: Readonly<Record<(typeof HAZARDS)[number]['kind'], string>> = {
  moving: 'moving parts carry',
  fast: 'parts move with',
  heavy: 'parts weigh',
  elastic: 'springs store',
  electric: 'capacitors store',
  voltage: 'voltages go',
  current: 'currents go',
  hot: 'parts get hot,',
};

function withoutStop(sentence: string): string {
  return sentence.replace(/\.$/, '');
}
