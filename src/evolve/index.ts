export { type ClassroomOptions, classroomSteps } from './classroom.ts';
export type { Stepper } from './classroom-stage.ts';
export { createEvolver, type Evolver, evolve } from './evolve.ts';
export type { Hold, Motion } from './motion.ts';
export {
  defaultMaxSteps,
  defaultMaxTimeS,
  defaultRelativeTolerance,
  type EvolutionOptions,
} from './options.ts';
export { order8 } from './order-8-coefficients.ts';
export { placeOf, rowOf } from './order-8-rows.ts';
