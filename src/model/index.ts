export { buildModel } from './build-model.ts';
export type { Model, ModelSource, Named, NamedCondition, NamedJump } from './model.ts';
export type {
  Condition,
  DryFriction,
  Evaluate,
  EvolutionProgram,
  InputLayout,
  Jump,
  ProgramTrees,
  Switch,
  Truth,
} from './program.ts';
