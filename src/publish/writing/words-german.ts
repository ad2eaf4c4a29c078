import type { WriterWords } from './writer-words.ts';

export const germanWords: WriterWords = {
  skipToContent: 'Zum Text springen',
  contents: 'Inhalt',
  caution: 'Vorsicht',
  question: (number) => `Frage ${number}`,
  answer: 'Antwort',
  forTheTeacher: 'Für die Lehrkraft',
  figure: (number) => `Abbildung ${number}`,
  table: (number) => `Tabelle ${number}`,
  blank: 'zum Ausfüllen',
  page: 'Seite',
  of: 'von',
  licence: 'Lizenz',
  madeFrom: 'Erstellt aus',
  madeBy: 'Erstellt mit',
  digest: 'Prüfsumme',
  slide: (number, count) => `Folie ${number} von ${count}`,
  talkTime: (planned) => `Geplante Zeit: ${planned} min`,
  onThisSlide: (planned, until) => `${planned} min für diese Folie, bis Minute ${until}`,
  speakerNotes: 'Was dazu gesagt wird',
};
