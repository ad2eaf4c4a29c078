import {
  BorderStyle,
  type IParagraphOptions,
  type Paragraph,
  Table,
  TableCell,
  TableRow,
  WidthType,
} from 'docx';
import { CAUTION } from './styles.ts';

/** The frame of answers and notes for teachers: a bar at the left, a tint behind. */
export function frame(): Pick<IParagraphOptions, 'border' | 'shading' | 'indent'> {
  return {
    border: { left: { style: BorderStyle.SINGLE, size: 18, color: '6B7078', space: 8 } },
    shading: { fill: 'F2F3F5' },
    indent: { left: 200 },
  };
}

const BOX = { style: BorderStyle.SINGLE, size: 12, color: CAUTION } as const;

/** The frame of cautions; its one row is never torn. */
export function cautionBox(children: Paragraph[]): Table {
  const borders = { top: BOX, bottom: BOX, left: { ...BOX, size: 36 }, right: BOX };
  const margins = { top: 100, bottom: 100, left: 180, right: 160 };
  return new Table({
    width: { size: 100, type: WidthType.PERCENTAGE },
    rows: [new TableRow({ cantSplit: true, children: [new TableCell({ borders, margins, children })] })],
  });
}
