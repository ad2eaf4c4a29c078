import { describe, expect, it } from 'vitest';
import { differentiate, toTeX } from '../../src/expression/index.ts';
import { treeOf } from './random-trees.ts';

describe('TeX of', () => {
  it.each([
    ['m_c', 'm_{c}'],
    ['F_max', 'F_{\\mathrm{max}}'],
    ['F_r_0', 'F_{r,0}'],
    ['k2', 'k_{2}'],
    ['θ₀', '\\theta_{0}'],
    ['lambda', '\\lambda'],
    ['Delta_t', '\\Delta_{t}'],
    ['x_alpha', 'x_{\\alpha}'],
    ['Re', '\\mathrm{Re}'],
    ['pi', '\\pi'],
    ["x'", '\\dot{x}'],
    ["theta_1''", '\\ddot{\\theta}_{1}'],
    ["x'''", 'x^{(3)}'],
    ["(x''')^2", '\\left(x^{(3)}\\right)^{2}'],
    ["x'^2", '\\dot{x}^{2}'],
    ['a/b', '\\frac{a}{b}'],
    ['(a/b)^2', '\\left(\\frac{a}{b}\\right)^{2}'],
    ['a*b/c', '\\frac{a\\,b}{c}'],
    ['2*3', '2\\cdot 3'],
    ['2*x', '2\\,x'],
    ['x*2', 'x\\cdot 2'],
    ['a*(b + c)', 'a\\,\\left(b + c\\right)'],
    ['a - (b - c)', 'a - \\left(b - c\\right)'],
    ['a - (b + c)*d', 'a - \\left(b + c\\right)\\,d'],
    ['a + -b', 'a + \\left(-b\\right)'],
    ['-a*b', '-a\\,b'],
    ['a*-b', 'a\\,\\left(-b\\right)'],
    ['-(a + b)', '-\\left(a + b\\right)'],
    ['(-x)^2', '\\left(-x\\right)^{2}'],
    ['-x^2', '-x^{2}'],
    ['x^(1/2)', 'x^{\\frac{1}{2}}'],
    ['1.9e-6', '1.9\\cdot 10^{-6}'],
    ['1.9e-6*I', '1.9\\cdot 10^{-6}\\,I'],
    ['1000000*x', '10^{6}\\,x'],
    ['x*1e-4', 'x\\cdot 10^{-4}'],
    ['sqrt(2*g*h)', '\\sqrt{2\\,g\\,h}'],
    ['cbrt(x)', '\\sqrt[3]{x}'],
    ['sin(x)^2', '\\left(\\sin\\left(x\\right)\\right)^{2}'],
    ['abs(x - a)', '\\left|x - a\\right|'],
    ['atan(x)', '\\arctan\\left(x\\right)'],
    ['log10(x)', '\\log_{10}\\left(x\\right)'],
    ['max(a, b, 0)', '\\max\\left(a, b, 0\\right)'],
    ['dry(F_0 + F_1, v)', '\\left(F_{0} + F_{1}\\right)\\,\\operatorname{sgn}\\left(v\\right)'],
    ['integrate(lambda*g*s, s, x_0, x)', '\\int_{x_{0}}^{x} \\lambda\\,g\\,s\\,\\mathrm{d}s'],
    ['integrate(a + s, s, 0, 1)', '\\int_{0}^{1} \\left(a + s\\right)\\,\\mathrm{d}s'],
    ['2*integrate(s, s, 0, 1)', '2\\,\\left(\\int_{0}^{1} s\\,\\mathrm{d}s\\right)'],
    ['d(x^2, x)', '\\frac{\\partial}{\\partial x}\\left(x^{2}\\right)'],
    ['interpolate(A, x)', 'A\\left(x\\right)'],
    ['if(x > L, a, b)', '\\begin{cases}a & \\text{if } x > L\\\\b & \\text{otherwise}\\end{cases}'],
    ['x >= 0.20 m and v < 3 m/s^2', 'x \\ge 0.2\\,\\mathrm{m} \\text{ and } v < 3\\,\\mathrm{m/s^{2}}'],
    ['T < 20 °C', 'T < 20\\,\\mathrm{{}^{\\circ}C}'],
    ['c < 4 kJ/(kg K)', 'c < 4\\,\\mathrm{kJ/(kg\\,K)}'],
    ['R < 5 Ω·m', 'R < 5\\,\\mathrm{\\Omega \\cdot m}'],
    ['not (a < b)', '\\text{not } \\left(a < b\\right)'],
    ['(a < b or c < d) and e < f', '\\left(a < b \\text{ or } c < d\\right) \\text{ and } e < f'],
    ["(m_t + m_c)*x'' - lambda*g*x", '\\left(m_{t} + m_{c}\\right)\\,\\ddot{x} - \\lambda\\,g\\,x'],
  ])('%s', (text, tex) => {
    expect(toTeX(treeOf(text))).toBe(tex);
  });

  it('numbers with a decimal comma, derivatives with primes', () => {
    expect(toTeX(treeOf('1.5*x'), { decimalMark: ',' })).toBe('1{,}5\\,x');
    expect(toTeX(treeOf("x_1'' + v'"), { derivatives: 'primes' })).toBe("x_{1}'' + v'");
  });

  it('a choice made by differentiation', () => {
    expect(toTeX(differentiate(treeOf('max(x, a)'), 'x'))).toBe(
      '\\begin{cases}0 & \\text{if } a - x > 0\\\\1 & \\text{otherwise}\\end{cases}',
    );
  });
});
