import * as z from 'zod';
import type { InstrumentKind, SettingSpec, SignalSpec } from '../instrument/index.ts';
import { instrumentKinds } from '../instrument/index.ts';
import type { ReductionStep, StepSettingSpec } from '../reduction/index.ts';
import { acrossRunsSteps, eachRunSteps } from '../reduction/index.ts';
import { labForm } from './form.ts';

type Schema = { readonly [key: string]: unknown };

/** A number with its unit, a plain number, or an expression. */
const WRITTEN: Schema = { type: ['string', 'number'] };

/**
 * The JSON Schema (draft 2020-12) of lab.yaml, by which editors complete keys and mark mistakes.
 *
 * Instruments and steps come from their registries, so a new kind is in the schema as soon as it is registered.
 */
export function labJsonSchema(): Schema {
  const schema: Schema = z.toJSONSchema(labForm, { io: 'input' });
  const properties = partOf(schema, 'properties');
  const reduction = partOf(properties, 'reduction');
  return {
    ...schema,
    title: 'A lab of Benchwright',
    properties: {
      ...properties,
      instruments: {
        type: 'object',
        additionalProperties: { oneOf: [...instrumentKinds.values()].map(instrumentSchema) },
      },
      reduction: {
        ...reduction,
        properties: { 'each run': stepsSchema(eachRunSteps), 'across runs': stepsSchema(acrossRunsSteps) },
      },
    },
  };
}

function partOf(schema: Schema, key: string): Schema {
  const part = schema[key];
  return isSchema(part) ? part : {};
}

function isSchema(value: unknown): value is Schema {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function instrumentSchema(kind: InstrumentKind): Schema {
  const signals = kind.signals.map((spec) => [spec.name, signalSchema(spec)] as const);
  const settings = kind.settings.map((spec) => [spec.name, settingSchema(spec)] as const);
  return {
    type: 'object',
    description: kind.what,
    properties: { kind: { const: kind.kind }, ...Object.fromEntries([...signals, ...settings]) },
    required: [
      'kind',
      ...[...kind.signals, ...kind.settings].filter((spec) => spec.required).map((spec) => spec.name),
    ],
    additionalProperties: false,
  };
}

function signalSchema(spec: SignalSpec): Schema {
  return { ...WRITTEN, description: spec.what };
}

function settingSchema(spec: SettingSpec): Schema {
  const description = spec.what;
  switch (spec.kind) {
    case 'expression':
      return { ...WRITTEN, description };
    case 'count':
      return { type: 'integer', minimum: spec.least, description };
    case 'choice':
      return { enum: [...spec.options], description };
    case 'list':
      return { type: 'array', items: WRITTEN, minItems: spec.least, description };
    case 'range':
      return {
        type: 'object',
        properties: { from: WRITTEN, to: WRITTEN },
        additionalProperties: false,
        description,
      };
  }
}

function stepsSchema(registry: ReadonlyMap<string, ReductionStep>): Schema {
  return { type: 'array', items: { oneOf: [...registry.values()].map(stepSchema) } };
}

function stepSchema(step: ReductionStep): Schema {
  const settings = {
    type: 'object',
    properties: Object.fromEntries(step.settings.map((spec) => [spec.name, stepSettingSchema(spec)])),
    required: step.settings.filter((spec) => spec.required).map((spec) => spec.name),
    additionalProperties: false,
  };
  return {
    type: 'object',
    description: step.what,
    properties: { [step.name]: settings },
    required: [step.name],
    additionalProperties: false,
  };
}

function stepSettingSchema(spec: StepSettingSpec): Schema {
  const description = spec.what;
  switch (spec.kind) {
    case 'expression':
    case 'count':
    case 'choice':
      return settingSchema(spec);
    case 'column expression':
    case 'scalar expression':
      return { ...WRITTEN, description };
    case 'new names':
      return spec.most === 1
        ? { type: 'string', description }
        : {
            anyOf: [
              { type: 'string' },
              {
                type: 'array',
                items: { type: 'string' },
                minItems: spec.least,
                ...(Number.isFinite(spec.most) ? { maxItems: spec.most } : {}),
              },
            ],
            description,
          };
    case 'start values':
      return { type: 'object', additionalProperties: WRITTEN, description };
    case 'renaming':
      return { type: 'object', additionalProperties: { type: 'string' }, description };
    case 'instrument':
    case 'condition':
    case 'column':
      return { type: 'string', description };
  }
}
