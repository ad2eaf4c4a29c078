import { describe, expect, it } from 'vitest';
import { checkDerivation, type LineVerdict } from '../../src/run/index.ts';
import { change, pipelineFrom, SLOPE_LAB, sentencesOn } from '../lab/slope-lab.ts';
import { must } from '../labs/shipped-lab.ts';

const LINE = 'v^2 = 2*g*sin(alpha)*x';

/** The small lab with these lines for its derivation. */
const withLines = (...lines: readonly string[]) =>
  change(SLOPE_LAB, [
    `  - { line: "${LINE}", because: the weight along the slope does work }`,
    lines.map((line) => `  - { line: "${line}" }`).join('\n'),
  ]);

const check = (text: string, seed?: number) => must(checkDerivation(pipelineFrom(text), seed));

function falseLine(text: string): LineVerdict & { verdict: 'false' } {
  const { firstFalse, lines } = check(text);
  const found = lines[firstFalse ?? -1];
  if (found?.verdict !== 'false') throw new Error('every line is true');
  return found;
}

describe('a derivation is checked along the ideal motion', () => {
  it('line by line, with derivatives and integrals', () => {
    const text = withLines(
      "m*x'' = w*sin(alpha)",
      "x''' = 0*x'''",
      '1/2*m*v^2 = integrate(w*sin(alpha), s, 0, x)',
      LINE,
      'x = 1/2*g*sin(alpha)*t^2',
      'v = sqrt(2*g*sin(alpha)*x)',
      "m*x'' = pull",
    );
    const { firstFalse, lines, settings, failedSettings } = check(text);
    expect(lines.map(({ verdict }) => verdict)).toEqual(lines.map(() => 'true'));
    expect([firstFalse, settings, failedSettings]).toEqual([null, 9, 0]);
  });

  it('a wrong factor is the first false line, with both sides and their ratio', () => {
    const text = withLines("m*x'' = w*sin(alpha)", 'v^2 = g*sin(alpha)*x', LINE);
    expect(check(text).firstFalse).toBe(1);
    const { left, right, ratio, line, at } = falseLine(text);
    expect(ratio).toBeCloseTo(2, 9);
    expect(left / right).toBe(ratio);
    expect(line.text).toBe('v^2 = g*sin(alpha)*x');
    expect(at).toBeGreaterThan(0);
  });

  it('a wrong sign and a lost term are found too', () => {
    expect(falseLine(withLines("m*x'' = -w*sin(alpha)")).ratio).toBeCloseTo(-1, 9);
    expect(falseLine(withLines('x = 1/2*g*sin(alpha)*t^2 + v*t')).ratio).toBeCloseTo(1 / 3, 9);
  });

  it('a line that is true at the author’s values alone is found by other settings', () => {
    const atAuthors = 9.81 * Math.sin((6 * Math.PI) / 180);
    const text = change(withLines('v^2 = 2*acc*x'), [
      'effects:',
      `  acc: { value: ${atAuthors} m/s^2 }\neffects:`,
    ]);
    expect(check(text).firstFalse).toBe(0);
  });

  it('so is a term that is nothing at the author’s values, because its quantity is 0', () => {
    const text = change(
      withLines('v^2 = 2*g*sin(alpha)*x'),
      ['x: 0 m, v: 0 m/s', 'x: 0 m, v: v_0'],
      ['effects:', '  v_0: { value: 0 m/s, u: 0.01 m/s }\neffects:'],
    );
    expect(check(text).firstFalse).toBe(0);
    expect(check(change(text, ['v^2 = 2', 'v^2 - v_0^2 = 2'])).firstFalse).toBeNull();
  });

  it('an approximation is true within what it says, and false beyond', () => {
    const line = (within: string) =>
      withLines(LINE).replace(`"${LINE}" }`, `"v^2 = 2*g*alpha*x", within: ${within} }`);
    // sin 6° is 0.183 % below 6° in radians; settings reach 7.5°, where it is 0.286 %.
    expect(check(line('0.3 %')).firstFalse).toBeNull();
    expect(check(line('0.003')).firstFalse).toBeNull();
    const { ratio } = falseLine(line('0.1 %'));
    expect(ratio).toBeLessThan(1);
    expect(ratio).toBeGreaterThan(0.997);
    expect(sentencesOn(line('3'))).toEqual([
      'lab.yaml:22:42  "within" is 3; it must be a share between 0 and 1, such as 1 %.',
    ]);
    expect(sentencesOn(line('1 mm'))).toHaveLength(1);
  });

  it('sides of different dimension are told with both when the lab is read', () => {
    expect(sentencesOn(withLines('v = 2*g*sin(alpha)*x'))).toEqual([
      'lab.yaml:22:18  The left side has the dimension of speed (m/s), the right side has the dimension of speed squared (m²/s²); the sides of an equation must be alike.',
    ]);
  });

  it('two sides that nearly cancel are held against their terms, not against nothing', () => {
    expect(check(withLines('v^2 - 2*g*sin(alpha)*x = 0')).firstFalse).toBeNull();
    expect(check(withLines('v^2 - 2.001*g*sin(alpha)*x = 0')).firstFalse).toBe(0);
  });

  it('the same settings are drawn for the same seed', () => {
    const text = withLines('v^2 = 2*g*alpha*x');
    const numbers = () => {
      const { left, right, at } = falseLine(text);
      return [left, right, at];
    };
    expect(numbers()).toEqual(numbers());
  });

  it('an ideal model that cannot be run is told', () => {
    const stuck = change(withLines(LINE), ['x > 1.0 m', 'x < -1.0 m']);
    const outcome = checkDerivation(pipelineFrom(stuck));
    expect(outcome.ok).toBe(false);
  });
});
