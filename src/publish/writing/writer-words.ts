/** Every fixed phrase that a writer itself puts into a document. */
export interface WriterWords {
  readonly skipToContent: string;
  readonly contents: string;
  readonly caution: string;
  readonly question: (number: number) => string;
  readonly answer: string;
  readonly forTheTeacher: string;
  readonly figure: (number: number) => string;
  readonly table: (number: number) => string;
  /** Said in place of a gap to those who hear the document. */
  readonly blank: string;
  readonly page: string;
  readonly of: string;
  readonly licence: string;
  readonly madeFrom: string;
  readonly madeBy: string;
  readonly digest: string;
  readonly slide: (number: number, count: number) => string;
  readonly talkTime: (planned: string) => string;
  readonly onThisSlide: (planned: string, until: string) => string;
  readonly speakerNotes: string;
}
