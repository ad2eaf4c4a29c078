import type { LabDocumentTree } from './document/index.ts';

/** 'handout-algebra', 'teacher-guide': the name of a document's file, without its ending. */
export function fileNameOf({ kind, level }: Pick<LabDocumentTree, 'kind' | 'level'>): string {
  const name = kind.replaceAll(' ', '-');
  return level === null ? name : `${name}-${level}`;
}
