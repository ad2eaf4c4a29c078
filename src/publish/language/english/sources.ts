/** Words in a list of published sources. */
export const sources = {
  editors: '(eds)',
  edition: (edition: string) => `edition ${edition}`,
  pages: (pages: string) => `pp. ${pages}`,
};
