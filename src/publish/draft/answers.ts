import { type Block, type Inlines, paragraph, plainLine, strong } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { headingOf, type Section, section } from './section.ts';

/** A question with its answer, as the handouts ask it. */
interface Asked {
  readonly question: Block & { readonly kind: 'question' };
}

/** The questions of all levels with their answers, each once, in the order of the handouts, section by section. */
export function draftAnswers(desk: Desk, handouts: readonly (readonly Section[])[]): Section {
  const { guide } = desk.phrases;
  const told = new Set<string>();
  const blocks: Block[] = [paragraph(guide.answersIntroduction)];
  const ids = [...new Set(handouts.flatMap((sections) => sections.map(({ id }) => id)))];
  for (const id of ids) {
    const own = handouts.flatMap((sections) => sections.filter((part) => part.id === id));
    const asked = own
      .flatMap((part) => questionsIn(part.blocks))
      .filter(({ question }) => {
        const text = plainLine(question.inlines, desk.settings);
        const isNew = !told.has(text);
        told.add(text);
        return isNew;
      });
    if (asked.length === 0) continue;
    blocks.push({
      kind: 'heading',
      level: 2,
      inlines: own[0] === undefined ? [] : headingOf(own[0], desk.phrases),
      id: `answers-${id}`,
    });
    blocks.push({
      kind: 'list',
      ordered: true,
      items: asked.map(({ question }) => answered(desk, question)),
    });
  }
  return section('answers', ...blocks);
}

function answered({ phrases }: Desk, question: Asked['question']): readonly Block[] {
  const { guide } = phrases;
  const [first, ...rest] = question.answer;
  const label: Inlines = [strong(`${guide.answer}: `)];
  const answer: readonly Block[] =
    first === undefined
      ? [paragraph(...label, guide.noAnswer)]
      : first.kind === 'paragraph'
        ? [paragraph(...label, ...first.inlines), ...rest]
        : [paragraph(...label), ...question.answer];
  return [paragraph(...question.inlines), ...answer];
}

function questionsIn(blocks: readonly Block[]): readonly Asked[] {
  return blocks.flatMap((block): readonly Asked[] => {
    if (block.kind === 'question') return [{ question: block }];
    return block.kind === 'list' ? block.items.flatMap(questionsIn) : [];
  });
}

/** The teacher notes that an author wrote into the handouts, each once. */
export function notesIn(handouts: readonly (readonly Section[])[]): readonly Block[] {
  const told = new Set<string>();
  return handouts.flatMap((sections) =>
    sections.flatMap(({ blocks }) =>
      blocks.flatMap((block): readonly Block[] => {
        if (block.kind !== 'teacher note') return [];
        const key = JSON.stringify(block, (name, value: unknown) =>
          name === 'figure' || name === 'bytes' ? '' : value,
        );
        if (told.has(key)) return [];
        told.add(key);
        return block.blocks;
      }),
    ),
  );
}
