/** What stands in an explorer before its engine has started, and where none is let start. */
export const explorer = {
  figures: 'Theory, model and data',
  waiting:
    'The engine is starting; below is what was computed when this page was made. If this line stays, the program in the page is not being let run: save the file and open it in a browser.',
  paper: (title: string) => `${title}, to be read`,
  madeBy: (program: string) => `Made by ${program}. Digest of the sources:`,
};
