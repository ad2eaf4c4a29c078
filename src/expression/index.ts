export { add, call, choose, divide, multiply, negate, number, power, subtract } from './build.ts';
export { checkCondition, checkDimensions, checkEquation } from './check-dimensions.ts';
export {
  type CompiledColumns,
  type CompiledFunction,
  type CompileOptions,
  compileColumns,
  compileFunction,
  compileOperations,
  type ProgramWriter,
} from './compile.ts';
export { conditionMargin } from './condition-margin.ts';
export { differentiate, expandDerivatives } from './differentiate.ts';
export { says as sayDimension } from './dimension-words.ts';
export { type Equation, parseEquation } from './equation.ts';
export { type ArgumentKind, type DimensionRule, FUNCTIONS, type FunctionEntry } from './functions.ts';
export { type Environment, GraphWriter, type ValueOf } from './graph-writer.ts';
export { interpret } from './interpret.ts';
export { ExpressionTooLarge } from './limits.ts';
export { parseExpression } from './parse.ts';
export type { Expected, Scope } from './scope.ts';
export { sameTree, shareParts } from './share.ts';
export { simplify } from './simplify.ts';
export { substitute } from './substitute.ts';
export { type Curve, curveThrough, makeTable, type Table } from './table.ts';
export { resolvePrimes, totalTimeDerivative } from './time-derivative.ts';
export { type TeXOptions, toTeX } from './to-tex.ts';
export { digitsInUnit, toText } from './to-text.ts';
export { isSymbol } from './tokens.ts';
export type { ArithmeticOperator, ComparisonOperator, Expression, Span, Tree } from './tree.ts';
export { CONSTANTS, childrenOf, isCondition, mapTree, namesIn, nodesOf, walkTree } from './walk.ts';
