import type { ModelTexts } from '../evolve/model-from-texts.ts';

/** The models of the shipped labs, with the values of their quantities in SI and settings of their instruments. */
export const drapedChain: ModelTexts = {
  parameters: {
    g: [9.808, 'm/s^2'],
    L: [1.55, 'm'],
    lambda: [0.0618, 'kg/m'],
    x_0: [0.004, 'm'],
    R: [0.032, 'm'],
    theta_w: [Math.PI, ''],
    I: [2.9e-6, 'kg m^2'],
    phi: [0, ''],
    tau_b: [2e-5, 'N m'],
    d_b: [2.4e-6, 'N m s'],
    s_b: [0.005, ''],
    c_air: [1e-3, 'kg/m'],
  },
  helpers: {
    m_all: 'lambda*(L + theta_w*R) + I/R^2',
    T_bent: 'lambda*g*(L^2 - 4*x^2)/(2*L)',
    a: '(2*lambda*g*x - d_b*v/R^2 - c_air*v^2 - dry(tau_b/R + s_b*T_bent, v)) / m_all',
  },
  states: { x: ['x_0', 'v'], v: ['0 m/s', 'a'] },
  stops: { 'the short side runs out': 'x > 0.47*L' },
  holdsWhile: { 'the chain presses on the rim': '(L/2 - x)*(g + a) > v^2' },
  signals: { 'wheel gate': 'x/R', speed: 'v' },
};

export const towChain: ModelTexts = {
  parameters: {
    g: [9.812, 'm/s^2'],
    L: [1.2, 'm'],
    lambda: [0.0803, 'kg/m'],
    m_c: [0.09636, 'kg'],
    m_t: [0.2513, 'kg'],
    x_0: [0.15, 'm'],
    x_end: [1.08, 'm'],
    R: [0.0182, 'm'],
    h_t: [0.0192, 'm'],
    I: [7.2e-7, 'kg m^2'],
    phi: [0.2, ''],
    F_r: [0.014, 'N'],
    c_air: [3.6e-3, 'kg/m'],
    s_b: [0.006, ''],
  },
  helpers: {
    brake: 'c_air*v^2',
    above: 'm_t + lambda*(L - x)',
    a: '(lambda*g*(x + h_t) - (1 + s_b)*brake - dry((1 + s_b)*F_r, v)) / (m_t + m_c + I/R^2 + s_b*above)',
  },
  states: { x: ['x_0', 'v'], v: ['0 m/s', 'a'] },
  stops: { 'the run is caught': 'x > x_end' },
  holdsWhile: { 'the chain presses on the rim': 'above*a + brake + F_r > lambda*v^2' },
  signals: { 'wheel gate': 'x/R' },
};

export const longSwing: ModelTexts = {
  parameters: {
    g: [9.818, 'm/s^2'],
    amplitude: [Math.PI / 3, ''],
    l: [0.5, 'm'],
    m_b: [0.0862, 'kg'],
    r_b: [0.03, 'm'],
    V_b: [1.12e-4, 'm^3'],
    m_s: [0.0024, 'kg'],
    rho: [1.19, 'kg/m^3'],
    c_1: [2e-4, 'kg/s'],
    c_2: [8e-4, 'kg/m'],
  },
  helpers: {
    J: 'm_b*(l^2 + 2/5*r_b^2) + m_s*l^2/3 + rho*V_b*l^2/2',
    M: '(m_b + m_s/2 - rho*V_b)*l',
  },
  states: {
    theta: ['amplitude', 'omega'],
    omega: ['0 rad/s', '-(M*g*sin(theta) + c_1*l^2*omega + c_2*l^3*omega*abs(omega))/J'],
  },
  lasts: '4.5 s',
  holdsWhile: { 'the cord is taut': 'l*omega^2 + g*cos(theta) > 0 m/s^2' },
  signals: { 'angle sensor': 'theta' },
};
