import { formatNumber, formatUnit, fromSI } from '../../quantity/index.ts';
import type { Closing, GapLedger } from '../../reconcile/index.ts';
import { printRough } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph } from './table.ts';

/** How many changes are worth a reader's time. */
const most = 3;

/** Which change of one quantity would close the remainder: 'rolling resistance F_r: 21 mN instead of 14 mN (2.3 u)'. */
export function printClosing(page: Page, { remainder }: GapLedger): string[] {
  if (remainder === null) return [];
  // Where nothing is left to explain, changes beyond the stated uncertainties would only mislead.
  const changes = remainder.closing.filter(({ plausible }) => plausible || remainder.verdict !== 'explained');
  if (changes.length === 0) return [];
  const lines = changes
    .slice(0, most)
    .flatMap((closing) => printParagraph(page, sayChange(page, closing), `  ${page.glyphs.bullet} `, '    '));
  return ['What would close it, each alone:', ...lines];
}

function sayChange(page: Page, closing: Closing): string {
  const { quantity, needed, inUncertainties, plausible } = closing;
  const step = fromSI(quantity.estimate.standardUncertainty, quantity.unit, 'interval');
  // One digit more than the uncertainty begins with: enough to see the change, no more than it is known to.
  const decimals = Math.max(0, 1 - Math.floor(Math.log10(step)));
  const print = (value: number) =>
    formatNumber(
      fromSI(value, quantity.unit, 'point'),
      decimals > 6
        ? { significant: 3, decimalMark: page.decimalMark }
        : { decimals, decimalMark: page.decimalMark },
    );
  const unit = formatUnit(quantity.unit);
  const withUnit = (text: string) => (unit === '' ? text : `${text} ${unit}`);
  const size = `${printRough(page, Math.abs(inUncertainties))} u`;
  const reach = plausible ? size : `${size}, more than its stated uncertainty allows`;
  return `${[quantity.is, quantity.name].filter((word) => word !== '').join(' ')}: ${withUnit(print(needed))} instead of ${withUnit(print(quantity.estimate.value))} (${reach})`;
}
