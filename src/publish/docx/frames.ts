import { BorderStyle, type IParagraphOptions } from 'docx';

/** The frame of answers and notes for teachers: a bar at the left, a tint behind. */
export function frame(): Pick<IParagraphOptions, 'border' | 'shading' | 'indent'> {
  return {
    border: { left: { style: BorderStyle.SINGLE, size: 18, color: '6B7078', space: 8 } },
    shading: { fill: 'F2F3F5' },
    indent: { left: 200 },
  };
}
