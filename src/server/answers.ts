import { formatPlace, type Problem, problem } from '../problem/index.ts';
import { SECURITY_HEADERS } from './security-headers.ts';

/** HTTP status of problems that are not the lab's own; those of a lab are 422. */
const statuses: ReadonlyMap<string, number> = new Map([
  ['usage', 400],
  ['refused', 403],
  ['not-yours', 403],
  ['outside-the-folder', 403],
  ['not-writable', 403],
  ['not-readable', 403],
  ['not-a-file', 403],
  ['no-such-lab', 404],
  ['no-such-file', 404],
  ['no-such-document', 404],
  ['already-there', 409],
  ['changed-meanwhile', 412],
  ['file-too-large', 413],
  ['condition-missing', 428],
  ['internal', 500],
  ['too-many', 503],
]);

/** An answer of data. */
export function answerJson(value: object, status = 200): Response {
  return new Response(JSON.stringify(value), {
    status,
    headers: { ...SECURITY_HEADERS.data, 'Content-Type': 'application/json; charset=utf-8' },
  });
}

/** Problems as an answer, with the status that the first of them asks for. */
export function answerProblems(
  problems: readonly Problem[],
  beside: Readonly<Record<string, unknown>> = {},
): Response {
  const status = statuses.get(problems[0]?.code ?? 'internal') ?? 422;
  return answerJson({ ...beside, problems: problems.map(problemToJson) }, status);
}

/** What was asked for does not exist, or was asked for in a way that makes no sense. */
export function answerRefusal(code: string, message: string): Response {
  return answerProblems([problem(code, {}, message)]);
}

/** A problem as the page reads it. */
export function problemToJson({ code, severity, place, message, tryThis }: Problem): object {
  const at = formatPlace(place);
  return {
    code,
    severity,
    message,
    ...(tryThis === undefined ? {} : { tryThis }),
    ...(at === '' ? {} : { at, place }),
  };
}
