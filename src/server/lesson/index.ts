export { type EntryStore, openEntryStore } from './entry-store.ts';
export { type Lesson, type LessonOptions, prepareLesson } from './lesson.ts';
export { type LessonServerOptions, type RunningLesson, startLesson } from './start-lesson.ts';
export type { LessonLanguage } from './words/index.ts';
