import { type Part, say } from '../../document/index.ts';

/** Computed cautions; the closing sentence stands under every list of them. */
export const cautions = {
  closing:
    'The school’s own rules, local codes and the responsible, qualified staff decide whether and how this is done.',
  moving: (energy: Part, speed: Part) =>
    say`What moves carries up to ${energy} at up to ${speed}. Catch it before it reaches anybody: foam or a padded box at the end of its path, hands and faces out of its line.`,
  fast: (speed: Part) =>
    say`Parts reach up to ${speed}; the free end of a chain, cord or rod can be faster than any part that the model follows. Wear eye protection and stand to the side.`,
  heavy: (mass: Part) =>
    say`Up to ${mass} in all hangs or moves. Keep feet and hands out from under it, put something soft below, and clamp stands so that they cannot tip.`,
  elastic: (energy: Part) =>
    say`A stretched spring holds up to ${energy}. Wear eye protection, and never let it fly free.`,
  electric: (energy: Part) =>
    say`A charged capacitor holds up to ${energy}. Discharge it through a resistor before touching it.`,
  voltage: (voltage: Part) =>
    say`Voltages reach up to ${voltage}. Only the responsible, qualified staff connect and switch such a circuit.`,
  current: (current: Part) =>
    say`Currents reach up to ${current}. Wires get hot; switch on only for the reading.`,
  hot: (temperature: Part) =>
    say`Parts reach up to ${temperature}. Let them cool before touching them, and keep away whatever can burn.`,
  threshold: (limit: Part, source: Part) => say`above ${limit}; ${source}`,
  commonPractice: 'common practice, no source',
};
