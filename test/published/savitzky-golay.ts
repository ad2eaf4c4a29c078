// Convoluting integers of A. Savitzky and M. J. E. Golay, Anal. Chem. 36 (1964) 1627–1639,
// doi:10.1021/ac60214a047, tables I, III, IV and VI; from memory, with the corrections of J. Steinier, Y. Termonia and
// J. Deltour, Anal. Chem. 44 (1972) 1906, none of which falls on these short windows.
export const savitzkyGolay = [
  { order: 0, degree: 2, integers: [-3, 12, 17, 12, -3], norm: 35 },
  { order: 0, degree: 3, integers: [-3, 12, 17, 12, -3], norm: 35 },
  { order: 0, degree: 3, integers: [-2, 3, 6, 7, 6, 3, -2], norm: 21 },
  { order: 0, degree: 3, integers: [-21, 14, 39, 54, 59, 54, 39, 14, -21], norm: 231 },
  { order: 1, degree: 2, integers: [-2, -1, 0, 1, 2], norm: 10 },
  { order: 1, degree: 2, integers: [-3, -2, -1, 0, 1, 2, 3], norm: 28 },
  { order: 1, degree: 3, integers: [1, -8, 0, 8, -1], norm: 12 },
  { order: 1, degree: 3, integers: [22, -67, -58, 0, 58, 67, -22], norm: 252 },
  { order: 2, degree: 2, integers: [2, -1, -2, -1, 2], norm: 7 },
  { order: 2, degree: 3, integers: [5, 0, -3, -4, -3, 0, 5], norm: 42 },
] as const;
