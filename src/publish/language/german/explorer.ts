import type { explorer as english } from '../english/explorer.ts';

export const explorer: typeof english = {
  figures: 'Theorie, Modell und Messwerte',
  waiting:
    'Das Rechenwerk startet; unten steht, was beim Erzeugen dieser Seite berechnet wurde. Bleibt diese Zeile stehen, darf das Programm der Seite nicht laufen: Datei speichern und in einem Browser öffnen.',
  paper: (title) => `${title}, zum Lesen`,
  madeBy: (program) => `Erzeugt von ${program}. Prüfsumme der Quellen:`,
};
