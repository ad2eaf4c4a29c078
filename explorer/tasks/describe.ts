import { textAt } from '../../app/bench/plain.ts';
import type { LabSource } from '../../app/compute/source.ts';
import type { Task } from '../../app/compute/task.ts';
import { sliderRange } from '../../app/stages/apparatus/slider-range.ts';
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

/** Other equipment. */
export interface ShownKit {
  readonly name: string;
  readonly is: string;
  /** Quantities with what is written into their fields. */
  readonly set: readonly (readonly [name: string, written: string])[];
  /** Whether it needs other instruments or steps, which fields of values cannot bring. */
  readonly needsMore: boolean;
}

/** A lab as the page shows it. */
export interface ShownLab {
  readonly title: string;
  readonly question: string;
  readonly about: string;
  /** Of the lab's words. */
  readonly language: string;
  readonly cautions: readonly string[];
  readonly derivation: readonly { readonly line: string; readonly because: string }[];
  readonly quantities: readonly ShownQuantity[];
  readonly effects: readonly { readonly name: string; readonly is: string }[];
  readonly results: readonly { readonly name: string; readonly is: string; readonly unit: string }[];
  readonly kits: readonly ShownKit[];
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
    const { lab, document } = opened.value;
    return succeed(
      {
        title: lab.title,
        question: lab.question,
        about: textAt(document.data, ['about']) ?? '',
        language: textAt(document.data, ['language']) ?? 'en',
        cautions: lab.cautions,
        derivation: lab.derivation.map(({ text, because }) => ({ line: text, because })),
        quantities: lab.quantities.base.map(showQuantity),
        effects: lab.effects.map(({ name, is }) => ({ name, is })),
        results: lab.results.map(({ name, is, unit }) => ({ name, is, unit: formatUnit(unit) })),
        kits: lab.kits.map(({ name, is, set, change }) => ({
          name,
          is,
          set: set.map(write),
          needsMore: change.instruments !== undefined || change.reduction !== undefined,
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
  const number = Number(fromSI(value, quantity.unit, 'point').toPrecision(10));
  return [quantity.name, `${number} ${quantity.unit.text}`.trim()];
}
