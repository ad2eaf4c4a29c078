import type { WriterWords } from './writer-words.ts';

export const englishWords: WriterWords = {
  skipToContent: 'Skip to the text',
  contents: 'Contents',
  caution: 'Caution',
  question: (number) => `Question ${number}`,
  answer: 'Answer',
  forTheTeacher: 'For the teacher',
  figure: (number) => `Figure ${number}`,
  table: (number) => `Table ${number}`,
  blank: 'to be filled in',
  page: 'Page',
  of: 'of',
  licence: 'Licence',
  madeFrom: 'Made from',
  madeBy: 'Made by',
  digest: 'Digest',
  slide: (number, count) => `Slide ${number} of ${count}`,
  talkTime: (planned) => `Planned time: ${planned} min`,
  onThisSlide: (planned, until) => `${planned} min for this slide, until minute ${until}`,
  speakerNotes: 'What the speaker says',
};
