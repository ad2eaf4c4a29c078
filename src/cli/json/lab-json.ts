import type { OpenLab } from '../open-lab.ts';

/** What every document says of the lab it is about. */
export function labToJson({ lab, folder }: OpenLab): Readonly<Record<string, unknown>> {
  return { title: lab.title, question: lab.question, file: folder.labFile, folder: folder.path };
}
