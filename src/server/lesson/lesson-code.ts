import { createHash, createHmac, randomInt, timingSafeEqual } from 'node:crypto';

/** Letters and digits that are not taken for each other, read out or on a board. */
const SIGNS = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';
const LENGTH = 6;

/** A code to be read out: six of 31 signs, 9e8 in all. */
export function makeCode(): string {
  return Array.from({ length: LENGTH }, () => SIGNS[randomInt(SIGNS.length)]).join('');
}

/** Whether somebody typed the code; small letters and spaces do not matter, and the time taken tells nothing. */
export function isCode(typed: string, code: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(typed.replace(/[\s-]+/g, '').toUpperCase()), digest(code));
}

/** What a group's browser shows in place of the code: the group's number, and a seal that only the lesson can make. */
export function sealGroup(group: number, secret: string): string {
  return `${group}.${createHmac('sha256', secret).update(`group ${group}`).digest('hex')}`;
}

/** The group of a seal; null where it is not one of this lesson's. */
export function openSeal(seal: string, secret: string): number | null {
  const group = Number(/^(\d{1,9})\./.exec(seal)?.[1] ?? Number.NaN);
  if (!Number.isInteger(group)) return null;
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(seal), digest(sealGroup(group, secret))) ? group : null;
}
