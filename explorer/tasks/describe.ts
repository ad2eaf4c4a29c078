import type { LabSource } from '../../app/compute/source.ts';
import type { Task } from '../../app/compute/task.ts';
import { sliderRange } from '../../app/stages/apparatus/slider-range.ts';
import { combineKits } from '../../src/adapt/index.ts';
import { listStations } from '../../src/classroom/index.ts';
import type { BaseQuantity, Setting } from '../../src/lab/index.ts';
import { type Outcome, succeed } from '../../src/problem/index.ts';
import { formatUnit, fromSI } from '../../src/quantity/index.ts';

/** A quantity that a teacher may give another value. */
export interface ShownQuantity {
  readonly name: string;
  readonly is: string;
  /** As it can be typed: '1.2 m'. */
  readonly written: string;
  /** As it is typed behind a number; '' for a pure number. */
  readonly unit: string;
  /** In that unit; null where no slider makes sense. */
  readonly slider: ReturnType<typeof sliderRange>;
}

/** Other equipment: a kit, or kits that the author lets go together. */
export interface ShownKits {
  readonly names: readonly string[];
  /** In words; '' where the author gives none. */
  readonly is: string;
}

/** A lab as the page shows it. */
export interface ShownLab {
  readonly quantities: readonly ShownQuantity[];
  readonly effects: readonly { readonly name: string; readonly is: string }[];
  readonly results: readonly { readonly name: string; readonly is: string; readonly unit: string }[];
  readonly kits: readonly ShownKits[];
  readonly stations: readonly {
    readonly name: string;
    readonly set: readonly (readonly [name: string, written: string])[];
  }[];
  readonly runs: number;
}

/** What the page shows of a lab before anything is computed. */
export const describeTask: Task<{ readonly source: LabSource }, ShownLab> = {
  async run(room, { source }): Promise<Outcome<ShownLab>> {
    const opened = room.openAlone(source);
    if (!opened.ok) return opened;
    const { lab } = opened.value;
    return succeed(
      {
        quantities: lab.quantities.base.map(showQuantity),
        effects: lab.effects.map(({ name, is }) => ({ name, is })),
        results: lab.results.map(({ name, is, unit }) => ({ name, is, unit: formatUnit(unit) })),
        kits: combineKits(lab.kits)
          .filter((set) => set.length > 0)
          .map((set) => ({
            names: set.map(({ name }) => name),
            is: set.length === 1 ? (set[0]?.is ?? '') : '',
          })),
        stations: listStations(lab, {}).map(({ name, set }) => ({ name, set: set.map(write) })),
        runs: lab.trials.filter(({ setAside }) => setAside === null).length,
      },
      opened.warnings,
    );
  },
};

function showQuantity(quantity: BaseQuantity): ShownQuantity {
  const { name, is, unit, estimate } = quantity;
  const [, written] = write({ quantity, value: estimate.value });
  return { name, is, written, unit: unit.text, slider: sliderRange(quantity) };
}

function write({ quantity, value }: Setting): readonly [string, string] {
  const number = Number(fromSI(value, quantity.unit, 'point').toPrecision(7));
  return [quantity.name, `${number} ${quantity.unit.text}`.trim()];
}
