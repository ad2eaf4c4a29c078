import { describe, expect, it } from 'vitest';
import { headings, notesOf, numbers, read } from './reading.ts';

// A few lines each of real recordings whose licences allow it.

describe('recordings from laboratories', () => {
  it('of a discharge, read by a microcontroller', async () => {
    // circuit_rc_decharge.dat, repository pcsi3physiquestan/circuit-rc-decharge, commit b732798a2017, CC0-1.0.
    const lines = ['4,1008', '244,990', '160,972', '160,954', '152,939', '152,922', '164,905'];
    const table = await read(`# t(microsec), uc(echelle -(0-5)V vers (0-1023)B)\n${lines.join('\n')}\n`);
    expect(numbers(table)[0]).toEqual([4, 244, 160, 160, 152, 152, 164]);
    expect(table.recognised.stamps).toEqual([]);
  });

  it('of a heated bar: two runs side by side between blanks, remarks above, words among the numbers', async () => {
    // Conductividad_termica_T1.txt, repository yarage/THERMAL, commit 36965ce6ecc2, MIT licence; lines 1-17, 23, 24 and the last.
    const text = [
      '            NOTA: Usar',
      '               como',
      '           distania entre',
      '           termocuplas=',
      '              9.0 cm.',
      '',
      '',
      '',
      'Toma 1                                      Toma 2',
      '                                                       Tiempo',
      'ESTADO Tiempo (s)           V1      V2      ESTADO        (s)   V1       V2',
      '',
      'Apagado         0.5         13.40    8.05   Apagado     0.5      11.60        4.25',
      '-               1.0         13.40    8.05   -           1.0      11.60        4.25',
      '-               1.5         13.30    8.15   -           1.5      11.70        4.35',
      '-               2.0         13.10    8.20   -           2.0      11.60        4.40',
      '-               2.5         12.90    8.20   -           2.5      11.50        4.50',
      'Prendido        5.5         10.90    6.45   Prendido    5.5      10.50        4.15',
      '-               6.0         10.80    6.00   -           6.0      10.40        3.95',
      '\f\f',
    ].join('\r\n');
    const table = await read(text);
    expect(headings(table)).toEqual(['1|Tiempo|s', '1|V1|', '1|V2|', '2|Tiempo|s', '2|V1|', '2|V2|']);
    expect(table.recognised).toMatchObject({
      preambleLines: 5,
      runs: 2,
      runLabels: ['Toma 1', 'Toma 2'],
      firstLine: 13,
    });
    expect(table.recognised.textColumns.map((column) => column.heading)).toEqual(['ESTADO', 'ESTADO']);
    expect(numbers(table)[4]).toEqual([11.6, 11.6, 11.7, 11.6, 11.5, 10.5, 10.4]);
  });

  it('of a heated bar: marks in the first column, times in minutes', async () => {
    // Conductividad_termica_T3_15.txt, same repository and licence; lines 1-9.
    const text = [
      '-        T(min) V1        V2',
      'Apagado     0.25     8.21      6.93',
      '-             0.5    8.22      6.94',
      '-           0.75     8.22      6.95',
      '-               1    8.23      6.96',
      '-           1.25     8.24      6.97',
      '-             1.5    8.24      6.98',
      '-           1.75     8.24      6.99',
      '-               2    8.24         7',
    ].join('\r\n');
    const table = await read(text);
    expect(headings(table)).toEqual(['1|T|min', '1|V1|', '1|V2|']);
    expect(numbers(table)[2]).toEqual([6.93, 6.94, 6.95, 6.96, 6.97, 6.98, 6.99, 7]);
    expect(notesOf(table, 'column-of-words')).toHaveLength(1);
  });
});
