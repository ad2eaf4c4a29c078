import type { TrialRun } from '../../lab/index.ts';
import type { Unit } from '../../quantity/index.ts';
import type { Closing, GapLedger, LedgerValue, Reconciliation } from '../../reconcile/index.ts';
import { sayVerdict } from '../../reconcile/index.ts';
import type { RunGroup } from '../../run/index.ts';
import type { OpenLab } from '../open-lab.ts';
import { digestsToJson } from './digests-json.ts';
import { labToJson } from './lab-json.ts';
import { finite, intervalIn, pointIn, settingsToJson } from './values.ts';

/** The document of `reconcile --json`; docs/json.md says what each key holds. */
export function reconciliationToJson(
  open: OpenLab,
  reconciliation: Reconciliation,
  groups: readonly RunGroup[],
  runs: readonly TrialRun[],
): Readonly<Record<string, unknown>> {
  const { ledgers, main, method } = reconciliation;
  const results = [...main].flatMap(([name, index]) => {
    const ledger = ledgers[index];
    return ledger === undefined ? [] : [[name, ledgerToJson(ledger)]];
  });
  const across = ledgers.filter(({ group }) => group === null);
  const settings = groups.map(({ label, when }) => ({
    label,
    when: settingsToJson(when),
    results: resultsToJson(ledgers.filter(({ group }) => group === label)),
  }));
  return {
    lab: labToJson(open),
    results: Object.fromEntries(results),
    settings,
    across_runs: resultsToJson(across),
    method: {
      kind: method.kind,
      draws: method.draws,
      failed: method.failed,
      checked: method.checked,
      worst_disagreement: finite(method.worstDisagreement),
      because: method.because,
      orders: method.orders,
    },
    digests: digestsToJson(runs),
  };
}

function resultsToJson(ledgers: readonly GapLedger[]): Readonly<Record<string, unknown>> {
  return Object.fromEntries(ledgers.map((ledger) => [ledger.result.name, ledgerToJson(ledger)]));
}

function ledgerToJson(ledger: GapLedger): Readonly<Record<string, unknown>> {
  const { result, theory, ideal, full, measured, remainder } = ledger;
  const { unit } = result;
  return {
    is: result.is,
    unit: unit.text,
    ...valueToJson('theory', theory, unit),
    ...valueToJson('ideal', ideal, unit),
    reduction: ledger.reduction.map(({ step, shift }) => ({ step, shift: intervalIn(unit, shift) })),
    effects: ledger.effects.map(({ effect, share, standardUncertainty, orderError }) => ({
      name: effect,
      share: intervalIn(unit, share),
      u: intervalIn(unit, standardUncertainty),
      ...(orderError !== undefined && { u_orders: intervalIn(unit, orderError) }),
      share_si: finite(share),
    })),
    ...valueToJson('full', full, unit),
    measured:
      measured === null
        ? null
        : {
            value: pointIn(unit, measured.value),
            u: intervalIn(unit, measured.standardUncertainty),
            unit: unit.text,
            n: measured.n,
            u_scatter: intervalIn(unit, measured.fromScatter),
            u_quantities: intervalIn(unit, measured.fromQuantities),
            interval:
              measured.interval === null
                ? null
                : {
                    level: measured.interval.level,
                    low: pointIn(unit, measured.interval.low),
                    high: pointIn(unit, measured.interval.high),
                  },
            si: finite(measured.value),
          },
    remainder:
      remainder === null
        ? null
        : {
            value: intervalIn(unit, remainder.value),
            u: intervalIn(unit, remainder.standardUncertainty),
            z: finite(remainder.z),
            verdict: remainder.verdict,
            verdict_text: sayVerdict(remainder.verdict),
            probability: finite(remainder.probability),
            degrees_of_freedom: finite(remainder.degreesOfFreedom),
            closing: remainder.closing.map(closingToJson),
            si: finite(remainder.value),
          },
  };
}

function valueToJson(
  key: string,
  value: LedgerValue | null,
  unit: Unit,
): Readonly<Record<string, number | null>> {
  return {
    [key]: value === null ? null : pointIn(unit, value.value),
    [`${key}_u`]: value === null ? null : intervalIn(unit, value.standardUncertainty),
    [`${key}_si`]: value === null ? null : finite(value.value),
  };
}

function closingToJson({
  quantity,
  needed,
  inUncertainties,
  plausible,
}: Closing): Readonly<Record<string, unknown>> {
  return {
    quantity: quantity.name,
    is: quantity.is,
    now: pointIn(quantity.unit, quantity.estimate.value),
    needed: pointIn(quantity.unit, needed),
    unit: quantity.unit.text,
    in_uncertainties: finite(inUncertainties),
    plausible,
  };
}
