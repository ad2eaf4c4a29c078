export { writeAssessment } from './write-assessment.ts';
