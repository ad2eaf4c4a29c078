import { toText } from '../../expression/index.ts';
import { formatMeasured, formatNumber } from '../../quantity/index.ts';
import type { Inline, PrintSettings, ValueInline } from './tree.ts';

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
    case 'language':
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
      return `${inline.isSigned === true && inline.value > 0 ? '+' : ''}${plainValue(inline, settings)}`;
  }
}

function plainValue(inline: ValueInline, settings: PlainSettings): string {
  const { value, standardUncertainty, unit, significant, decimals } = inline;
  if (decimals !== undefined && standardUncertainty === 0 && Number.isFinite(value)) {
    const text = formatNumber(value, { decimals, decimalMark: settings.decimalMark });
    const bareZero = formatMeasured({ value: 0, standardUncertainty: 0, unit, ...settings });
    // Nothing, in the unit, gives the unit as it stands behind a number.
    return bareZero.replace(/^0/u, text);
  }
  return formatMeasured({
    ...settings,
    ...(inline.isCompact === true ? { notation: 'brackets' as const } : {}),
    value,
    standardUncertainty,
    unit,
    ...(significant === undefined ? {} : { significant }),
  });
}
