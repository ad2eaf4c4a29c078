export { writeDocx } from './write-docx.ts';
