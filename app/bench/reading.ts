import { type Lab, type LabDocument, type Path, readDocument, readLab } from '../../src/lab/index.ts';
import type { Problem } from '../../src/problem/index.ts';
import { LAB_FILE } from './lab-file.ts';
import { type PathFinder, pathFinderOf } from './path-finder.ts';

/** A lab text as it was read: its plain data for forms, the typed lab for everything that computes. */
export interface Reading {
  readonly text: string;
  /** Null where the text is not even YAML. */
  readonly document: LabDocument | null;
  /** Null where the text has errors; screens then show the last lab that could be read. */
  readonly lab: Lab | null;
  /** Errors first, then warnings. */
  readonly problems: readonly Problem[];
  /** Problems at a path and below it. */
  problemsAt(path: Path): readonly Problem[];
}

/** Reads a lab text whole, with its problems sorted to the parts of the file that they speak of. */
export function readText(text: string): Reading {
  const document = readDocument(text, LAB_FILE);
  const lab = readLab(text, LAB_FILE);
  const problems = lab.ok ? lab.warnings : lab.problems;
  let finder: PathFinder | undefined;
  let placed: readonly { readonly problem: Problem; readonly path: Path }[] | undefined;
  return {
    text,
    document: document.ok ? document.value : null,
    lab: lab.ok ? lab.value : null,
    problems,
    problemsAt(path) {
      if (problems.length === 0) return [];
      finder ??= pathFinderOf(text);
      const find = finder;
      placed ??= problems.map((problem) => ({ problem, path: find(problem.place) }));
      return placed.filter((one) => startsWith(one.path, path)).map(({ problem }) => problem);
    },
  };
}

function startsWith(path: Path, start: Path): boolean {
  return start.length <= path.length && start.every((part, index) => String(part) === String(path[index]));
}
