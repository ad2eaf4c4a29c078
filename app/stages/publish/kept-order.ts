import { DOCUMENTS, type Order, orderForm } from './order.ts';

const USUAL: Order = {
  language: 'en',
  paper: 'a4',
  decimal: 'point',
  notation: 'plus-minus',
  formats: ['pdf', 'html', 'pack'],
  documents: DOCUMENTS.map(({ value }) => value),
};

const KEY = 'benchwright/publish';

/** The order as it was last; it is the same for all labs of this browser. */
export function readOrder(): Order {
  try {
    const read = orderForm.safeParse(JSON.parse(localStorage.getItem(KEY) ?? 'null'));
    return read.success ? read.data : USUAL;
  } catch {
    return USUAL;
  }
}

export function keepOrder(order: Order): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(order));
  } catch {
    // A browser that keeps nothing starts with the usual order the next time.
  }
}
