import { describe, expect, it } from 'vitest';
import { type LabDocumentTree, linesOf, plainLine, walkBlocks } from '../../../src/publish/document/index.ts';
import { draftDocuments } from '../../../src/publish/draft/index.ts';
import { createTexts } from '../../../src/publish/text/index.ts';
import { gatherText, inEnglish, take } from '../draft/gathered-lab.ts';
import { smallLab } from './small-lab.ts';

const passage = `## Background

My own words: it gains :value[a_0], and theory says :value[s]{of=theory}.

## Extension {#extension}

::draft

And one more idea of mine.
`;

function handoutOf(lab: string): LabDocumentTree {
  const texts = createTexts({
    handout: { file: 'text/handout.md', source: passage },
    guide: null,
    images: new Map(),
  });
  const gathered = gatherText(lab, { draws: 20, rehearsals: 3 });
  const request = { settings: inEnglish, sources: [], madeBy: 'Benchwright', kinds: ['handout' as const] };
  const [tree] = take(draftDocuments(gathered, request, texts));
  if (tree === undefined) throw new Error('there is no handout');
  return tree;
}

/** Every line under a heading of the first rank, by the heading's name. */
function sectionsOf(tree: LabDocumentTree): ReadonlyMap<string, readonly string[]> {
  const sections = new Map<string, string[]>();
  let lines: string[] = [];
  for (const block of tree.blocks) {
    if (block.kind === 'heading' && block.level === 1) {
      lines = [];
      sections.set(block.id, lines);
    } else {
      for (const inner of walkBlocks([block]))
        lines.push(...linesOf(inner).map((line) => plainLine(line, inEnglish).replaceAll('\u00a0', ' ')));
    }
  }
  return sections;
}

const before = sectionsOf(handoutOf(smallLab));
const changed = smallLab
  .replaceAll('1.50 m/s^2', '1.80 m/s^2')
  .replace('1.5 m/s^2]', '1.8 m/s^2]')
  .replace('{ is: Air holds', '{ is: A breeze holds')
  .replace('Put a padded box', 'Put a thick cushion');
const after = sectionsOf(handoutOf(changed));

describe('an author changes one passage, and later the lab', () => {
  it('the passage keeps its words and takes the new numbers', () => {
    expect(before.get('background')).toEqual([
      'My own words: it gains (1.500 ± 0.010) m/s², and theory says (3.000 ± 0.021) m/s².',
    ]);
    expect(after.get('background')).toEqual([
      'My own words: it gains (1.800 ± 0.010) m/s², and theory says (3.600 ± 0.021) m/s².',
    ]);
  });

  it('all other sections are drafted anew, those that nothing changes in word for word', () => {
    expect([...after.keys()]).toEqual([...before.keys()]);
    const same = [...after].filter(([id, lines]) => JSON.stringify(lines) === JSON.stringify(before.get(id)));
    expect(same.map(([id]) => id)).toEqual(['aim', 'predict', 'analysis', 'questions', 'extension']);
    expect(after.get('set-up')?.join('\n')).toContain('Put a thick cushion where the ball leaves the slope.');
    expect(after.get('set-up')?.join('\n')).toContain('1.80');
    expect(after.get('procedure')?.join('\n')).toContain('a_0 = 1.80 m/s²');
    expect(after.get('extension')?.at(-1)).toBe('And one more idea of mine.');
  });
});
