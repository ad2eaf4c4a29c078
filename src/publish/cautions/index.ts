export { type CautionSources, writeCautions } from './write-cautions.ts';
