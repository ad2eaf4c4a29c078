export { buildModel } from './build-model.ts';
export type { Model, ModelSource, Named, NamedCondition } from './model.ts';
export type {
  Condition,
  DryFriction,
  Evaluate,
  EvolutionProgram,
  InputLayout,
  ProgramTrees,
  Switch,
  Truth,
} from './program.ts';
