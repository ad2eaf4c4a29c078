import { type Block, joinInlines, listInlines, paragraph, strong } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { type Section, section } from './section.ts';

/** The question, what happens, and what is measured. */
export function draftAim({ lab, gathered, phrases, names }: Desk): Section {
  const { documents, background } = phrases;
  const blocks: Block[] = [];
  if (lab.question !== '') blocks.push(paragraph(strong(...names.words(lab.question))));
  if (gathered.extras.about !== '') blocks.push(paragraph(...names.words(gathered.extras.about)));
  const results = listInlines(
    lab.results.map((result) => joinInlines(...names.result(result))),
    ', ',
    documents.and,
  );
  if (lab.results.length > 0) blocks.push(paragraph(...background.measures(results, lab.results.length > 1)));
  return section('aim', ...blocks);
}
