export { writeSlidesHtml } from './write-slides-html.ts';
export { writeSlidesPdf } from './write-slides-pdf.ts';
