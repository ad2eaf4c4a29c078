/** A file that falls beside the place for it must not take the place of the page, and with it what is being written. */
export function holdDroppedFiles(): void {
  for (const type of ['dragover', 'drop'] as const) {
    addEventListener(type, (event) => {
      if (event.dataTransfer?.types.includes('Files') === true) event.preventDefault();
    });
  }
}
