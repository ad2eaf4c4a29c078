import { describe, expect, it } from 'vitest';
import { paragraph } from '../../src/publish/document/index.ts';
import { writePdf } from '../../src/publish/pdf/index.ts';
import { translate } from '../../src/publish/pdf/typst-math.ts';
import { has, runOn, textOfPdf } from './outside-tools.ts';
import { english, german, HOSTILE, hostileTree, SAMPLE_BLOCKS, sampleTree } from './sample-tree.ts';

const latin = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');

describe('a document as PDF', () => {
  const pdf = writePdf(sampleTree());

  it('is tagged, says its language and title, and claims PDF/UA-1', () => {
    const text = latin(pdf);
    expect(text.startsWith('%PDF-1.7')).toBe(true);
    expect(text).toContain('/StructTreeRoot');
    expect(text).toMatch(/\/Lang ?\(en/);
    expect(text).toContain('pdfuaid:part>1<');
    expect(text).toContain('A trolley drawn by its own tow chain');
    expect(text).toContain(sampleTree().provenance.digest);
  });

  it('is the same, byte for byte, each time', () => {
    expect(Buffer.from(writePdf(sampleTree())).equals(Buffer.from(pdf))).toBe(true);
  });

  it.skipIf(!has('pdftotext'))('holds the numbers of the tree (pdftotext)', () => {
    const text = textOfPdf(pdf).replaceAll('\u00a0', ' ');
    for (const part of ['(2.754 ± 0.019) 1/s²', '(96.40 ± 0.10) g', '15.0 cm', '−4.2 %', '1.62 m/s'])
      expect(text).toContain(part);
    expect(text).toContain('responsible, qualified staff decide');
    expect(text).toContain(sampleTree().provenance.digest);
  });

  it.skipIf(!has('pdftotext'))('prints a decimal comma and brackets where asked (pdftotext)', () => {
    const text = textOfPdf(writePdf(sampleTree(SAMPLE_BLOCKS, german))).replaceAll('\u00a0', ' ');
    expect(text).toContain('2,754(19) 1/s²');
    expect(text).toContain('Vorsicht');
    expect(text).toContain('Abbildung 1.');
    expect(text).toContain('Seite 1 von');
  });

  it.skipIf(!has('pdffonts'))('embeds every font, and none but its own (pdffonts)', () => {
    const rows = runOn('pdffonts', 'a.pdf', pdf, ['a.pdf']).out.trim().split('\n').slice(2);
    expect(rows.length).toBeGreaterThan(3);
    for (const row of rows) {
      expect(row).toMatch(/ yes yes yes +\d+ +0$/);
      expect(row).toMatch(/\+(LibertinusSerif|NewCMMath|BenchwrightSans|DejaVuSansMono)/);
    }
  });

  it.skipIf(!has('pdfinfo'))('has the paper asked for, a title and an outline (pdfinfo)', () => {
    const a4 = runOn('pdfinfo', 'a.pdf', pdf, ['a.pdf']).out;
    expect(a4).toContain('595.276 x 841.89 pts (A4)');
    expect(a4).toMatch(/Tagged: +yes/);
    const letter = writePdf(sampleTree(SAMPLE_BLOCKS, { ...english, paper: 'letter' }));
    expect(runOn('pdfinfo', 'a.pdf', letter, ['a.pdf']).out).toContain('612 x 792 pts (letter)');
    expect(latin(pdf)).toContain('/Outlines');
  });

  it.skipIf(!has('pdftotext'))('shows hostile text as text (pdftotext)', () => {
    const text = textOfPdf(writePdf(hostileTree())).replace(/\s+/g, ' ');
    for (const one of Object.values(HOSTILE)) expect(text).toContain(one.replace(/\s+/g, ' '));
  });

  it.skipIf(!has('pdftotext'))('shows a character that no font has by its number (pdftotext)', () => {
    const text = textOfPdf(writePdf(sampleTree([paragraph('Smile 😀, 漢, and \u200b"\\')])));
    expect(text).toContain('Smile (U+1F600), (U+6F22), and');
  });
});

describe('TeX on its way to the typesetter', () => {
  it.each([
    ['\\text{"#panic()"}'],
    ['\\text{a \\\\}'],
    ['\\text{" + read("/etc/passwd") + "}'],
    ['#read("x")'],
    ['\\std'],
    ['\\eval{1}'],
    ['\\sys'],
    ['a ; b'],
    ['`x`'],
  ])('never becomes code: %s', (tex) => {
    expect(translate(tex)).toBeNull();
  });

  it('keeps plain mathematics, and a decimal comma as such', () => {
    expect(translate('\\frac{1}{2}\\,m\\,v^{2}')).toBe('frac(1, 2) thin m thin v^2');
    for (const name of [
      'exp',
      'ln',
      'log',
      'sin',
      'cos',
      'tan',
      'arcsin',
      'arctan',
      'sinh',
      'cosh',
      'tanh',
      'min',
      'max',
    ])
      expect(translate(`\\${name}\\left(x\\right)`)).toContain(name);
    expect(translate('3{,}57\\cdot 10^{-4}')).toBe('3","57 dot.op 10^(-4)');
    expect(translate('\\operatorname{sgn}\\left(v\\right)')).toBe('op("sgn")(v)');
    expect(
      translate('\\begin{cases}a & \\text{if } x > 0\\\\b & \\text{otherwise}\\end{cases}'),
    ).not.toBeNull();
  });
});
