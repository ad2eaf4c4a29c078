import { type Estimate, exactly, withStandardUncertainty } from './estimate.ts';

/** A constant of nature, or one fixed by convention. */
export interface Constant {
  readonly symbol: string;
  readonly name: string;
  /** In SI units. */
  readonly estimate: Estimate;
  /** As `parseUnit` reads it. */
  readonly unit: string;
  readonly source: string;
}

const si2019 = 'exact, SI Brochure, 9th edition (2019)';
const codata2022 = 'CODATA 2022 (NIST, 2024)';
const convention = 'exact by convention, CGPM 1901 and 1954';

function fixed(symbol: string, name: string, value: number, unit: string, source: string): Constant {
  return { symbol, name, estimate: exactly(value), unit, source };
}

/** The second number is the standard uncertainty. */
function adjusted(symbol: string, name: string, value: number, u: number, unit: string): Constant {
  return { symbol, name, estimate: withStandardUncertainty(value, u), unit, source: codata2022 };
}

const boltzmann = 1.380649e-23;
const avogadro = 6.02214076e23;
const charge = 1.602176634e-19;
const planck = 6.62607015e-34;
const light = 299792458;

/**
 * The few constants that school laboratories use, each with its year.
 *
 * Those that the SI of 2019 fixes, or that follow from them, are exact and written as the product; the others are the
 * CODATA recommended values of 2022: P. Mohr, D. Newell, B. Taylor, E. Tiesinga, Rev. Mod. Phys. 97, 025002 (2025),
 * doi:10.1103/RevModPhys.97.025002.
 */
export const constants: readonly Constant[] = [
  fixed('c_0', 'speed of light in vacuum', light, 'm/s', si2019),
  fixed('h', 'Planck constant', planck, 'J s', si2019),
  fixed('e', 'elementary charge', charge, 'C', si2019),
  fixed('k_B', 'Boltzmann constant', boltzmann, 'J/K', si2019),
  fixed('N_A', 'Avogadro constant', avogadro, '1/mol', si2019),
  fixed('R', 'molar gas constant', boltzmann * avogadro, 'J/(mol K)', si2019),
  fixed('F', 'Faraday constant', charge * avogadro, 'C/mol', si2019),
  fixed(
    'sigma',
    'Stefan-Boltzmann constant',
    (2 * Math.PI ** 5 * boltzmann ** 4) / (15 * planck ** 3 * light ** 2),
    'W/(m^2 K^4)',
    si2019,
  ),
  adjusted('G', 'Newtonian constant of gravitation', 6.6743e-11, 1.5e-15, 'm^3/(kg s^2)'),
  adjusted('mu_0', 'vacuum magnetic permeability', 1.25663706127e-6, 2e-16, 'N/A^2'),
  adjusted('epsilon_0', 'vacuum electric permittivity', 8.8541878188e-12, 1.4e-21, 'F/m'),
  adjusted('m_e', 'electron mass', 9.1093837139e-31, 2.8e-40, 'kg'),
  adjusted('m_p', 'proton mass', 1.67262192595e-27, 5.2e-37, 'kg'),
  adjusted('m_n', 'neutron mass', 1.67492750056e-27, 8.5e-37, 'kg'),
  adjusted('m_u', 'atomic mass constant', 1.66053906892e-27, 5.2e-37, 'kg'),
  adjusted('R_inf', 'Rydberg constant', 10973731.568157, 1.2e-5, '1/m'),
  fixed('g_n', 'standard acceleration of gravity', 9.80665, 'm/s^2', convention),
  fixed('p_n', 'standard atmosphere', 101325, 'Pa', convention),
];

/** A constant by its name or its symbol as listed in `constants`; undefined where it is not listed. */
export function findConstant(nameOrSymbol: string): Constant | undefined {
  return constants.find(({ name, symbol }) => name === nameOrSymbol || symbol === nameOrSymbol);
}
