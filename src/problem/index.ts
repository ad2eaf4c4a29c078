export { listNames } from './list-names.ts';
export { nearestName } from './nearest-name.ts';
export type { Origin, Outcome, Place, Problem } from './problem.ts';
export { fail, formatPlace, formatProblem, problem, succeed, warning } from './problem.ts';
