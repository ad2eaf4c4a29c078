import { AlignmentType, BorderStyle, type INumberingOptions, type IStylesOptions, LevelFormat } from 'docx';

const INK = '1B1E23';
const QUIET = '555A61';
export const CAUTION = 'B3261E';

/** Sizes of letters in tables, in half points; the smaller where the columns would not fit the page. */
export const TABLE = 21;
export const SMALL_TABLE = 17;

/** Styles by the names that word processors know, so that a teacher can change the look of all at once. */
export function wordStyles(language: string): IStylesOptions {
  const heading = (size: number, before: number) => ({
    run: { size, bold: true, color: INK, font: 'Calibri' },
    paragraph: { spacing: { before, after: 100 }, keepNext: true, keepLines: true },
  });
  return {
    default: {
      document: {
        run: { font: 'Calibri', size: 22, color: INK, language: { value: language } },
        paragraph: { spacing: { after: 120, line: 264, lineRule: 'auto' } },
      },
      title: {
        run: { size: 36, bold: true, color: INK, font: 'Calibri' },
        paragraph: { spacing: { after: 60 }, keepNext: true },
      },
      heading1: heading(28, 320),
      heading2: heading(24, 260),
      heading3: heading(22, 220),
      hyperlink: { run: { color: '0B57A4', underline: {} } },
    },
    paragraphStyles: [
      style('Subtitle', { run: { size: 24, color: QUIET }, paragraph: { spacing: { after: 240 } } }),
      style('Caption', { run: { size: 20, color: INK }, paragraph: { spacing: { before: 80, after: 160 } } }),
      style('Figure', { paragraph: { spacing: { before: 160, after: 60, line: 240, lineRule: 'auto' } } }),
      style('TableText', {
        run: { size: TABLE },
        paragraph: { spacing: { after: 0, line: 240, lineRule: 'auto' } },
      }),
      style('AfterTable', {
        run: { size: 12 },
        paragraph: { spacing: { after: 80, line: 240, lineRule: 'auto' } },
      }),
      style('Equation', {
        paragraph: { indent: { left: 400 }, spacing: { before: 80, after: 80 }, keepLines: true },
      }),
      style('EquationNote', {
        run: { size: 20, color: QUIET },
        paragraph: { indent: { left: 800 }, spacing: { after: 140 } },
      }),
      style('ListParagraph', { paragraph: { spacing: { after: 60 } } }),
      style('Caution', {
        paragraph: {
          indent: { left: 280, hanging: 280 },
          spacing: { after: 60 },
          keepLines: true,
        },
      }),
      style('CautionEnd', { paragraph: { spacing: { after: 0 }, keepLines: true } }),
      style('TableTextSmall', {
        run: { size: SMALL_TABLE },
        paragraph: { spacing: { after: 0, line: 240, lineRule: 'auto' } },
      }),
      style('AnswerLine', {
        paragraph: {
          border: {
            bottom: { style: BorderStyle.SINGLE, size: 4, color: '999999', space: 0 },
            between: { style: BorderStyle.SINGLE, size: 4, color: '999999', space: 0 },
          },
          spacing: { before: 0, after: 0, line: 460, lineRule: 'exact' },
        },
      }),
      style('CodeBlock', {
        run: { font: 'Courier New', size: 19 },
        paragraph: {
          shading: { fill: 'F2F3F5' },
          spacing: { after: 0, line: 240, lineRule: 'auto' },
          keepLines: true,
        },
      }),
      style('ReferenceEntry', { paragraph: { indent: { left: 500, hanging: 500 }, spacing: { after: 80 } } }),
      style('Origin', {
        run: { size: 15, color: QUIET },
        paragraph: { spacing: { after: 20, line: 240, lineRule: 'auto' } },
      }),
    ],
    characterStyles: [
      {
        id: 'CodeInLine',
        name: 'CodeInLine',
        basedOn: 'DefaultParagraphFont',
        run: { font: 'Courier New', size: 20 },
      },
      {
        id: 'CautionLabel',
        name: 'CautionLabel',
        basedOn: 'DefaultParagraphFont',
        run: { color: CAUTION, size: 24 },
      },
    ],
  };
}

type ParagraphStyle = NonNullable<IStylesOptions['paragraphStyles']>[number];

function style(id: string, look: Pick<ParagraphStyle, 'run' | 'paragraph'>): ParagraphStyle {
  return { id, name: id, basedOn: 'Normal', quickFormat: true, ...look };
}

/** Bullets and numbers, four levels deep. */
export const wordNumbering: INumberingOptions = {
  config: [
    {
      reference: 'ordered',
      levels: levels(
        [LevelFormat.DECIMAL, '%1.'],
        [LevelFormat.LOWER_LETTER, '%2.'],
        [LevelFormat.LOWER_ROMAN, '%3.'],
        [LevelFormat.DECIMAL, '%4.'],
      ),
    },
    {
      reference: 'bullets',
      levels: levels(
        [LevelFormat.BULLET, '\u2022'],
        [LevelFormat.BULLET, '\u2013'],
        [LevelFormat.BULLET, '\u2022'],
        [LevelFormat.BULLET, '\u2013'],
      ),
    },
  ],
};

function levels(...forms: readonly (readonly [(typeof LevelFormat)[keyof typeof LevelFormat], string])[]) {
  return forms.map(([format, text], level) => ({
    level,
    format,
    text,
    alignment: AlignmentType.LEFT,
    style: { paragraph: { indent: { left: 400 + 360 * level, hanging: 320 } } },
  }));
}
