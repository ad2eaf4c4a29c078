export { createEvolver, type Evolver, evolve } from './evolve.ts';
export type { Hold, Motion } from './motion.ts';
export {
  defaultMaxSteps,
  defaultMaxTimeS,
  defaultRelativeTolerance,
  type EvolutionOptions,
} from './options.ts';
