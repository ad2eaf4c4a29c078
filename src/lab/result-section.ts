import type { Expression } from '../expression/index.ts';
import { checkDimensions, namesIn, parseExpression, sayDimension } from '../expression/index.ts';
import type { Outcome, Place, Problem } from '../problem/index.ts';
import { fail, nearestName, problem, succeed } from '../problem/index.ts';
import type { Dimension, Unit } from '../quantity/index.ts';
import { parseUnit, sameDimension, unknownDimension } from '../quantity/index.ts';
import type { Path } from './document.ts';
import type { LabForm } from './form.ts';
import { compileOnQuantities, type QuantityFunction } from './quantity-function.ts';
import type { ReductionScalars } from './reduction-section.ts';
import type { Surroundings } from './surroundings.ts';

/** A number that the lab compares: where it comes from, its unit, and what theory says of it. */
export interface LabResult {
  readonly name: string;
  readonly is: string;
  readonly unit: Unit;
  /** 'run': each run gives one; 'across': the table of all runs gives it. */
  readonly scope: 'run' | 'across';
  readonly theory: {
    readonly expression: Expression;
    readonly evaluate: QuantityFunction;
    readonly reads: ReadonlySet<string>;
  } | null;
  readonly place: Place;
}

/**
 * Reads the results; each is a scalar that the reduction gives, with a unit of its dimension.
 *
 * @param reduction null where it has problems of its own: then any name may be one that it gives
 * @param section   where the results stand in the lab file
 */
export function readResults(
  forms: NonNullable<LabForm['results']>,
  reduction: ReductionScalars | null,
  around: Surroundings,
  section: Path = ['results'],
): Outcome<readonly LabResult[]> {
  const { document, quantities, tables, scope } = around;
  const problems: Problem[] = [];
  const results: LabResult[] = [];
  for (const [name, form] of Object.entries(forms)) {
    const path: Path = [...section, name];
    const place = document.placeOfKey(path);
    const given = reduction === null ? unknownScalar : findScalar(name, reduction);
    if (given === null) {
      problems.push(notGiven(name, reduction, place));
      continue;
    }
    const { dimension, scope: origin } = given;
    const unit = parseUnit(form.unit, document.originOf([...path, 'unit']));
    if (!unit.ok) {
      problems.push(...unit.problems);
      continue;
    }
    if (!sameDimension(unit.value.dimension, dimension)) {
      problems.push(
        problem(
          'wrong-dimension',
          document.placeOf([...path, 'unit']),
          `The unit "${form.unit}" ${sayDimension(unit.value.dimension)}; ${name} as the reduction gives it ${sayDimension(dimension)}.`,
        ),
      );
      continue;
    }
    const theory = form.theory === undefined ? null : readTheory(name, form.theory, dimension);
    if (theory !== null && !theory.ok) {
      problems.push(...theory.problems);
      continue;
    }
    results.push({
      name,
      is: form.is ?? '',
      unit: unit.value,
      scope: origin,
      theory: theory === null ? null : theory.value,
      place,
    });
  }
  return problems.length > 0 ? fail(...problems) : succeed(results);

  function readTheory(
    name: string,
    written: string | number,
    dimension: Dimension,
  ): Outcome<NonNullable<LabResult['theory']>> {
    const parsed = parseExpression(String(written), document.originOf([...section, name, 'theory']));
    if (!parsed.ok) return parsed;
    const checked = checkDimensions(parsed.value, scope, { dimension, what: `the theory of ${name}` });
    if (!checked.ok) return checked;
    return succeed({
      expression: parsed.value,
      evaluate: compileOnQuantities(parsed.value, quantities, tables),
      reads: namesIn(parsed.value.tree),
    });
  }
}

interface GivenScalar {
  readonly dimension: Dimension;
  readonly scope: LabResult['scope'];
}

const unknownScalar: GivenScalar = { dimension: unknownDimension, scope: 'run' };

function findScalar(name: string, { eachRun, acrossRuns }: ReductionScalars): GivenScalar | null {
  const across = acrossRuns.scalars.get(name);
  if (across !== undefined) return { dimension: across, scope: 'across' };
  const run = eachRun.scalars.get(name);
  return run === undefined ? null : { dimension: run, scope: 'run' };
}

function notGiven(name: string, reduction: ReductionScalars | null, place: Place): Problem {
  const known = [
    ...(reduction?.acrossRuns.scalars.keys() ?? []),
    ...(reduction?.eachRun.scalars.keys() ?? []),
  ];
  const near = nearestName(name, known);
  return problem(
    'result-not-given',
    place,
    `No step of the reduction gives "${name}".`,
    near === undefined ? `It gives ${known.join(', ') || 'nothing yet'}.` : `Did you mean "${near}"?`,
  );
}
