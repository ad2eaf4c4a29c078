import { toText } from '../../expression/index.ts';
import { formatMeasured } from '../../quantity/index.ts';
import type { Inline, PrintSettings } from './tree.ts';

/** How numbers print in a plain text. */
export type PlainSettings = Pick<PrintSettings, 'decimalMark' | 'notation'>;

/** A line as plain text, for titles, slugs, alternative texts and tests; formulas as the lab file would have them. */
export function plainLine(inlines: readonly Inline[], settings: PlainSettings): string {
  return inlines.map((inline) => plainInline(inline, settings)).join('');
}

function plainInline(inline: Inline, settings: PlainSettings): string {
  switch (inline.kind) {
    case 'text':
    case 'code':
      return inline.text;
    case 'emphasis':
    case 'strong':
    case 'link':
      return plainLine(inline.inlines, settings);
    case 'formula':
      return toText(inline.tree);
    case 'tex':
      return inline.tex;
    case 'blank':
      return '_'.repeat(inline.characters);
    case 'citation':
      return `[${inline.keys.join(', ')}]`;
    case 'value':
      return formatMeasured({
        ...settings,
        value: inline.value,
        standardUncertainty: inline.standardUncertainty,
        unit: inline.unit,
        ...(inline.significant === undefined ? {} : { significant: inline.significant }),
      });
  }
}
