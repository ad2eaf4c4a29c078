import { DOMParser } from '@xmldom/xmldom';
import { describe, expect, it } from 'vitest';
import type { LabDocumentTree } from '../../src/publish/document/index.ts';
import { writeSlidesHtml, writeSlidesPdf } from '../../src/publish/slides/index.ts';
import { has, runOn, textOfPdf } from './outside-tools.ts';
import { german, HOSTILE, hostileTree, sampleTalk } from './sample-tree.ts';

function hostileTalk(): LabDocumentTree {
  const tree = hostileTree();
  const texts = Object.values(HOSTILE);
  const blocks = texts.map((text) => ({
    kind: 'slide' as const,
    title: [{ kind: 'text' as const, text }],
    blocks: [{ kind: 'paragraph' as const, inlines: [{ kind: 'text' as const, text }] }],
    seconds: 30,
    notes: [{ kind: 'paragraph' as const, inlines: [{ kind: 'text' as const, text }] }],
  }));
  return { ...tree, kind: 'talk', blocks };
}

describe('a talk as PDF', () => {
  const pdf = writeSlidesPdf(sampleTalk());

  it.skipIf(!has('pdftotext'))('has its slides, then the words and times of the speaker (pdftotext)', () => {
    const text = textOfPdf(pdf).replaceAll('\u00a0', ' ');
    expect(text).toContain('A pull that grows with the distance');
    expect(text).toContain('Planned time: 4:00 min');
    expect(text).toContain('2:30 min for this slide, until minute 4:00');
    expect(text).toContain('Point at the third reading: (2.754 ± 0.019) 1/s²');
  });

  it.skipIf(!has('pdfinfo'))('is wide and tagged, with a page a slide (pdfinfo)', () => {
    const info = runOn('pdfinfo', 'a.pdf', pdf, ['a.pdf']).out;
    expect(info).toContain('960 x 540 pts');
    expect(info).toMatch(/Tagged: +yes/);
    expect(info).toMatch(/Pages: +4/);
  });

  it('is the same, byte for byte, each time', () => {
    expect(Buffer.from(writeSlidesPdf(sampleTalk())).equals(Buffer.from(pdf))).toBe(true);
  });

  it.skipIf(!has('pdftotext'))('shows hostile text as text (pdftotext)', () => {
    const text = textOfPdf(writeSlidesPdf(hostileTalk())).replace(/\s+/g, ' ');
    for (const one of [HOSTILE.markup, HOSTILE.formula, HOSTILE.field]) expect(text).toContain(one);
  });
});

describe('a talk as HTML', () => {
  const parse = (html: string) => {
    const faults: string[] = [];
    const document = new DOMParser({ onError: (_level, message) => faults.push(message) }).parseFromString(
      html,
      'application/xhtml+xml',
    );
    expect(faults).toEqual([]);
    return document;
  };

  it('is well-formed, without script, a section a slide, notes beside each', () => {
    const document = parse(writeSlidesHtml(sampleTalk(german)));
    expect(document.getElementsByTagName('script').length).toBe(0);
    expect(document.getElementsByTagName('section').length).toBe(2);
    expect(document.getElementsByTagName('aside').length).toBe(2);
    expect(document.documentElement?.textContent).toContain('1:30 min für diese Folie, bis Minute 1:30');
  });

  it('shows hostile text as text', () => {
    const document = parse(writeSlidesHtml(hostileTalk()));
    expect(document.getElementsByTagName('script').length).toBe(0);
    for (const one of Object.values(HOSTILE)) expect(document.documentElement?.textContent).toContain(one);
  });
});
