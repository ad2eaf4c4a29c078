import { namesIn } from '../expression/index.ts';
import type { EvolutionProgram, Truth } from '../model/index.ts';

/** Which switches are watched, and at which of them a step must end. */
export function sortSwitches(program: EvolutionProgram): {
  landing: ReadonlySet<number>;
  watching: ReadonlySet<number>;
} {
  const { switches, trees, inputs } = program;
  const landing = new Set<number>();
  const watching = new Set<number>();
  const addTruth = (truth: Truth, into: readonly Set<number>[]): void => {
    if (truth.kind === 'side') for (const set of into) set.add(truth.switch);
    else if (truth.kind === 'not') addTruth(truth.operand, into);
    else {
      addTruth(truth.left, into);
      addTruth(truth.right, into);
    }
  };
  for (const { truth } of program.stops) addTruth(truth, [watching, landing]);
  for (const { truth } of program.holdsWhile) addTruth(truth, [watching]);
  for (const [index, { steersRates }] of switches.entries()) {
    if (!steersRates) continue;
    landing.add(index);
    watching.add(index);
  }
  // A switching function stands after those whose branches it holds, so one pass from the end finds them all.
  for (let index = switches.length - 1; index >= 0; index--) {
    if (!watching.has(index)) continue;
    const names = namesIn(trees.margins[index]);
    for (let other = 0; other < index; other++) {
      if (!names.has(trees.names[inputs.branches + other])) continue;
      landing.add(other);
      watching.add(other);
    }
  }
  return { landing, watching };
}
