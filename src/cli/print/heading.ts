import type { Lab, LabResult } from '../../lab/index.ts';
import { formatUnit } from '../../quantity/index.ts';
import { unitHeading } from './numbers.ts';
import type { Page } from './page.ts';
import { printParagraph } from './table.ts';

/** Title and question of the lab, at the top of every report. */
export function printTitle(page: Page, lab: Lab): string[] {
  const title = printParagraph(page, lab.title).map((line) => page.paint(line, 'strong'));
  return lab.question === '' ? title : [...title, ...printParagraph(page, lab.question)];
}

/** 'k2, slope of v^2 against x^2, in 1/s²'. */
export function nameResult(page: Page, result: LabResult, exponent = 0): string {
  const unit = unitHeading(page, formatUnit(result.unit), exponent);
  const parts = [result.name, result.is, unit === '' ? '' : `in ${unit}`].filter((part) => part !== '');
  return page.plain(parts.join(', '));
}

/** A heading over a part of a report. */
export function printHeading(page: Page, text: string): string {
  return page.paint(page.plain(text), 'strong');
}
